"""Meat that is left alone, that is kept for something else, or of which there is as much as anybody wants."""

from __future__ import annotations

from assistant.language.phrases import Amount, CutName, Moment, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_sep, is_word

_LEAVE = Pattern(r"\b(?:leave|leaving|keep|spare|save)(?: the| my| that| this)? $")
_ALONE = Pattern(r"^ (?:alone|aside|out of (?:it|this)|where it is|for (?:another|the next) (?:day|time)|for later)\b")
_WANTED = Pattern(r"^ (?:that )?(?:i|you|we) (?:could |can )?(?:want|need|like)\b")


def left_alone(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Leave the brisket alone, that's for Sunday's roast": no brisket, whatever it is for."""
    text = sentence.text.lower()
    for at, cut in enumerate(phrases):
        if not (isinstance(cut, CutName) and _LEAVE.search(text[: cut.first]) and _ALONE.match(text[cut.last :])):
            continue
        phrases[at:at] = [Word(cut.first, cut.first, "no", "cue", "not")]
        reason = next((place for place in range(at + 2, len(phrases)) if isinstance(phrases[place], CutName)), None)
        if reason is not None and phrases[reason].text.lower() == "roast":
            first = reason - 1 if isinstance(phrases[reason - 1], Moment) else reason
            del phrases[first : reason + 1]
        return


def all_that_is_wanted(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "All the round I want at 7%": there is plenty of it."""
    text = sentence.text.lower()
    for at in range(len(phrases) - 1):
        cut, want = phrases[at : at + 2]
        led = text[: cut.first].rstrip().endswith(("all the", "all the lean", "as much"))
        if isinstance(cut, CutName) and is_cue(want, "want") and led and _WANTED.match(text[cut.last :]):
            phrases[at : at + 2] = [Word(cut.first, cut.first, "plenty of", "cue", "plenty"), cut]
            return


def kept_at_its_weight(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "20 kg … Keep the batch at 20 kg": the weight said again, which is to stay."""
    weights = [p for p in phrases if isinstance(p, Amount) and p.kind == "weight"]
    for at in range(len(phrases) - 3):
        keep, batch, link, weight = phrases[at : at + 4]
        said = isinstance(weight, Amount) and any(
            other.measure == weight.measure for other in weights if other is not weight
        )
        if (
            is_cue(keep, "keep", "keep_weight")
            and is_cue(batch, "mix", "total", "this")
            and is_word(link, "at")
            and said
        ):
            phrases[at : at + 4] = [Word(keep.first, weight.last, "keep the weight", "cue", "keep_weight")]
            return


def shop_is_out(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "The butcher's out of chuck, so shin in place of that": shin instead of chuck."""
    for at in range(1, len(phrases) - 3):
        led, gone = phrases[at - 1 : at + 1]
        if not (is_cue(led, "out_of") and led.text.lower() == "out of" and isinstance(gone, CutName)):
            continue
        earlier = any(isinstance(phrase, CutName) and phrase.name == gone.name for phrase in phrases[: at - 1])
        comma = at + 2 if is_sep(phrases[at + 1], ",") else at + 1
        come, instead = phrases[comma : comma + 2] if comma + 1 < len(phrases) else (gone, gone)
        if not (earlier and isinstance(come, CutName) and is_cue(instead, "instead")):
            continue
        start = at - 2 if at > 1 and is_cue(phrases[at - 2], "shop_price") else at - 1
        end = comma + 3 if comma + 2 < len(phrases) and is_cue(phrases[comma + 2], "this") else comma + 2
        phrases[start:end] = [come, Word(instead.first, instead.last, "instead of", "cue", "instead"), gone]
        return


def out_of_a_pack(phrases: list[Phrase], _sentence: Sentence) -> None:
    """ "11 patties out of a 2 3/4 lb pack": one pack, and all of it."""
    for at in range(len(phrases) - 2):
        led, weight, pack = phrases[at : at + 3]
        weighed = isinstance(weight, Amount) and weight.kind == "weight"
        if (
            is_cue(led, "out_of")
            and weighed
            and is_cue(pack, "pack")
            and pack.text.lower() in ("pack", "packet", "tray")
        ):
            del phrases[at + 2]
            return


_WHERE = Pattern(r"^[\s(),]*(?:in )?(?:where|place of)(?: the| my)? $")


def where_it_was(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "Put suet (94%) where the trim was": instead of the trim."""
    text = sentence.text.lower()
    for at in range(1, len(phrases)):
        gone = phrases[at]
        led = _WHERE.match(text[phrases[at - 1].last : gone.first])
        was = text[gone.last :].startswith(" was")
        if isinstance(gone, CutName) and led and was and any(isinstance(phrase, CutName) for phrase in phrases[:at]):
            phrases[at:at] = [Word(phrases[at - 1].last, gone.first, "instead of", "cue", "instead")]
            return


_WENT = Pattern(r"^[\s]*(?:went|goes|has gone|gone|is going) (?:to|for|into)(?: the)? $")


def went_for_something_else(phrases: list[Phrase], sentence: Sentence) -> None:
    """ "5 lb of it went to tallow": so much came off, whatever was made of it."""
    text = sentence.text.lower()
    for at in range(3, len(phrases)):
        weight, of, it, made = phrases[at - 3 : at + 1]
        led = isinstance(made, CutName) and _WENT.match(text[it.last : made.first])
        if led and is_word(of, "of") and is_cue(it, "this") and isinstance(weight, Amount) and weight.kind == "weight":
            phrases[at - 3 : at + 1] = [Word(it.first, made.last, "went to", "cue", "lose"), weight]
            return
