"""Every spoon weight and sodium figure of the seasonings against SR28's own files, and every way a row can be wrong."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pytest
from msgspec import Struct

from assistant import data
from assistant.data.seasonings import Seasoning, parse_seasonings
from assistant.errors import BadTable

SODIUM = "307"
US_CUP_ML = Fraction("236.588")  # NIST Handbook 44, Appendix C, to the third decimal
US_FLUID_OUNCE_ML = Fraction("29.5735")
EACH_WORDS: Mapping[str, str] = {
    "clove": "clove",
    "medium onion": "medium (2-1/2",
    "juice of one lemon": "lemon yields",
    "large egg, shelled": "large",
}
UNIT_WORDS: Mapping[str, tuple[str, ...]] = {
    "tsp": ("tsp",),
    "tbsp": ("tbsp", "tablespoon", "serving 1 tbsp", "envelope (1 tbsp)"),
    "cup": ("cup",),
    "fl_oz": ("fl oz",),
}


class SR28(Struct, frozen=True):
    """Weight rows (text and grams, one unit each) and sodium, by entry."""

    weights: Mapping[str, list[tuple[str, Fraction]]]
    sodium: Mapping[str, Fraction]


def _lines(name: str) -> Iterable[list[str]]:
    spec = find_spec("usda_nutrition")
    assert spec is not None
    assert spec.submodule_search_locations is not None
    folder = Path(next(iter(spec.submodule_search_locations))) / "data" / "sr28"
    for line in (folder / name).read_text(encoding="latin-1").splitlines():
        yield [cell.strip("~") for cell in line.split("^")]


@pytest.fixture(scope="module")
def sr28() -> SR28:
    weights: dict[str, list[tuple[str, Fraction]]] = {}
    for cells in _lines("WEIGHT.txt"):
        if Fraction(cells[2]) == 1:
            weights.setdefault(cells[0], []).append((cells[3], Fraction(cells[4])))
    sodium = {cells[0]: Fraction(cells[2]) for cells in _lines("NUT_DATA.txt") if cells[1] == SODIUM}
    return SR28(weights, sodium)


def _from_sr28() -> list[Seasoning]:
    return [seasoning for seasoning in data.seasonings().values() if seasoning.ndb]


@pytest.mark.parametrize("seasoning", _from_sr28(), ids=lambda seasoning: seasoning.key)
def test_weights_and_sodium_are_sr28s(sr28: SR28, seasoning: Seasoning) -> None:
    assert seasoning.sodium == sr28.sodium[seasoning.ndb]
    for measure, weight in seasoning.weights.items():
        if weight.derived:
            continue
        starts = (EACH_WORDS[seasoning.each_what],) if measure == "each" else UNIT_WORDS[measure]
        rows = [grams for text, grams in sr28.weights[seasoning.ndb] if text.startswith(starts)]
        assert weight.grams in rows
        assert weight.low == weight.grams == weight.high


@pytest.mark.parametrize(
    "seasoning", [row for row in _from_sr28() if row.density is not None], ids=lambda seasoning: seasoning.key
)
def test_density_is_the_cup_or_the_fluid_ounce_over_its_volume(seasoning: Seasoning) -> None:
    assert seasoning.density is not None
    by_cup = seasoning.weights["cup"].grams / US_CUP_ML if "cup" in seasoning.weights else None
    density = by_cup if by_cup is not None else seasoning.weights["fl_oz"].grams / US_FLUID_OUNCE_ML
    assert abs(density - seasoning.density) <= Fraction(1, 1000)


def test_water_is_a_gram_to_the_millilitre() -> None:
    (key,) = data.seasoning_names()["ice water"]
    assert data.seasonings()[key].density == 1


def test_a_missing_spoon_is_taken_from_the_other_and_says_so() -> None:
    sugar, honey = data.seasonings()["sugar"], data.seasonings()["honey"]
    assert (sugar.weights["tbsp"].grams, sugar.weights["tbsp"].derived) == (Fraction("12.6"), True)
    assert (honey.weights["tsp"].grams, honey.weights["tsp"].derived) == (Fraction(7), True)
    assert not sugar.weights["tsp"].derived


def test_what_is_not_from_sr28_shows_its_range_and_what_it_rests_on() -> None:
    for seasoning in data.seasonings().values():
        if seasoning.ndb or not seasoning.weights:
            continue
        assert seasoning.weights["tsp"].low < seasoning.weights["tsp"].high
        assert any(word in seasoning.source for word in ("memory", "no official source", "SR28"))


def test_kosher_salt_is_asked_about_because_crystals_differ_nearly_twofold() -> None:
    word = data.ambiguous_seasonings()["kosher salt"]
    assert word.ask
    flake, rolled = (data.seasonings()[key].weights["tsp"].grams for key in word.keys)
    assert (flake, rolled) == (Fraction("2.8"), Fraction("4.8"))


def test_chilli_powder_is_plain_chilli_except_in_the_united_states() -> None:
    word = data.ambiguous_seasonings()["chilli powder"]
    assert (word.default, word.country["us"]) == ("cayenne", "chili powder")


@pytest.mark.parametrize("name", ["pink salt", "curing salt", "cure no. 1", "cure #2", "saltpetre", "sodium nitrite"])
def test_cures_have_no_spoon_weight_anywhere(name: str) -> None:
    assert data.never_by_spoon()[name].rule
    assert name not in data.seasoning_names()


def test_pink_himalayan_salt_is_salt_and_no_cure() -> None:
    (key,) = data.seasoning_names()["pink himalayan salt"]
    assert data.seasonings()[key].salt
    assert "pink himalayan salt" not in data.never_by_spoon()


@pytest.mark.parametrize("name", ["rusk", "panko", "liquid smoke", "coarse sea salt"])
def test_known_things_without_a_figure_have_none(name: str) -> None:
    (key,) = data.seasoning_names()[name]
    assert not data.seasonings()[key].weights


@pytest.mark.parametrize(
    ("name", "allergens"),
    [
        ("worcestershire", {"fish", "barley"}),
        ("soy sauce", {"soy", "wheat"}),
        ("mustard powder", {"mustard"}),
        ("milk powder", {"milk"}),
        ("breadcrumbs", {"wheat"}),
        ("egg", {"egg"}),
        ("celery seed", {"celery"}),
    ],
)
def test_allergens(name: str, allergens: set[str]) -> None:
    (key,) = data.seasoning_names()[name]
    assert set(data.seasonings()[key].allergens) == allergens


def test_msg_sodium_is_that_of_the_monohydrate() -> None:
    # sodium 22.990, monosodium glutamate monohydrate C5H8NO4Na.H2O 187.13 g/mol
    sodium = data.seasonings()["msg"].sodium
    assert sodium is not None
    assert abs(sodium - Fraction("22.990") / Fraction("187.13") * 100_000) < 10


def test_every_name_is_lower_case_and_means_rows_that_exist() -> None:
    for name, keys in data.seasoning_names().items():
        assert name == name.lower()
        assert set(keys) <= data.seasonings().keys()


def test_no_name_is_both_a_seasoning_and_a_meat() -> None:
    assert not data.seasoning_names().keys() & data.cut_names().keys()


def test_every_row_has_a_source() -> None:
    assert all(seasoning.source for seasoning in data.seasonings().values())


def test_salt_levels_say_that_they_are_custom() -> None:
    burger = data.salt_levels()["burger"]
    assert (burger.low, burger.high) == (Fraction("0.75"), Fraction("1.25"))
    sausage = data.salt_levels()["fresh sausage"]
    assert (sausage.low, sausage.high) == (Fraction("1.5"), Fraction("2"))
    assert {level.source for level in data.salt_levels().values()} == {"common practice, no source"}


GOOD = "[[seasoning]]\nkey = 'a'\nndb = '02047'\ntsp = 6.0\n"
LEVEL = "[[salt_level]]\nkey = 'b'\nlow = 1\nhigh = 2\nsource = 's'\n"


@pytest.mark.parametrize(
    ("text", "key", "field"),
    [
        (GOOD + "colour = 'red'\n", "a", "colour"),
        (GOOD.replace("ndb = '02047'\n", ""), "a", "source"),
        (GOOD.replace("02047", "2047"), "a", "ndb"),
        (GOOD.replace("6.0", "-6.0"), "a", "tsp"),
        (GOOD.replace("6.0", "0.0"), "a", "tsp"),
        (GOOD + "tsp_low = 7\n", "a", "tsp"),
        (GOOD + "tsp_high = 5\n", "a", "tsp"),
        (GOOD + "cup_low = 5\n", "a", "cup"),
        (GOOD + "allergens = 'straw'\n", "a", "allergens"),
        (GOOD + "names = 'a'\n", "a", "names"),
        (GOOD + GOOD, "a", "key"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'z'\ndefault = 'a'\n", "w", "keys"),
        (GOOD + "[[curing_salt]]\nkey = 'c'\nnames = 'a'\nrule = 'weigh'\n", "c", "names"),
        (GOOD + "[[curing_salt]]\nkey = 'c'\nnames = 'd'\nrule = 'weigh'\ntsp = 6\n", "c", "tsp"),
        (LEVEL.replace("high = 2", "high = 0.5"), "b", "low"),
        (LEVEL.replace("source = 's'\n", ""), "b", "source"),
    ],
)
def test_bad_row_is_refused_by_name(text: str, key: str, field: str) -> None:
    with pytest.raises(BadTable) as refusal:
        parse_seasonings(text, "test.toml")
    assert (refusal.value.file, refusal.value.key, refusal.value.field) == ("test.toml", key, field)
    assert refusal.value.problem
