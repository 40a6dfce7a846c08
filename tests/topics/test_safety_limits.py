"""Every published limit on heat, cold and time, asked about exactly at it, just above and just below.

The figures are typed here once more, each table with its authority, so that neither the safety file nor a kept answer
(test_safety_answers.py) can drift away from what was published.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant import Answer, Status
from tests.topics.kitchen_talk import Evening

COUNTRIES = {
    "us": "I'm in the US",
    "uk": "I'm in the UK",
    "ie": "I'm in Ireland",
    "ca": "I'm in Canada",
    "au": "I'm in Australia",
    "nz": "I'm in New Zealand",
}
YES, LAST, NO = ("yes",), ("only if",), ("no:", "no,")


@pytest.fixture
def evening(tmp_path: Path) -> Evening:
    """A conversation on Friday 19 June 2026, a quarter past one."""
    return Evening(tmp_path)


def opens(answer: Answer, words: tuple[str, ...]) -> bool:
    """Whether an answer begins with one of the words, the name of a place before it left out."""
    assert answer.status is Status.ANSWERED, answer
    said = answer.headline.lower().split("freezer: ")[-1].split("fridge: ")[-1]
    return any(said.startswith(word) for word in words)


def pair(answer: Answer) -> tuple[float | str, float | str]:
    """The first temperature, in °F and in °C."""
    by_unit = {figure.unit: figure.value for figure in reversed(answer.figures) if figure.role.value == "temperature"}
    return by_unit["degF"], by_unit["degC"]


# ---- the middle of ground meat

MIDDLES = [
    # USDA FSIS, FoodSafety.gov: ground meat 160 °F, with poultry 165 °F; farmed game 160 °F, hunted game 165 °F
    *[("us", meat, 160, 71) for meat in ("beef", "pork", "veal", "lamb", "mutton", "goat", "bison")],
    *[("us", meat, 160, 71) for meat in ("venison", "elk", "moose", "rabbit", "wild boar")],
    *[("us", meat, 165, 74) for meat in ("chicken", "turkey", "duck", "goose", "pheasant", "quail", "hunted venison")],
    # Food Standards Agency: 70 °C held for 2 minutes; poultry and hunted game keep the stricter floor
    *[("uk", meat, 158, 70) for meat in ("beef", "pork", "lamb", "venison")],
    *[("uk", meat, 165, 74) for meat in ("chicken", "turkey", "hunted venison")],
    # Food Safety Authority of Ireland: 75 °C
    *[("ie", meat, 167, 75) for meat in ("beef", "lamb", "turkey", "hunted venison")],
    # Health Canada: 71 °C, game and poultry 74 °C
    *[("ca", meat, 160, 71) for meat in ("beef", "pork", "lamb", "bison")],
    *[("ca", meat, 165, 74) for meat in ("venison", "elk", "chicken", "turkey")],
    # Food Safety Information Council (Australia), Ministry for Primary Industries (New Zealand): 75 °C
    *[("au", meat, 167, 75) for meat in ("beef", "pork", "chicken")],
    *[("nz", meat, 167, 75) for meat in ("beef", "lamb", "chicken")],
]


@pytest.mark.parametrize(("country", "meat", "f", "c"), MIDDLES)
def test_the_middle_of_ground_meat(evening: Evening, country: str, meat: str, f: int, c: int) -> None:
    asked = evening.ask(COUNTRIES[country], f"what temperature for {meat} burgers")
    assert pair(asked) == (f, c)
    for degrees, unit in ((f, "F"), (c, "C")):
        assert opens(evening.ask(f"is {degrees} {unit} ok for {meat} burgers"), YES)
        assert opens(evening.ask(f"is {degrees + 1} {unit} ok for {meat} burgers"), YES)
        assert opens(evening.ask(f"is {degrees - 1} {unit} ok for {meat} burgers"), NO)


@pytest.mark.parametrize(("c", "seconds"), [(70, 120), (74, 120), (75, 30), (79, 30), (80, 6), (90, 6)])
def test_how_long_the_uk_figure_is_held(evening: Evening, c: int, seconds: int) -> None:
    """70 °C for 2 min, 75 °C for 30 s, 80 °C for 6 s: Food Standards Agency."""
    answer = evening.ask("I'm in the UK", f"is {c} C ok for beef burgers")
    assert f"for {seconds} seconds" in answer.headline


@pytest.mark.parametrize(
    ("country", "cut", "f", "rest"),
    [
        # USDA FSIS: 145 °F and a rest of 3 minutes; Health Canada 63 °C, pork 71 °C; FSIC 63 °C
        ("us", "beef steak", 145, 3),
        ("ca", "beef steak", 145, 0),
        ("au", "beef steak", 145, 0),
        # no figure of its own for a whole cut there: the ground one stands
        ("ie", "beef steak", 167, 0),
    ],
)
def test_the_middle_of_a_whole_cut(evening: Evening, country: str, cut: str, f: int, rest: int) -> None:
    answer = evening.ask(COUNTRIES[country], f"what temperature for a {cut}")
    assert pair(answer)[0] == f
    assert [figure.value for figure in answer.figures if figure.name == "rest"] == ([rest] if rest else [])
    assert opens(evening.ask(f"is {f} F ok for a {cut}"), YES)
    assert opens(evening.ask(f"is {f - 1} F ok for a {cut}"), NO)


# ---- out of the fridge: 2 hours, 1 hour above 90 °F (USDA FSIS)


@pytest.mark.parametrize(
    ("line", "verdict"),
    [
        *[
            (f"mince was out {minutes} minutes, ok?", verdict)
            for minutes, verdict in ((119, YES), (120, LAST), (121, NO))
        ],
        *[
            (f"mince was out {minutes} minutes at {heat}, ok?", verdict)
            for heat in ("91 F", "33 C", "110 F")
            for minutes, verdict in ((59, YES), (60, LAST), (61, NO))
        ],
        *[
            (f"mince was out {minutes} minutes at {heat}, ok?", verdict)
            for heat in ("90 F", "32 C", "60 F")
            for minutes, verdict in ((61, YES), (119, YES), (120, LAST), (121, NO))
        ],
        ("mince was out 1 hour and then another 59 minutes, ok?", YES),
        ("mince was out 1 hour and then another 60 minutes, ok?", LAST),
        ("mince was out 1 hour and then another 61 minutes, ok?", NO),
        ("cooked burgers were out 2 hours, ok?", LAST),
        ("cooked burgers were out 121 minutes, ok?", NO),
        ("mince out since 11:16, ok?", YES),
        ("mince out since 11:15, ok?", LAST),
        ("mince out since 11:14, ok?", NO),
        ("mince out from 10 till 12, ok?", LAST),
        ("mince out from 10:01 till 12, ok?", YES),
        ("mince out from 9 till 12, ok?", NO),
    ],
)
def test_time_out_of_the_fridge(evening: Evening, line: str, verdict: tuple[str, ...]) -> None:
    answer = evening.ask(line)
    assert opens(answer, verdict), answer.headline
    limit = 1 if any(heat in line for heat in ("91 F", "33 C", "110 F")) else 2
    assert [figure.value for figure in answer.figures if figure.name.startswith("limit")] == [limit]


# ---- how cold: fridge 40 °F, freezer 0 °F (USDA FSIS); fridge 5 °C (Food Standards Agency, FSIC)


@pytest.mark.parametrize(
    ("country", "line", "verdict"),
    [
        *[("us", f"is {at} ok for a fridge", YES) for at in ("40 F", "39 F", "4 C", "3 C")],
        *[("us", f"is {at} ok for a fridge", NO) for at in ("41 F", "5 C", "50 F")],
        *[(land, f"is {at} ok for a fridge", YES) for land in ("uk", "au") for at in ("5 C", "41 F", "4 C")],
        *[(land, f"is {at} ok for a fridge", NO) for land in ("uk", "au") for at in ("6 C", "42 F")],
        *[(land, "is 5 C ok for a fridge", NO) for land in ("ca", "ie", "nz")],
        *[("us", f"is {at} cold enough for the freezer", YES) for at in ("0 F", "-1 F", "-18 C", "-19 C")],
        *[("us", f"is {at} cold enough for the freezer", NO) for at in ("1 F", "-17 C", "10 F")],
    ],
)
def test_how_cold(evening: Evening, country: str, line: str, verdict: tuple[str, ...]) -> None:
    answer = evening.ask(COUNTRIES[country], line)
    assert opens(answer, verdict), answer.headline
    fridge = (41, 5) if country in ("uk", "au") else (40, 4)
    assert pair(answer) == ((0, -18) if "freezer" in line else fridge)


# ---- days and months (FoodSafety.gov, Cold Food Storage Chart)

STORED = [
    ("mince", 1, 2, 3, 4),
    ("ground turkey", 1, 2, 3, 4),
    ("beef patties", 1, 2, 3, 4),
    ("sausage meat", 1, 2, 1, 2),
    ("brisket", 3, 5, 4, 12),
    ("steaks", 3, 5, 4, 12),
    ("chicken thighs", 1, 2, 9, 9),
    ("whole chicken", 1, 2, 12, 12),
    ("pork heart", 1, 2, 3, 4),
    ("bacon", 7, 7, 1, 1),
    ("leftover burgers", 3, 4, 2, 3),
    ("leftover chicken burgers", 3, 4, 1, 3),
    # trade custom, no source
    ("suet", 3, 5, 4, 6),
]


@pytest.mark.parametrize(("food", "low", "high", "months", "most"), STORED)
def test_days_and_months(evening: Evening, food: str, low: int, high: int, months: int, most: int) -> None:
    fridge = evening.ask(f"how long does {food} keep in the fridge")
    assert [(f.low, f.high) for f in fridge.figures if f.unit == "day"] == [(low, high)]
    freezer = evening.ask(f"how long does {food} keep in the freezer")
    assert [(f.low, f.high) for f in freezer.figures if f.unit == "month"] == [(months, most)]
    assert "quality" in " ".join(freezer.notes)
    assert opens(evening.ask(f"{food} in the fridge for {low} days, ok?"), YES)
    if high > low:
        assert opens(evening.ask(f"{food} in the fridge for {high} days, ok?"), LAST)
    assert opens(evening.ask(f"{food} in the fridge for {high + 1} days, ok?"), NO)


# ---- a power cut (USDA FSIS; FDA): fridge 4 h, full freezer 48 h, half-full freezer 24 h, the door shut


@pytest.mark.parametrize(
    ("place", "hours", "past"),
    [("fridge", 4, "no, throw"), ("full freezer", 48, "past its 48"), ("half full freezer", 24, "past its 24")],
)
def test_a_power_cut(evening: Evening, place: str, hours: int, past: str) -> None:
    less = evening.ask(f"power out {hours - 1} hours, {place}")
    assert opens(less, YES)
    assert f"1 h left of its {hours} hours" in less.headline
    assert opens(evening.ask(f"power out {hours} hours, {place}"), YES)
    assert opens(evening.ask(f"power out {hours + 1} hours, {place}"), (past,))


@pytest.mark.parametrize(
    ("line", "verdict"),
    [
        # a reading decides before the clock: above 40 °F for more than 2 hours goes out
        ("power out 9 hours, meat in the fridge reads 40 F", YES),
        ("power out 9 hours, meat in the fridge reads 41 F", NO),
        ("power out 1 hour, meat in the fridge reads 41 F", LAST),
        ("power out 2 hours, meat in the fridge reads 41 F", LAST),
        ("power out 3 hours, meat in the fridge reads 41 F", NO),
        ("power out 3 hours, meat in the fridge reads 38 F", YES),
    ],
)
def test_a_reading_after_a_power_cut(evening: Evening, line: str, verdict: tuple[str, ...]) -> None:
    """Named after a fault: mince at 50 °F was told to have 2 of its 4 hours left."""
    answer = evening.ask(line)
    assert opens(answer, verdict), answer.headline
    assert "left of its" not in answer.headline or "38 F" in line


@pytest.mark.parametrize(
    "line", ["left the freezer door open for 3 hours", "fridge door was left open for 5 hours", "left the fridge open"]
)
def test_an_open_door_holds_nothing(evening: Evening, line: str) -> None:
    """Named after a fault: "yes, if it stayed shut" was said of a door that had stood open."""
    answer = evening.ask(line)
    assert answer.headline.startswith("Measure it")
    assert "40 °F (4 °C)" in answer.headline
    assert "ice crystals" in answer.headline or "fridge" in line


# ---- thawed meat: 1 to 2 days in the fridge (University of Illinois Extension), in the UK 24 hours (FSA)


@pytest.mark.parametrize(
    ("country", "days", "verdict"),
    [("us", 1, YES), ("us", 2, LAST), ("us", 3, NO), ("uk", 1, LAST), ("uk", 2, NO), ("ca", 2, LAST), ("ca", 3, NO)],
)
def test_how_long_thawed_meat_keeps(evening: Evening, country: str, days: int, verdict: tuple[str, ...]) -> None:
    """Named after a fault: mince thawed two days ago was told to keep "1 to 2 days more"."""
    answer = evening.ask(COUNTRIES[country], f"mince thawed in the fridge {days} days ago, still ok?")
    assert opens(answer, verdict), answer.headline
    assert "more" not in answer.headline


@pytest.mark.parametrize(
    ("days", "again"),
    [(0, "yes: thawed in the fridge"), (1, "yes"), (2, "yes"), (3, "no: thawed ground meat keeps 1 to 2")],
)
def test_freezing_thawed_meat_again(evening: Evening, days: int, again: str) -> None:
    ago = f" {days} days ago" if days else ""
    assert opens(evening.ask(f"can I refreeze mince thawed in the fridge{ago}"), (again,))


@pytest.mark.parametrize("way", ["in cold water", "in the microwave", "on the counter", "in hot water"])
def test_freezing_meat_again_that_thawed_otherwise(evening: Evening, way: str) -> None:
    for hours, verdict in ((1, "no: not raw. cook it first"), (2, "no: not raw. cook it first"), (3, "no: thawed")):
        assert opens(evening.ask(f"can I refreeze mince thawed {way}, it was out {hours} hours"), (verdict,))


@pytest.mark.parametrize(
    ("country", "mark"),
    [
        ("us", "160 °F (71 °C), with poultry 165 °F (74 °C)"),
        ("uk", "70 °C (158 °F) and hold it there for 2 min, with poultry 74 °C (165 °F)"),
        ("ca", "71 °C (160 °F), with poultry 74 °C (165 °F)"),
        ("au", "75 °C (167 °F), with poultry 75 °C (167 °F)"),
    ],
)
def test_cooked_first_means_the_countrys_own_figure(evening: Evening, country: str, mark: str) -> None:
    """Named after a fault: the US figure was told everywhere."""
    assert mark in evening.ask(COUNTRIES[country], "can I refreeze mince thawed in cold water").headline


# ---- thawing (USDA FSIS through University of Illinois Extension)


@pytest.mark.parametrize(
    ("pack", "low", "high"),
    [
        # a day for each 4 to 5 lb, a day at least, in half-days; a day more for what may be a thick block (1 kg and up)
        ("1 lb", 24, 24),
        ("999 g", 24, 24),
        ("1 kg", 24, 48),
        ("4 lb", 24, 48),
        ("5 lb", 24, 60),
        ("8 lb", 48, 72),
        ("10 lb", 48, 84),
        ("2 lb 50 mm thick", 24, 48),
        ("2 lb 51 mm thick", 24, 60),
    ],
)
def test_hours_in_the_fridge(evening: Evening, pack: str, low: float, high: float) -> None:
    figure = evening.ask(f"how long to thaw {pack} in the fridge").figures[0]
    assert (figure.low, figure.high, figure.unit) == (low, high, "hour")


@pytest.mark.parametrize(
    ("pack", "low", "high"),
    [("1 lb", 30, 60), ("2 lb", 75, 100), ("3 lb", 120, 140), ("4 lb", 120, 180), ("6 lb", 180, 260)],
)
def test_minutes_in_cold_water(evening: Evening, pack: str, low: float, high: float) -> None:
    """An hour for a pound, 2 to 3 hours for 3 to 4 lb, 30 minutes a pound at least."""
    figure = evening.ask(f"how long to thaw {pack} in cold water").figures[0]
    assert (figure.low, figure.high) == (pytest.approx(low), pytest.approx(high))


@pytest.mark.parametrize("pounds", [1, 2, 5])
def test_minutes_in_the_microwave(evening: Evening, pounds: int) -> None:
    """About 3 minutes a pound at half power: an extension page."""
    assert evening.ask(f"how long to thaw {pounds} lb in the microwave").figures[0].value == 3 * pounds


# ---- hot holding 140 °F (USDA FSIS), leftovers 165 °F, ice water 32 °F within 2 °F, bleach 1 tbsp a US gallon


@pytest.mark.parametrize(
    ("line", "verdict"),
    [
        *[(f"hold the burgers hot at {at}, ok?", YES) for at in ("140 F", "141 F", "60 C", "61 C")],
        *[(f"hold the burgers hot at {at}, ok?", NO) for at in ("139 F", "59 C", "120 F")],
        *[(f"thermometer reads {at} in ice water, ok?", YES) for at in ("30 F", "34 F", "32 F", "1 C", "-1 C")],
        *[(f"thermometer reads {at} in ice water, ok?", NO) for at in ("29 F", "35 F", "2 C", "-2 C")],
        *[(f"meat reads {at} before grinding, ok?", ("go on",)) for at in ("39 F", "30 F", "4 C")],
        *[(f"meat reads {at} before grinding, ok?", ("stop",)) for at in ("40 F", "41 F", "5 C")],
    ],
)
def test_other_readings(evening: Evening, line: str, verdict: tuple[str, ...]) -> None:
    assert opens(evening.ask(line), verdict)


@pytest.mark.parametrize(
    ("country", "heat"), [("us", (165, 74)), ("uk", (165, 74)), ("ca", (165, 74)), ("au", (165, 74))]
)
def test_leftovers(evening: Evening, country: str, heat: tuple[int, int]) -> None:
    assert pair(evening.ask(COUNTRIES[country], "how hot to reheat leftover burgers")) == heat


@pytest.mark.parametrize(
    ("water", "tablespoons", "shown"),
    [
        ("1 gallon", 1, "1 tbsp (15 mL)"),
        ("2 gallons", 2, "2 tbsp (30 mL)"),
        ("half a gallon", 0.5, "1 1/2 tsp (7 mL)"),
        ("1 quart", 0.25, "3/4 tsp (4 mL)"),
        ("1 litre", 1 / 3.785411784, "3/4 tsp (4 mL)"),
        ("4 litres", 4 / 3.785411784, "1 tbsp (16 mL)"),
        ("500 ml", 0.5 / 3.785411784, "1/2 tsp (2 mL)"),
    ],
)
def test_bleach(evening: Evening, water: str, tablespoons: float, shown: str) -> None:
    (figure,) = evening.ask(f"how much bleach for {water} of water").figures
    assert figure.value == pytest.approx(tablespoons)
    assert figure.shown == shown
    assert (figure.unit, figure.source) == ("tablespoon", "USDA FSIS")


@pytest.mark.parametrize(
    ("line", "words"),
    [
        # each was answered otherwise, and wrongly, before
        ("2 lb thawed by Sunday, when do I start", "move it to the fridge by the morning of sat 20 june"),
        ("10 lb in packs of 2 lb, how long to thaw in the fridge", "a pack of 2 lb"),
        ("frozen mince in a bowl of hot water, ok?", "no: never in hot or warm water"),
        ("frozen mince on the counter, ok?", "no: never on the counter"),
        ("can I refreeze mince thawed in the fridge on Monday", "no: thawed ground meat keeps 1 to 2 days"),
        ("how cold should the fridge be", "fridge: 40 °f (4 °c) or colder"),
        ("burgers cooked to 160 then left out 3 hours", "no: throw it away"),
        ("mince out 70 minutes on a hot day", "no: throw it away"),
        ("mince out overnight on a hot day", "no: throw it away"),
        ("is raw mince safe to eat", "not safe to eat or taste raw"),
    ],
)
def test_what_was_misread(evening: Evening, line: str, words: str) -> None:
    assert words in evening.ask(line).headline.lower()
