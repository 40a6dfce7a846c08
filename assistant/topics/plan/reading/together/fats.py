"""How fat something is, told by two phrases: from 26% to 20%, one part in four, another heap that is called nothing."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant.language.phrases import Amount, Count, CutName, Fatness, Moment, Parts, Phrase, SeasoningName, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.mix import KINDS
from assistant.topics.plan.reading.together.shapes import is_cue, is_percent, is_sep, is_whole, is_word

_CHANGES = Pattern(
    r"\b(?:reduce|lower|raise|increase|bring|take|get|move|go|drop|lift|cut|change|shift|turn)\b[^.;?!]*$"
)

_MOST_PARTS = 12
"""One part in so many at the most: what is more is a percent. A choice, no source."""
_GROUND = ("beef", "pork", "lamb", "mince", "trim", "chuck", "turkey", "venison")


def from_one_to_another(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Reduce a 20 kg batch from 26% fat to 20%": so fat it is, and so fat it is to be."""
    for at in range(len(phrases) - 2):
        led, now, wanted = phrases[at : at + 3]
        gap = sentence.text[now.last : wanted.first].lower().strip()
        fats = _is_fat(now) and (_is_fat(wanted) or is_whole(wanted)) and gap in ("to", "down to", "up to")
        if fats and is_cue(led, "out_of") and _CHANGES.search(sentence.text[: led.first].lower()):
            link = Word(led.first, led.last, led.text, "at", "at")
            wish = Word(wanted.first, wanted.first, "to", "cue", "want")
            phrases[at : at + 2] = [link, now, wish]
            verb = phrases[0]
            if is_word(verb, "unknown") and _CHANGES.search(verb.text.lower()):
                del phrases[0]
            return


def one_part_in_four(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "One part in four fat", "one in five fat": a quarter, a fifth of it."""
    for at in range(len(phrases) - 1):
        part, whole = phrases[at : at + 2]
        value = part.value if isinstance(part, Count | Parts) else None
        apart = sentence.text[part.last : whole.first].lower().split()
        fat = isinstance(whole, Fatness) and not whole.ratio and "%" not in whole.text and not whole.said_as_lean
        if value is None or not fat or apart not in (["in"], ["part", "in"]) or not isinstance(whole, Fatness):
            continue
        if 0 < value < whole.fat <= _MOST_PARTS:
            text = sentence.text[part.first : whole.last]
            phrases[at : at + 2] = [Fatness(part.first, whole.last, text, value / whole.fat * 100)]
            return


def name_after_both(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "I have 93/7 and 70/30 ground beef": both labels are of ground beef."""
    for at in range(len(phrases) - 4, -1, -1):
        first, both, second, cut = phrases[at : at + 4]
        labels = isinstance(first, Fatness) and isinstance(second, Fatness) and is_word(both, "join")
        ground = isinstance(cut, CutName) and cut.text.lower().split()[-1] in _GROUND
        if labels and ground and isinstance(cut, CutName):
            phrases[at + 1 : at + 1] = [replace(cut, first=first.last, last=first.last)]


def came_out_at(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "3 kg of mince has come out at 28%": so fat it is, and not to be."""
    for at in range(1, len(phrases) - 1):
        came, fat = phrases[at : at + 2]
        told = sentence.text[: came.first].lower().split()[-1:] in (["has"], ["have"], ["had"])
        if is_cue(came, "want") and told and came.text.lower() == "come out at" and _is_fat(fat):
            phrases[at] = Word(came.first, came.last, came.text, "at", "at")


def an_hour_that_is_a_fat(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "2 kg coming out at 12": after cuts and their figures, the number of a wish is no hour."""
    figures = any(_is_fat(phrase) for phrase in phrases) and any(isinstance(phrase, CutName) for phrase in phrases)
    for at in range(1, len(phrases)):
        hour = phrases[at]
        bare = isinstance(hour, Moment) and hour.clock is not None and hour.text.isdigit()
        if figures and bare and is_cue(phrases[at - 1], "want"):
            phrases[at] = Count(hour.first, hour.last, hour.text, Fraction(int(hour.text)))


def by_its_last_word(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Eye of round and brisket point …, eye 4% point 26%": a cut named again by one of its words."""
    names = {phrase.text.lower(): phrase for phrase in phrases if isinstance(phrase, CutName)}
    for at in range(len(phrases) - 1, 0, -1):
        if not _is_fat(phrases[at]) or isinstance(phrases[at - 1], CutName):
            continue
        said = sentence.text[phrases[at - 1].last : phrases[at].first].lower().split()
        meant = [
            cut for name, cut in names.items() if said and said[-1] in name.split()[:: max(1, len(name.split()) - 1)]
        ]
        if len(meant) == 1 and len(meant[0].text.split()) > 1:
            start = phrases[at].first
            phrases[at:at] = [replace(meant[0], first=start, last=start)]


def heaps_mixed(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "If I mix 500 g of mince at 12% fat with 300 g at 30% fat": both weights are of mince, each with its own fat."""
    if not sentence.has("composition") or any(isinstance(phrase, CutName) for phrase in phrases):
        return
    places = [at for at in range(len(phrases)) if _heap_at(phrases, at) is not None]
    if len(places) < 2:
        return
    for at in reversed(places):
        fat = _heap_at(phrases, at)
        weight, end = phrases[at], phrases.index(fat) + 1 if fat is not None else at
        mince = Word(weight.last, weight.last, "mince", "cue", "mix")
        phrases[at:end] = [weight, *([fat] if fat is not None else []), mince]


def _heap_at(phrases: list[Phrase], at: int) -> Phrase | None:
    """The fat of a weight that stands at a place: "500 g of mince at 12% fat", "300 g at 30%"; None where there is none."""
    weight = phrases[at]
    after = at + 1
    if after < len(phrases) and is_word(phrases[after], "of"):
        after += 1
    if after < len(phrases) and is_cue(phrases[after], "mix"):
        after += 1
    link, fat = (*phrases[after : after + 2], None, None)[:2]
    weighed = isinstance(weight, Amount) and weight.kind == "weight"
    return fat if weighed and link is not None and is_word(link, "at") and fat is not None and _is_fat(fat) else None


def kind_before_its_cuts(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "2 kg beef at 15% fat: topside 6%, brisket fat 70%", "but lamb: lamb leg 9%, breast 30%": what it is called that
    is made of the cuts after the colon."""
    for at in range(len(phrases) - 2):
        kind = phrases[at]
        colon = at + 3 if is_word(phrases[at + 1], "at") and _is_fat(phrases[at + 2]) else at + 1
        named = isinstance(kind, CutName) and kind.text.lower() in KINDS
        listed = colon < len(phrases) and is_sep(phrases[colon], ":")
        if named and listed and sum(isinstance(phrase, CutName) for phrase in phrases[colon:]) > 1:
            del phrases[at]
            return


def split_in_shares(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "4 kg split 60/25/15 between chuck, brisket and short rib": divided among cuts, and nothing into patties."""
    for at in range(len(phrases) - 1):
        split, shares = phrases[at : at + 2]
        if is_cue(split, "split") and isinstance(shares, Count) and shares.proportion:
            del phrases[at]
            return


def so_many_times_another(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Chuck and shin 3 kg, shin double the chuck": parts of the two."""
    for at in range(len(phrases) - 2):
        more, times, less = phrases[at : at + 3]
        doubled = is_cue(times, "double", "doubles", "twice_as", "triple")
        if not (doubled and isinstance(more, CutName) and isinstance(less, CutName)):
            continue
        factor = Fraction(3) if is_cue(times, "triple") else Fraction(2)
        earlier = [phrase for phrase in phrases[:at] if isinstance(phrase, CutName)]
        if {cut.name for cut in earlier} == {more.name, less.name}:
            shares = {more.name: factor, less.name: Fraction(1)}
            del phrases[at : at + 3]
            for place in range(at - 1, -1, -1):
                cut = phrases[place]
                if isinstance(cut, CutName):
                    phrases[place:place] = [Parts(cut.first, cut.first, "parts", shares[cut.name])]
            return


def _is_fat(phrase: Phrase) -> bool:
    return isinstance(phrase, Fatness) or is_percent(phrase)


_WAY = Pattern(r"\b(?:way|too|so|real|really|pretty|very|far too)\s*$")


def way_fat(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Made 5 lb and it's way fat, like 30%": so fat it is, and too fat."""
    for at in range(1, len(phrases) - 1):
        side, fat = phrases[at : at + 2]
        weight = (
            phrases[at - 2]
            if at > 1 and (is_word(phrases[at - 1], "join") or is_sep(phrases[at - 1], ","))
            else phrases[at - 1]
        )
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if (
            weighed
            and is_word(side, "side", "fat")
            and _is_fat(fat)
            and _WAY.search(sentence.text[: side.first].lower())
        ):
            start = phrases.index(weight) + 1
            mix = Word(weight.last, weight.last, "mix", "cue", "mix")
            link = Word(side.first, side.first, "at", "at", "at")
            told = Word(side.first, side.last, side.text, "cue", "too_fat")
            phrases[start : at + 2] = [mix, link, fat, told]
            return


def asked_in_percent(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "… grinding it all together. Weight and fat %?": how fat it is."""
    for at in range(len(phrases) - 1):
        side, percent = phrases[at : at + 2]
        ends = at + 2 >= len(phrases) or is_sep(phrases[at + 2], ".")
        if is_word(side, "side", "fat") and is_cue(percent, "unit:percent") and ends:
            asked = Word(side.first, percent.last, "fat percent", "cue", "composition")
            start = at
            while start and (is_word(phrases[start - 1], "join") or phrases[start - 1].text.lower() == "weight"):
                start -= 1
            phrases[start : at + 2] = [asked]
            return


def part_of_the_weight(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "A third of my 6 lb is brisket, the rest chuck": the batch, and a share of it."""
    weights = [phrase for phrase in phrases if isinstance(phrase, Amount) and phrase.kind == "weight"]
    for at in range(len(phrases) - 4):
        part, of, weight, cut = phrases[at : at + 4]
        shared = isinstance(part, Count) and part.piece and is_word(of, "of") and weights == [weight]
        if shared and isinstance(cut, CutName) and any(is_cue(phrase, "rest") for phrase in phrases[at + 4 :]):
            phrases[at : at + 3] = [weight, Word(of.first, of.last, of.text, "sep", ","), part]
            return


def how_it_came(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Oops, put in too much suet, 4.5 lb at 32% fat now": a mix as it is now; the suet tells how it came to that."""
    for at in range(len(phrases) - 2):
        weight, link, fat = phrases[at : at + 3]
        now = sentence.text[fat.last :].lower().startswith(" now")
        if isinstance(weight, Amount) and weight.kind == "weight" and is_word(link, "at") and _is_fat(fat) and now:
            phrases[at + 1 : at + 1] = [Word(weight.last, weight.last, "mix", "cue", "mix")]
            much = next((p for p in range(1, at) if is_cue(phrases[p], "is_it_much")), None)
            if much is not None and is_cue(phrases[much - 1], "add") and isinstance(phrases[much + 1], CutName):
                del phrases[much - 1 : much + 2]
            return


def finished(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "6 lb finished, 18% fat", "fifteen kilos finished, I lose 20%": what is to come out of it."""
    for at in range(len(phrases) - 1):
        weight, word = phrases[at : at + 2]
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if weighed and is_word(word, "unknown") and word.text.lower() == "finished" and not sentence.of(SeasoningName):
            del phrases[at + 1]
            return


def packs_counted(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "Ground beef from 3 different packs: 1 lb 80/20, 2 lb 90/10, …": as many weights as packs, each told."""
    for at in range(len(phrases) - 2):
        count, pack, colon = phrases[at : at + 3]
        weights = [phrase for phrase in phrases[at:] if isinstance(phrase, Amount) and phrase.kind == "weight"]
        if is_whole(count) and is_cue(pack, "pack") and is_sep(colon, ":") and len(weights) == count.value:
            start = at - 1 if at and is_cue(phrases[at - 1], "out_of") else at
            before = phrases[start - 1] if start else None
            named = isinstance(before, CutName) and before.text.lower().split()[0] in ("ground", "minced", "mince")
            del phrases[start - 1 if named else start : at + 3]
            return
