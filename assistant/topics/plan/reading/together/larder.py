"""Meat that is left alone, that is kept for something else, or of which there is as much as anybody wants."""

from __future__ import annotations

from assistant.language.phrases import Amount, CutName, Moment, Phrase, Word
from assistant.language.sentence import Sentence
from assistant.pattern import Pattern
from assistant.topics.plan.reading.together.shapes import is_cue, is_word

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
