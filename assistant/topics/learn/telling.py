"""What was weighed of a cut as it is told: the figure, the steps of a test, and what was kept."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from assistant import wording
from assistant.answer import Figure, Role, Status
from assistant.notebook import NotebookError
from assistant.topics import heard, verdict
from assistant.topics.base import Kitchen, Outcome
from assistant.topics.learn.request import NAME, CookedOut, HowTo, Keep, Parted, Trimmed, Weighed
from assistant.topics.learn.weighing import Learned, range_words, shown, worked_out
from assistant.topics.plan.own import OwnFat, keep


def understood(request: Weighed) -> str:
    """What was weighed, read back."""
    cut = request.cut or "meat"
    if isinstance(request, Trimmed):
        before = "" if request.fat is None else f" at {wording.percent(request.fat)} fat"
        piece = f"a {shown(request.piece)} {cut}" if request.piece is not None else f"the {cut}"
        return f"Trimmed {shown(request.off)} of fat off {piece}{before}"
    if isinstance(request, Parted):
        return f"{cut.capitalize()} parted into {shown(request.lean)} lean and {shown(request.fat)} fat"
    weights = [
        f"{shown(measure)} {what}"
        for measure, what in ((request.raw, "raw"), (request.cooked, "cooked"), (request.rendered, "fat rendered"))
        if measure is not None
    ]
    of = f" of {request.cut}" if request.cut else ""
    way = "grilled" if request.method == "broiled" else request.method
    return f"Cook-out test{of}: {', '.join(weights)}" + ("" if request.assumed else f", {request.form}, {way}")


def missing(request: Weighed) -> tuple[str, str] | None:
    """The weight or name that is not known yet, with the question for it; None where all is there."""
    if isinstance(request, CookedOut):
        if request.raw is None:
            return "raw", "What did the sample weigh raw?"
        if request.rendered is None:
            return "rendered", "How much fat ran out, weighed alone: chilled and lifted off the juices?"
        return ("cooked", "What did the meat weigh once cooked?") if request.cooked is None else None
    if not request.cut and not (isinstance(request, Trimmed) and request.fat is not None):
        return "cut", "Off which cut? For example: brisket, or pork shoulder."
    if isinstance(request, Trimmed) and request.piece is None:
        return "piece", f"What did the whole {request.cut or 'piece'} weigh before trimming?"
    return None


def told(request: Weighed, found: Learned, kitchen: Kitchen) -> Outcome:
    """The fat with its range, and the offer to keep it."""
    fat = Figure(
        found.name,
        Role.FAT,
        float(found.fat.value),
        "%",
        low=None if found.fat.low is None else float(found.fat.low),
        high=None if found.fat.high is None else float(found.fat.high),
        source=found.source,
        shown=range_words(found.fat),
    )
    trimmed = ", trimmed like this," if isinstance(request, Trimmed) else ""
    offer = (
        f'Say "remember that" and your {request.cut}{trimmed} counts so from now on.'
        if request.cut
        else 'Say "remember that for my …" with the cut\'s name, and it counts from now on.'
    )
    return verdict.told(
        NAME,
        understood(request),
        found.says,
        figures=(fat, *found.figures),
        notes=(offer, *found.notes),
        working=(f"{found.says} From: {found.source}.",),
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"keep_cold"}),
    )


def keep_figure(wish: Keep, kitchen: Kitchen) -> Outcome:
    """Keeps the figure in the notebook; asks for the cut where none was named."""
    found = worked_out(wish.of, kitchen)
    understood = f"Keep the fat of {wish.cut or 'this cut'}"
    if isinstance(found, str):
        return verdict.told(NAME, understood, found, status=Status.IMPOSSIBLE)
    if not wish.cut:
        return verdict.ask_back(NAME, understood, 'For which cut? For example: "brisket trim".', wish, "cut")
    value = _tidy(found.fat.value)
    low, high = found.fat.low, found.fat.high
    figure = OwnFat(value, value if low is None else _tidy(low), value if high is None else _tidy(high))
    try:
        keep(kitchen, wish.cut, figure)
    except NotebookError as fault:
        return verdict.told(
            NAME,
            understood,
            f"It is kept in the notebook, which cannot be used: {fault.problem}.",
            status=Status.IMPOSSIBLE,
        )
    says = f"Kept: {wish.cut} at {range_words(found.fat)} fat. It counts in every batch that names it without a figure."
    outcome = verdict.told(
        NAME,
        understood,
        says,
        figures=(
            Figure(
                wish.cut,
                Role.FAT,
                float(value),
                "%",
                low=float(figure.low),
                high=float(figure.high),
                source="your figure",
                shown=range_words(found.fat),
            ),
        ),
    )
    return replace(outcome, undoable=True)


def _tidy(percent: Fraction) -> Fraction:
    """To a tenth: finer than any of this is known, and short enough to be read in the notebook."""
    return wording.rounded(percent, Fraction(1, 10))


def steps_to_weigh(request: HowTo, kitchen: Kitchen) -> Outcome:
    """How to find the fat of a cut out: a sample cooked out, or a knife and a scale."""
    cut = request.cut or "meat"
    needed = verdict.needed_for(heard.Meat(), kitchen.country)
    steps = (
        f"Grind or chop some of the {cut} fine, mix it well and weigh out 100 g (3 1/2 oz), to the gram.",
        "Crumble it into a dry pan and brown it over medium heat, past "
        + verdict.degrees(needed, verdict.scale_of(kitchen))
        + ".",
        "Tip it into a sieve over a weighed bowl and scrape the pan into it. Let it drain; weigh the meat.",
        "Chill the bowl until the fat is hard, lift the fat off the juices, dab it dry and weigh it alone.",
        'Tell me the three weights: "cook-out test: 100 g raw, 68 g cooked, 9 g fat rendered".',
    )
    says = "Cook a small sample out and weigh what runs off; the published share of fat that stays in does the rest."
    notes = (
        "It works from lean up to 30% fat. Fatter trim: mix it half and half with a lean cut first; twice the answer, less the lean one's fat, is the trim's.",
        f'Or part it by knife and weigh both: "parted {cut if request.cut else "brisket"} into 1.5 kg lean and 500 g fat".',
        "The way of weighing is common practice, no source; the shares are from USDA cooking yields and SR28.",
    )
    return verdict.told(
        NAME,
        f"How to find out how fat {'my ' + request.cut if request.cut else 'meat'} is",
        says,
        steps=steps,
        notes=notes,
        cautions=verdict.with_meat(heard.Meat(), kitchen, {"cook_temperature"}),
    )
