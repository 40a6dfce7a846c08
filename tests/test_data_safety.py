"""Every figure of the safety file typed again from what its source says, and every way a row can be wrong."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from assistant.data.safety import CAUTION_MOST, parse_safety, safety_book
from assistant.errors import BadTable

BOOK = safety_book()

ENDPOINTS: dict[str, object] = {
    # FoodSafety.gov chart: ground meat and mixtures 160 F, ground poultry 165 F, whole cuts 145 F and 3 minutes' rest
    "us_ground_red": ("us", "ground", 160, 71, 0, 0),
    "any_ground_poultry": ("any", "ground", 165, 74, 0, 0),
    "us_whole_red": ("us", "whole", 145, 63, 0, 3),
    # FSIS, farmed game 160 F; Government of Canada chart, ground game 74 C
    "us_ground_game": ("us", "ground", 160, 71, 0, 0),
    # FDA Food Code 2022, 3-401.11(A)(3): stuffed meat 74 C (165 F)
    "any_stuffed": ("any", "ground", 165, 74, 0, 0),
    "any_ground_hunted": ("any", "ground", 165, 74, 0, 0),
    # Food Standards Agency: 70 C for 2 minutes
    "uk_ground": ("uk", "ground", 158, 70, 120, 0),
    # Food Safety Authority of Ireland: 75 C (or 70 C for 2 minutes)
    "ie_ground": ("ie", "ground", 167, 75, 0, 0),
    # Government of Canada chart: ground beef and pork 71 C, ground poultry 74 C, medium rare cuts 63 C, pork cuts 71 C
    "ca_ground_red": ("ca", "ground", 160, 71, 0, 0),
    "ca_ground_game_poultry": ("ca", "ground", 165, 74, 0, 0),
    "ca_whole_red": ("ca", "whole", 145, 63, 0, 0),
    "ca_whole_pork": ("ca", "whole", 160, 71, 0, 0),
    # FSIC: 75 C for minced meat and poultry, 63 C for whole cuts; MPI: 75 C
    "au_ground": ("au", "ground", 167, 75, 0, 0),
    "au_whole_red": ("au", "whole", 145, 63, 0, 0),
    "nz_ground": ("nz", "ground", 167, 75, 0, 0),
}

COMBINATIONS: dict[str, object] = {
    # FDA Food Code 2022, 3-401.11
    "food_code_145": ("licensed kitchen", 145, 63, 180),
    "food_code_150": ("licensed kitchen", 150, 66, 60),
    "food_code_155": ("licensed kitchen", 155, 68, 17),
    "food_code_158": ("licensed kitchen", 158, 70, 0),
    "food_code_poultry": ("licensed kitchen", 165, 74, 0),
    # Food Standards Agency list of equals
    "uk_70": ("uk", 158, 70, 120),
    "uk_75": ("uk", 167, 75, 30),
    "uk_80": ("uk", 176, 80, 6),
    "ie_70": ("ie", 158, 70, 120),
}

TEMPERATURES: dict[str, object] = {
    "fresh_sausage": (160, 71),  # FSIS, Sausages and Food Safety
    "poultry_sausage": (165, 74),
    "egg_dishes": (160, 71),  # FoodSafety.gov chart
    "leftovers": (165, 74),
    "wild_game_licensed": (165, 74),  # Food Code
    "canada_whole_bird": (180, 82),  # Health Canada, 82 C
    "hot_hold_licensed": (135, 57),  # Food Code, 135 F and 41 F; cooling by way of 70 F
    "cold_hold_licensed": (41, 5),
    "cool_first_stage_licensed": (70, 21),
    "danger_low": (40, 4),  # FSIS, 40 to 140 F, hot day above 90 F, hold at 40 or 140
    "danger_high": (140, 60),
    "hot_day": (90, 32),
    "hot_hold": (140, 60),
    "fridge_max": (40, 4),  # Cold Food Storage Chart
    "freezer_max": (0, -18),
    "fridge_max_uk": (41, 5),  # 5 C
    "fridge_max_au": (41, 5),
    "browns_early_low": (135, 57),  # J. Food Protection 63:1389, 135 to 150 F
    "browns_early_high": (150, 66),
    "ice_point": (32, 0),  # University of Minnesota Extension
    "boiling_point": (212, 100),
    "grind_target_low": (28, -2),  # trade, 28 to 34 F, stop above 40 F
    "grind_target_high": (34, 1),
    "grind_stop": (40, 4),
    "sausage_grind_low": (32, 0),  # sausage handbook, 32 to 35 F
    "sausage_grind_high": (35, 2),
    "eu_grind_red_max": (45, 7),  # Regulation (EC) 853/2004: 7 C, poultry 4 C, 2 C once minced
    "eu_grind_poultry_max": (39, 4),
    "eu_ground_after_max": (36, 2),
    "us_purchase_grind_max": (50, 10),  # purchase specification, 50 F
}

FIGURES: dict[str, tuple[str, str | None, str]] = {
    "out_of_fridge": ("2", None, "hour"),  # FSIS: two hours, one above 90 F, doubling in as little as 20 minutes
    "out_of_fridge_hot_day": ("1", None, "hour"),
    "doubling": ("20", None, "minute"),
    "firm_cubes": ("30", "60", "minute"),  # sausage book, 30 to 60 minutes; cubes of 1 in
    "cube_side": ("1", None, "inch"),
    "processor_cubes_firm": ("15", "30", "minute"),  # cookery books: 1/2 to 3/4 lb, 10 to 20 pulses, 15 to 30 minutes
    "processor_batch": ("0.5", "0.75", "lb"),
    "processor_pulses": ("10", "20", "count"),
    "grinder_lot": ("2", "3", "lb"),  # custom
    "power_cut_fridge": ("4", None, "hour"),  # FSIS and FDA
    "power_cut_freezer_full": ("48", None, "hour"),
    "power_cut_freezer_half": ("24", None, "hour"),
    "leftovers_chill_within": ("2", None, "hour"),  # University of Illinois Extension
    "leftovers_depth": ("2", None, "inch"),
    "cool_first_stage_licensed": ("2", None, "hour"),  # Food Code: 135 to 70 F in 2 hours, 41 F in 6 in all
    "cool_in_all_licensed": ("6", None, "hour"),
    "brown_before_safe": ("25", None, "%"),  # Clemson: 1 in 4
    "dial_depth": ("2", None, "inch"),  # University of Minnesota Extension
    "digital_depth": ("0.5", None, "inch"),
    "thermometer_tolerance": ("2", None, "delta_degF"),
    "instant_read_settles": ("16", "55", "second"),  # Food Protection Trends 2014
    "handwash": ("20", None, "second"),
    "bleach_per_us_gallon": ("1", None, "tablespoon"),  # FSIS
    "bleach_per_us_quart": ("0.75", None, "teaspoon"),
    "bleach_per_750_ml": ("5", None, "mL"),  # Canadian Public Health Association
    "bleach_ppm": ("204", "321", "ppm"),
    "no_rinse_ppm_max": ("200", None, "ppm"),
    "food_code_ppm": ("50", "100", "ppm"),  # Food Code 4-703.11
    "food_code_contact": ("7", "10", "second"),
    "hus_children": ("7", None, "1 in"),  # CDC: about 1 in 7
    "nitrite_bacon_pumped": ("120", None, "ppm"),  # 9 CFR 424.22(b)
    "nitrite_bacon_dry_cured": ("200", None, "ppm"),
    "nitrite_ground_max": ("156", None, "ppm"),
    "curing_salt_1_nitrite": ("6.25", None, "%"),
    "freeze_within": ("24", None, "hour"),  # West Virginia University Extension
    "freeze_at_once_per_cubic_foot": ("2", "3", "lb"),
    "uk_fully_thawed_cook_within": ("24", None, "hour"),  # Food Standards Agency
    "thaw_fridge_day_pounds": ("4", "5", "lb"),  # The Big Thaw: 24 hours for each 4 to 5 lb
    "thaw_fridge_least": ("24", None, "hour"),
    "thaw_block_thick": ("50", None, "mm"),
    "thaw_water_per_pound": ("30", None, "minute"),  # The Big Thaw: an hour a pound, 2 to 3 hours for 3 to 4 lb
    "thaw_water_one_pound": ("60", None, "minute"),
    "thaw_water_three_to_four_pounds": ("120", "180", "minute"),
    "thaw_microwave_per_pound": ("3", None, "minute"),
    "cook_from_frozen_extra": ("50", None, "%"),
    "thawed_keeps_ground": ("1", "2", "day"),
    "thawed_keeps_cuts": ("3", "5", "day"),
}

STORAGE = {
    # Cold Food Storage Chart: days at 40 F, months at 0 F
    "ground meat": (1, 2, 3, 4),
    "steaks": (3, 5, 4, 12),
    "chops": (3, 5, 4, 12),
    "roasts": (3, 5, 4, 12),
    "poultry pieces": (1, 2, 9, 9),
    "whole poultry": (1, 2, 12, 12),
    "bacon": (7, 7, 1, 1),
    "raw sausage": (1, 2, 1, 2),
    "cooked patties": (3, 4, 2, 3),
    "cooked chicken patties": (3, 4, 1, 3),
    "offal": (1, 2, 3, 4),
    "raw fat": (3, 5, 4, 6),  # custom
}

THAW = {
    # The Big Thaw: allowed, cook at once, refreeze raw, change the water
    "fridge": (True, False, True, None),
    "cold water": (True, True, False, 30),
    "microwave": (True, True, False, None),
    "counter": (False, False, False, None),
    "hot water": (False, False, False, None),
    "cook from frozen": (True, True, False, None),
}

TRICHINA: dict[str, object] = {
    # 9 CFR 318.10, tables for up to 6 in and for 6 to 27 in
    "to_6_in_5_f": (6, 5, 20),
    "to_6_in_minus_10_f": (6, -10, 10),
    "to_6_in_minus_20_f": (6, -20, 6),
    "to_27_in_5_f": (27, 5, 30),
    "to_27_in_minus_10_f": (27, -10, 20),
    "to_27_in_minus_20_f": (27, -20, 12),
}

THAW_MODEL: list[object] = [(20, 26, 54), (25, 35, 73), (35, 35, 114), (50, 47, 189), (65, 63, 286)]

PATTY_FREEZE: dict[object, object] = {
    # thickness mm, stack, freezer C: hours to -10 C in the middle, computed
    (13, 1, -18): (2.3, 2.9, 4.2),
    (13, 1, -23): (1.7, 2.2, 3.2),
    (13, 2, -18): (3.8, 4.9, 7.1),
    (13, 2, -23): (2.9, 3.7, 5.3),
    (13, 4, -18): (5.9, 7.5, 10.8),
    (13, 4, -23): (4.5, 5.7, 8.1),
    (13, 6, -18): (7.2, 9.2, 13.1),
    (13, 6, -23): (5.5, 6.9, 9.8),
    (20, 1, -18): (3.2, 4.1, 5.9),
    (20, 1, -23): (2.4, 3.1, 4.4),
    (20, 2, -18): (5.1, 6.5, 9.3),
    (20, 2, -23): (3.9, 4.9, 7.0),
    (20, 4, -18): (7.3, 9.3, 13.2),
    (20, 4, -23): (5.6, 7.0, 9.9),
    (20, 6, -18): (8.6, 10.8, 15.3),
    (20, 6, -23): (6.6, 8.2, 11.5),
}

TOPICS = {
    "allergen",
    "at_risk",
    "canning",
    "clean_grinder",
    "colour",
    "cook_temperature",
    "cross_contamination",
    "cured_bacon",
    "curing_salt",
    "fridge_temp",
    "grinder_hands",
    "hold_hot",
    "hot_day",
    "keep_cold",
    "leftovers",
    "local_rules",
    "part_cook",
    "power_cut",
    "processor",
    "raw_pork_game",
    "raw_service",
    "refreeze",
    "smell",
    "storage",
    "thaw_cook_at_once",
    "thaw_counter",
    "thermometer",
}


def test_endpoints_are_those_of_their_authorities() -> None:
    found = {
        row.key: (row.country, row.form, row.at.f, row.at.c, row.hold_seconds, row.rest_minutes)
        for row in BOOK.endpoints.values()
    }
    assert found == ENDPOINTS


def test_combinations_are_those_of_the_codes() -> None:
    found = {row.key: (row.place, row.at.f, row.at.c, row.seconds) for row in BOOK.combinations.values()}
    assert found == COMBINATIONS


def test_other_temperatures() -> None:
    assert {row.key: (row.at.f, row.at.c) for row in BOOK.temperatures.values()} == TEMPERATURES


def test_times_counts_and_mixes() -> None:
    wanted = {
        key: (Fraction(value), None if high is None else Fraction(high), unit)
        for key, (value, high, unit) in FIGURES.items()
    }
    assert {row.key: (row.value, row.high, row.unit) for row in BOOK.figures.values()} == wanted


def test_bleach_strength_follows_from_one_part_in_257() -> None:
    """A US gallon is 256 tablespoons, so one more is 1 part in 257; household bleach holds 5.25 to 8.25 %."""
    row = BOOK.figures["bleach_ppm"]
    assert [round(Fraction(percent) * 10_000 / 257) for percent in ("5.25", "8.25")] == [row.value, row.high]


def test_storage_is_the_chart() -> None:
    found = {row.key: (row.days_low, row.days_high, row.months_low, row.months_high) for row in BOOK.storage.values()}
    assert found == STORAGE


def test_thawing_permissions() -> None:
    found = {
        row.key: (row.allowed, row.cook_at_once, row.refreeze_raw, row.change_water_minutes)
        for row in BOOK.thaw.values()
    }
    assert found == THAW


def test_trichina_freezing() -> None:
    assert {row.key: (row.thickness_in, row.at.f, row.days) for row in BOOK.trichina.values()} == TRICHINA


def test_thawing_model() -> None:
    assert [(row.thickness_mm, row.fridge_hours, row.water_minutes) for row in BOOK.thaw_model] == THAW_MODEL


def test_freezing_model() -> None:
    found: dict[object, object] = {
        (row.thickness_mm, row.stack, row.at.c): tuple(map(float, row.hours)) for row in BOOK.patty_freeze
    }
    assert found == PATTY_FREEZE


def test_plates_are_exact_inches() -> None:
    for row in BOOK.plates.values():
        if row.mm is not None:
            assert row.mm == Fraction(row.key.removesuffix(" in")) * Fraction("25.4")
    assert [key for key, row in BOOK.plates.items() if row.mm is None] == ["kidney plate"]
    assert len(BOOK.plates) == 7


def test_grinder_sizes() -> None:
    found = {row.key: int(row.mm) for row in BOOK.grinder_sizes.values()}
    assert found == {"no. 5": 54, "no. 8": 62, "no. 12": 70, "no. 22": 82, "no. 32": 100}


def test_people_at_risk_are_the_four_groups() -> None:
    """FoodSafety.gov and FDA: under 5, 65 and over, pregnancy, weak immune system."""
    assert set(BOOK.at_risk) == {"young children", "older adults", "pregnancy", "weak immune system"}
    assert "under 5" in BOOK.at_risk["young children"].who
    assert "65" in BOOK.at_risk["older adults"].who


def test_the_nine_american_allergens() -> None:
    wanted = {"milk", "egg", "fish", "crustacean shellfish", "tree nuts", "peanut", "wheat", "soy", "sesame"}
    assert set(BOOK.allergens["us"].names) == wanted
    assert BOOK.holds["soy sauce"].names == ("soy", "wheat")


def test_every_topic_of_reminder_is_there() -> None:
    assert {row.topic for row in BOOK.cautions.values()} == TOPICS


@pytest.mark.parametrize("key", sorted(BOOK.cautions))
def test_a_reminder_is_short_and_gives_both_scales(key: str) -> None:
    text = BOOK.cautions[key].text
    assert len(text) <= CAUTION_MOST
    fahrenheit = [int(figure) for figure in re.findall(r"(-?\d+) °F", text)]
    celsius = [int(figure) for figure in re.findall(r"(-?\d+) °C", text)]
    assert len(fahrenheit) == len(celsius)
    for f, c in zip(fahrenheit, celsius, strict=True):
        assert abs((f - 32) * 5 / 9 - c) <= 0.5


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("cook_temperature.red", ["160 °F", "71 °C", "thermometer"]),
        ("cook_temperature.poultry", ["165 °F", "74 °C"]),
        ("cook_temperature.hunted", ["165 °F", "74 °C"]),
        ("cook_temperature.stuffed", ["165 °F", "74 °C"]),
        ("cook_temperature.uk", ["70 °C", "2 minutes"]),
        ("keep_cold", ["40 °F", "4 °C", "2 hours", "1 hour", "90 °F", "32 °C"]),
        ("at_risk", ["under 5", "65", "regnan", "immune", "160 °F"]),
        ("colour", ["thermometer", "160 °F"]),
        ("curing_salt", ["nitrite", "tested recipe", "weigh", "label"]),
        ("grinder_hands", ["pusher", "unplug", "fingers"]),
        ("part_cook", ["straight to the hot grill", "160 °F"]),
        ("power_cut", ["4 hours", "48", "24"]),
        ("canning", ["no canning times", "tested guide"]),
        ("fridge_temp", ["40 °F"]),
    ],
)
def test_a_reminder_says_what_it_must(key: str, words: list[str]) -> None:
    text = BOOK.cautions[key].text
    lowered = text.lower()
    for word in words:
        assert word.lower() in lowered


def test_no_reminder_gives_a_dose_of_nitrite() -> None:
    texts = [row.text for row in BOOK.cautions.values()] + [row.text for row in BOOK.rules.values()]
    assert not [text for text in texts if "nitrite" in text.lower() and re.search(r"\d", text)]


def test_rules_by_topic() -> None:
    assert {rule.key for rule in BOOK.rules_on("clean")} == {
        "clean_order",
        "clean_bleach",
        "clean_never_mix",
        "clean_dishwasher",
    }
    assert BOOK.rules_on("nothing of the kind") == ()


GOOD = """
[[temperature]]
key = "hot"
at = "160 F / 71 C"
source = "an agency"
checked = "from memory"
"""


def test_a_small_file_is_read() -> None:
    assert parse_safety(GOOD).temperatures["hot"].at.f == 160


@pytest.mark.parametrize(
    ("before", "after", "field"),
    [
        ('"160 F / 71 C"', '"160 F / 74 C"', "at"),
        ('"160 F / 71 C"', '"160"', "at"),
        ('checked = "from memory"', 'checked = "probably"', "checked"),
        ('checked = "from memory"', "", "checked"),
        ('source = "an agency"', "", "source"),
        ('source = "an agency"', 'source = "an agency"\nmore = "x"', "more"),
        ('key = "hot"', "", "key"),
    ],
)
def test_a_bad_temperature_row_names_its_field(before: str, after: str, field: str) -> None:
    with pytest.raises(BadTable) as fault:
        parse_safety(GOOD.replace(before, after))
    assert fault.value.field == field


STORED = """
[[storage]]
key = "meat"
names = "beef"
days_low = 1
days_high = 2
months_low = 3
months_high = 4
source = "a chart"
checked = "found: a chart"
"""


@pytest.mark.parametrize(
    ("text", "field"),
    [
        (STORED.replace("days_high = 2", "days_high = 0"), "days_high"),
        (STORED.replace("days_low = 1", "days_low = 1.5"), "days_low"),
        (STORED.replace("days_low = 1", "days_low = -1"), "days_low"),
        (STORED.replace('"beef"', '"Beef"'), "names"),
        (STORED + STORED.replace('"meat"', '"other"'), "names"),
        (STORED + STORED, "key"),
        ('[[figure]]\nkey = "a"\nvalue = 3\nhigh = 2\nunit = "hour"\nsource = "s"\nchecked = "computed"', "high"),
        (f'[[caution]]\nkey = "a"\ntext = "{"x" * 161}"\nsource = "s"', "text"),
        (
            '[[patty_freeze]]\nkey = "a"\nthickness_mm = 1\nstack = 1\nat = "0 F / -18 C"\nquick_hours = 3\n'
            'middle_hours = 2\nslow_hours = 4\nsource = "s"\nchecked = "computed"',
            "middle_hours",
        ),
        (
            '[[endpoint]]\nkey = "a"\ncountry = "xx"\nform = "ground"\nspecies = "beef"\nat = "160 F / 71 C"\n'
            'source = "s"\nchecked = "computed"',
            "country",
        ),
    ],
)
def test_other_bad_rows_name_their_field(text: str, field: str) -> None:
    with pytest.raises(BadTable) as fault:
        parse_safety(text)
    assert fault.value.field == field
