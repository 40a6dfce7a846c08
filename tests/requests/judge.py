"""Judge answers against written expectations, and ask whole files of requests.

    python -m tests.requests.judge [FILES] [--verbose] [--fails-only]

Without FILES every ``*.jsonl`` beside this module is asked. README.md in this folder describes the cases.
The judge keeps its own small table of units on purpose: it must not share a mistake with the program it judges.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import signal
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from typing import Any

from msgspec import Struct

HERE = Path(__file__).parent

SLOWEST_S = 20.0
"""A case that takes longer than this is broken, whatever it answers."""

BLEND_FAT_POINTS = 0.5
"""How far a blend's mass balance may lie from the fat asked for, in points."""

ROUNDING = 1e-9


class Kind(StrEnum):
    """Verdicts, from good to bad. wrong and broken are the serious ones."""

    PASS = "pass"
    PARTIAL = "partial"
    DECLINED = "declined"
    WRONG = "wrong"
    BROKEN = "broken"


SERIOUS = (Kind.WRONG, Kind.BROKEN)


class Verdict(Struct, frozen=True):
    """One case's verdict, and what did not hold (empty for a pass)."""

    kind: Kind
    reasons: tuple[str, ...] = ()


# ------------------------------------------------------------------------------------------------ units

_UNITS: dict[str, tuple[str, float]] = {
    "g": ("mass", 1.0),
    "mg": ("mass", 0.001),
    "kg": ("mass", 1000.0),
    "oz": ("mass", 28.349523125),
    "lb": ("mass", 453.59237),
    "stone": ("mass", 6350.29318),
    "ml": ("volume", 1.0),
    "l": ("volume", 1000.0),
    "dl": ("volume", 100.0),
    "cl": ("volume", 10.0),
    "tsp": ("volume", 4.92892159375),
    "tbsp": ("volume", 14.78676478125),
    "floz": ("volume", 29.5735295625),
    "cup": ("volume", 236.5882365),
    "pint": ("volume", 473.176473),
    "quart": ("volume", 946.352946),
    "gallon": ("volume", 3785.411784),
    "mm": ("length", 1.0),
    "cm": ("length", 10.0),
    "in": ("length", 25.4),
    "foot": ("length", 304.8),
    "second": ("time", 1.0),
    "minute": ("time", 60.0),
    "hour": ("time", 3600.0),
    "day": ("time", 86400.0),
    "week": ("time", 604800.0),
    "month": ("time", 2629800.0),
    "year": ("time", 31557600.0),
    "degc": ("temperature", 1.0),
    "degf": ("temperature", 5 / 9),
    "count": ("number", 1.0),
    "%": ("number", 0.01),
}
"""Unit -> what it measures, and its size in that measure's base unit."""

_NAMES = {
    "g": "gram grams gramme",
    "kg": "kilogram kilograms kilo kilos",
    "oz": "ounce ounces",
    "lb": "pound pounds lbs",
    "ml": "milliliter milliliters millilitre cc",
    "l": "liter litre",
    "tsp": "teaspoon teaspoons us_teaspoon",
    "tbsp": "tablespoon tablespoons us_tablespoon",
    "floz": "fluid_ounce fl_oz us_fluid_ounce",
    "cup": "cups us_cup",
    "mm": "millimeter millimetre",
    "cm": "centimeter centimetre",
    "in": "inch inches",
    "foot": "ft feet",
    "second": "s sec seconds",
    "minute": "min mins minutes",
    "hour": "h hr hours",
    "day": "d days",
    "week": "weeks",
    "month": "months",
    "year": "years",
    "degc": "c °c celsius degree_celsius degreec",
    "degf": "f °f fahrenheit degree_fahrenheit degreef",
    "count": "1 dimensionless patty patties burger burgers each piece",
    "%": "percent",
}

_CANONICAL = {name: unit for unit, names in _NAMES.items() for name in names.split()}

_OFFSET = {"degf": 32.0}
"""Where a temperature scale's own reading stands at 0 degrees C."""


def canonical(unit: object) -> str:
    """The judge's name of a unit; one that it does not know stays as it is (currencies among them)."""
    name = str(unit or "").strip()
    lowered = name.lower()
    return _CANONICAL.get(lowered, lowered if lowered in _UNITS else name)


def convert(value: float, unit: object, wanted: object) -> float | None:
    """value in the wanted unit; None where the two do not measure the same thing. An empty wanted unit is any unit."""
    have, want = canonical(unit), canonical(wanted)
    if not want or have == want:
        return value
    if have not in _UNITS or want not in _UNITS:
        return None
    (measure, size), (wanted_measure, wanted_size) = _UNITS[have], _UNITS[want]
    if measure != wanted_measure:
        return None
    return (value - _OFFSET.get(have, 0.0)) * size / wanted_size + _OFFSET.get(want, 0.0)


# ------------------------------------------------------------------------------------------------ figures


def _choices(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _holds_any(text: str, choices: Any) -> bool:
    return any(str(choice).lower() in text for choice in _choices(choices))


def _same_moment(value: str, wanted: Mapping[str, Any]) -> bool:
    """A date or clock time against an expectation; either may leave out the date or the seconds."""
    clock = value.split("T")[-1]
    if "within" in wanted:
        low, high = (str(bound) for bound in wanted["within"])
        return any(low <= moment[: len(low)] <= high for moment in (value, clock))
    expected = str(wanted.get("value"))
    return value.startswith(expected) or clock.startswith(expected)


def _same_value(figure: Mapping[str, Any], wanted: Mapping[str, Any]) -> bool:
    value = figure.get("value")
    if isinstance(value, str):
        return _same_moment(value, wanted)
    if value is None or isinstance(value, bool) or isinstance(wanted.get("value"), str):
        return False
    converted = convert(float(value), figure.get("unit"), wanted.get("unit"))
    if converted is None:
        return False
    if "within" in wanted:
        low, high = wanted["within"]
        return bool(low - ROUNDING <= converted <= high + ROUNDING)
    expected = float(wanted["value"])
    allowed = wanted["abs"] if "abs" in wanted else abs(expected) * wanted.get("rel", 0.02)
    return bool(abs(converted - expected) <= allowed + ROUNDING)


def _fits(figure: Mapping[str, Any], wanted: Mapping[str, Any]) -> bool:
    if "role" in wanted and figure.get("role") not in _choices(wanted["role"]):
        return False
    if "name" in wanted and not _holds_any(str(figure.get("name", "")).lower(), wanted["name"]):
        return False
    return _same_value(figure, wanted)


def _has_figure(answer: Mapping[str, Any], wanted: Mapping[str, Any]) -> bool:
    return any(_fits(figure, wanted) for figure in answer.get("figures") or [])


# ------------------------------------------------------------------------------------------------ blends


def _blend_faults(answer: Mapping[str, Any], wanted: Mapping[str, Any]) -> Iterator[str]:
    """What does not hold of the answer's own components, weighed up by mass balance."""
    parts = [figure for figure in answer.get("figures") or [] if figure.get("role") == "component"]
    if not parts:
        yield "no components"
        return
    weighed = [convert(float(part["value"]), part.get("unit"), "g") for part in parts]
    weights = [weight for weight in weighed if weight is not None]
    if len(weights) < len(parts):
        yield "a component whose unit is no weight"
        return
    if min(weights) < -1e-6:
        yield "a component weighs less than nothing"
    yield from _total_faults(sum(weights), wanted.get("total"))
    if wanted.get("fat") is not None:
        yield from _fat_faults(parts, weights, float(wanted["fat"]))
    yield from _cut_faults(parts, weights, wanted)


def _total_faults(total: float, wanted: Mapping[str, Any] | None) -> Iterator[str]:
    if not wanted:
        return
    expected = convert(float(wanted["value"]), wanted["unit"], "g")
    assert expected is not None, f"an expectation's total is no weight: {wanted}"
    if abs(total - expected) > 0.01 * expected + 0.5:
        yield f"the components weigh {total:.0f} g together, wanted {expected:.0f} g"


def _fat_faults(parts: Sequence[Mapping[str, Any]], weights: Sequence[float], wanted: float) -> Iterator[str]:
    fats = [part.get("fat_percent") for part in parts]
    known = [float(fat) for fat in fats if fat is not None]
    if len(known) < len(parts):
        yield "a component without its fat"
        return
    total = sum(weights)
    fat = sum(weight * percent for weight, percent in zip(weights, known, strict=True)) / total if total else -1.0
    if abs(fat - wanted) > BLEND_FAT_POINTS:
        yield f"mass balance gives {fat:.1f} % fat, wanted {wanted:g} %"


def _cut_faults(
    parts: Sequence[Mapping[str, Any]], weights: Sequence[float], wanted: Mapping[str, Any]
) -> Iterator[str]:
    names = [str(part.get("name", "")).lower() for part in parts]
    cuts = wanted.get("cuts", [])
    for cut in cuts:
        words = [str(word).lower() for word in _choices(cut)]
        if not any(word in name or (name and name in word) for word in words for name in names):
            yield f"{cut} is not among {names}"
    if wanted.get("only") and sum(weight > 0.01 for weight in weights) > len(cuts):
        yield f"more than was asked for among {names}"


# ------------------------------------------------------------------------------------------------ verdict


def said(answer: Mapping[str, Any]) -> str:
    """Everything that the answer says in words, lower case."""
    cautions = [caution.get("text", "") for caution in answer.get("cautions") or []]
    lines = [*(answer.get("steps") or []), *(answer.get("notes") or []), *(answer.get("document") or [])]
    lines += [answer.get("message") or "", answer.get("understood") or "", *cautions]
    return " ".join(map(str, lines)).lower()


def judge(answer: Mapping[str, Any], expect: Mapping[str, Any]) -> Verdict:
    """The verdict on one answer (in the published shape) against one expectation.

    A missing word or caution alone makes an answer partial; a figure, a balance or a forbidden thing makes it wrong.
    """
    status = answer.get("status")
    allowed = _choices(expect.get("status", "answered"))
    if status not in allowed:
        reason = f"status {status}, wanted {allowed}: {str(answer.get('message', ''))[:160]}"
        if status == "answered":
            return Verdict(Kind.WRONG, (reason,))
        return Verdict(Kind.DECLINED if "answered" in allowed else Kind.PARTIAL, (reason,))
    grave, slight = list(_grave_faults(answer, expect)), list(_slight_faults(answer, expect))
    if grave:
        return Verdict(Kind.WRONG if status == "answered" else Kind.PARTIAL, (*grave, *slight))
    return Verdict(Kind.PARTIAL, tuple(slight)) if slight else Verdict(Kind.PASS)


def _grave_faults(answer: Mapping[str, Any], expect: Mapping[str, Any]) -> Iterator[str]:
    for wanted in expect.get("figures", []):
        if not _has_figure(answer, wanted):
            yield f"no figure {json.dumps(wanted, ensure_ascii=False)}"
    if expect.get("blend") and answer.get("status") == "answered":
        yield from _blend_faults(answer, expect["blend"])
    for unwanted in expect.get("not_figures", []):
        if _has_figure(answer, unwanted):
            yield f"must not have figure {json.dumps(unwanted, ensure_ascii=False)}"
    words = said(answer)
    for text in expect.get("not_text", []):
        if str(text).lower() in words:
            yield f"must not say {text!r}"


def _slight_faults(answer: Mapping[str, Any], expect: Mapping[str, Any]) -> Iterator[str]:
    words = said(answer)
    for wanted in expect.get("cautions", []):
        if not _holds_any(words, wanted):
            yield f"no caution with {wanted!r}"
    for wanted in expect.get("text", []):
        if not _holds_any(words, wanted):
            yield f"does not say {wanted!r}"


# ------------------------------------------------------------------------------------------------ asking


def read_cases(path: Path) -> list[dict[str, Any]]:
    """The cases of one file, one JSON object a line."""
    return [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines() if line.strip()]


def turns_of(case: Mapping[str, Any]) -> list[str]:
    """The turns as they would be typed: within a conversation a turn is one line."""
    turns = [str(turn) for turn in case["turns"]]
    if len(turns) == 1:
        return turns
    return [turn.replace("\r", " ").replace("\n", " ") for turn in turns]


def ask(case: Mapping[str, Any], notebook: Path) -> Mapping[str, Any]:
    """The answer to the last turn, in a fresh conversation with its own notebook file."""
    from assistant import Conversation

    talk = Conversation(notebook_path=notebook, folder=notebook.parent)
    answers = [talk.ask(turn) for turn in turns_of(case)]
    data: Mapping[str, Any] = json.loads(json.dumps(answers[-1].as_data()))
    return data


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    """Break off what runs longer, so that one request that never ends does not hold up a whole file."""

    def give_up(*_: object) -> None:
        raise TimeoutError(f"took over {seconds:g} s")

    before = signal.signal(signal.SIGALRM, give_up)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def try_case(case: Mapping[str, Any], notebook: Path) -> tuple[Verdict, Mapping[str, Any]]:
    """Ask and judge one case; whatever is raised on the way is a verdict too."""
    try:
        # some requests save a file where the person stands
        with _at_most(SLOWEST_S), contextlib.chdir(notebook.parent):
            answer = ask(case, notebook)
    except Exception as error:
        place = traceback.extract_tb(error.__traceback__)[-1]
        reason = f"{type(error).__name__}: {error} ({Path(place.filename).name}:{place.lineno})"
        return Verdict(Kind.BROKEN, (reason,)), {}
    return judge(answer, case["expect"]), answer


def try_file(path: Path) -> Iterator[tuple[dict[str, Any], Verdict, Mapping[str, Any]]]:
    """Every case of one file with its verdict and its last answer."""
    with tempfile.TemporaryDirectory() as folder:
        for number, case in enumerate(read_cases(path)):
            yield (case, *try_case(case, Path(folder) / f"{number}.notebook"))


def tally_line(tally: Mapping[Kind, int]) -> str:
    """For example `50 cases: pass 48 (96.0 %), partial 1 (2.0 %), ...`."""
    total = sum(tally.values())
    shares = (f"{kind} {tally.get(kind, 0)} ({100 * tally.get(kind, 0) / max(total, 1):.1f} %)" for kind in Kind)
    return f"{total} cases: " + ", ".join(shares)


def _report(case: Mapping[str, Any], verdict: Verdict, answer: Mapping[str, Any], verbose: bool) -> None:
    print(f"{case['id']} {verdict.kind}: {' | '.join(case['turns'])[:160]!r}")
    for reason in verdict.reasons:
        print(f"    {reason}")
    if verbose and verdict.kind is not Kind.PASS:
        print(f"    why asked: {case.get('why', '')}")
        print(f"    understood: {answer.get('understood', '')}")
        print(f"    message: {str(answer.get('message', ''))[:300]}")
        for figure in answer.get("figures") or []:
            print(f"    figure: {figure['name']} ({figure['role']}) {figure['value']} {figure['unit']}")


def main(arguments: Sequence[str] | None = None) -> int:
    """Ask the files and print verdicts and a tally for each; 1 where anything was wrong or broken."""
    options = argparse.ArgumentParser(prog="python -m tests.requests.judge", description="Ask and judge requests.")
    options.add_argument("files", nargs="*", type=Path, metavar="FILES")
    options.add_argument("--verbose", action="store_true", help="show what was understood and every figure")
    options.add_argument("--fails-only", action="store_true", help="leave out what passed")
    chosen = options.parse_args(arguments)
    everything: Counter[Kind] = Counter()
    for path in chosen.files or sorted(HERE.glob("*.jsonl")):
        tally: Counter[Kind] = Counter()
        for case, verdict, answer in try_file(path):
            tally[verdict.kind] += 1
            if verdict.kind is not Kind.PASS or not chosen.fails_only:
                _report(case, verdict, answer, chosen.verbose)
        print(f"{path.name}: {tally_line(tally)}")
        everything += tally
    print(f"in all: {tally_line(everything)}")
    return 1 if any(everything[kind] for kind in SERIOUS) else 0


if __name__ == "__main__":
    sys.exit(main())
