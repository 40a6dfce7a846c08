"""Building the answers of the topics on heat, cold and time: temperature figures, a plain yes or no, what goes with it."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from fractions import Fraction

from msgspec.structs import replace

from assistant import units, wording
from assistant.answer import Answer, Caution, Figure, Role, Status
from assistant.data.safety import Degrees, SafetyFigure, safety_book
from assistant.engine.safety import Endpoint, endpoint
from assistant.topics.base import Kitchen, Outcome, Pending
from assistant.topics.cautions import COOKING, reminders
from assistant.topics.heard import Meat, endpoint_species, said_hunted

LOCAL = "Where you sell or serve the public, your local food rules decide."
MOST_NOTES = 3


def kitchen_in(kitchen: Kitchen, country: str) -> Kitchen:
    """The kitchen as it would be in the country that a question names ("" for its own)."""
    return replace(kitchen, country=country) if country else kitchen


def scale_of(kitchen: Kitchen, asked: str = "") -> str:
    """The scale that is told first: the one asked for, else the country's."""
    return asked or ("degF" if kitchen.country == "us" else "degC")


def degrees(at: Degrees | Endpoint, scale: str) -> str:
    """A temperature as its authority prints it on both scales: "160 °F (71 °C)"."""
    f, c = f"{wording.number(at.f)} {wording.DEGREE}F", f"{wording.number(at.c)} {wording.DEGREE}C"
    return f"{f} ({c})" if scale == "degF" else f"{c} ({f})"


def reading(value: Fraction, unit: str) -> str:
    """A temperature that somebody read off, on both scales."""
    return wording.temperature(value, unit)


def temperature_figures(name: str, at: Degrees | Endpoint, source: str, scale: str) -> tuple[Figure, ...]:
    """The two figures of one temperature, the cook's scale first."""
    pair = [
        Figure(
            name,
            Role.TEMPERATURE,
            float(at.f),
            "degF",
            source=source,
            shown=f"{wording.number(at.f)} {wording.DEGREE}F",
        ),
        Figure(
            name,
            Role.TEMPERATURE,
            float(at.c),
            "degC",
            source=source,
            shown=f"{wording.number(at.c)} {wording.DEGREE}C",
        ),
    ]
    return tuple(pair if scale == "degF" else reversed(pair))


def needed_for(meat: Meat, country: str) -> Endpoint:
    """The strictest temperature for the meat, ground unless the line said a whole cut."""
    species, hunted = endpoint_species(meat)
    return endpoint(species, country, hunted=hunted, ground=not meat.whole)


def cooking_figures(needed: Endpoint, scale: str, name: str = "middle of the meat") -> tuple[Figure, ...]:
    """Temperature in the middle, and how long to hold it or rest it where the authority says so."""
    figures = list(temperature_figures(name, needed, needed.authority, scale))
    if needed.hold_seconds:
        figures.append(
            time_figure("hold at that temperature", Fraction(needed.hold_seconds, 60), "minute", needed.authority)
        )
    if needed.rest_minutes:
        figures.append(time_figure("rest", Fraction(needed.rest_minutes), "minute", needed.authority))
    return tuple(figures)


def time_figure(
    name: str, value: Fraction, unit: str, source: str, low: Fraction | None = None, high: Fraction | None = None
) -> Figure:
    """A length of time with its range."""
    return Figure(
        name,
        Role.DURATION,
        float(value),
        unit,
        low=None if low is None else float(low),
        high=None if high is None else float(high),
        source=source,
        shown=span(low if low is not None else value, high if high is not None else value, unit),
    )


def from_book(name: str, figure: SafetyFigure) -> Figure:
    """A time of the safety file as a figure: its middle where the source gives a range."""
    high = figure.high if figure.high is not None else figure.value
    ranged = figure.high is not None
    middle = (figure.value + high) / 2
    return time_figure(
        name, middle, figure.unit, figure.source, figure.value if ranged else None, high if ranged else None
    )


def span(low: Fraction, high: Fraction, unit: str) -> str:
    """ "1 to 2 days", "45 min", "2 h 30 min to 3 h"."""
    if unit in ("minute", "hour"):
        first, last = (wording.duration(units.to(value, unit, "minute")) for value in (low, high))
        return first if first == last else f"{first} to {last}"
    near, far = wording.number(low), wording.number(high)
    return (
        f"{near} {wording.plural_of(unit) if low != 1 else unit}"
        if near == far
        else f"{near} to {far} {wording.plural_of(unit)}"
    )


def mark(needed: Endpoint, scale: str) -> str:
    """ "160 °F (71 °C) in the middle", with the time to hold or rest it where the authority names one."""
    return f"{degrees(needed, scale)} in the middle{hold_words(needed)}"


def hold_words(needed: Endpoint) -> str:
    """ ", held there for 2 min" where the country's figure counts only with a time; the rest of a whole cut."""
    if needed.hold_seconds:
        return f" and hold it there for {wording.duration(Fraction(needed.hold_seconds, 60))}"
    if needed.rest_minutes:
        return f" and rest it {wording.duration(needed.rest_minutes)}"
    return ""


def with_meat(
    meat: Meat, kitchen: Kitchen, touches: Collection[str], urgent: Collection[str] = ()
) -> tuple[Caution, ...]:
    """The reminders for this meat in this country."""
    species, hunted = endpoint_species(meat)
    named = said_hunted(meat.species and species, hunted)
    return reminders(named, kitchen.country, touches=touches, urgent=urgent)


def _no_more_than_are_read(notes: tuple[str, ...]) -> tuple[str, ...]:
    """The first notes, and the source of the verdict in any case: it stands last, and no other note may push it out."""
    sources = [note for note in notes if note.startswith("Source: ")]
    others = [note for note in notes if note not in sources][: MOST_NOTES - len(sources)]
    return tuple(note for note in notes if note in sources or note in others)


def told(
    topic: str,
    understood: str,
    headline: str,
    *,
    figures: Iterable[Figure] = (),
    cautions: Iterable[Caution] = (),
    notes: Iterable[str] = (),
    steps: Iterable[str] = (),
    working: Iterable[str] = (),
    status: Status = Status.ANSWERED,
    thrown: bool = False,
) -> Outcome:
    """An answer with its headline first and no more notes than a cook reads. thrown: the meat is to be thrown away, so
    that how hot to cook it is no reminder of it."""
    kept = _no_more_than_are_read(tuple(dict.fromkeys(note for note in notes if note)))
    return Outcome(
        Answer(
            understood=understood,
            status=status,
            topic=topic,
            headline=headline,
            message=headline if status is not Status.ANSWERED else "",
            figures=tuple(figures),
            cautions=tuple(caution for caution in cautions if not (thrown and caution.topic == COOKING)),
            notes=kept,
            steps=tuple(steps),
            working=tuple(working),
        )
    )


def ask_back(topic: str, understood: str, question: str, request: object, missing: str) -> Outcome:
    """A question to the cook; the next turn may supply just what is missing."""
    return Outcome(
        Answer(understood=understood, status=Status.NEEDS_DETAIL, topic=topic, message=question),
        pending=Pending(topic, request, missing),
    )


def figure(key: str) -> SafetyFigure:
    """A time, count or mix of the safety file."""
    return safety_book().figures[key]


def temperature(key: str) -> Degrees:
    """A temperature of the safety file."""
    return safety_book().temperatures[key].at
