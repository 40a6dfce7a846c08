"""Every figure of the cuts file against SR28's own files, and every way a row can be wrong."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pytest
from msgspec import Struct

from assistant import data
from assistant.data.cuts import CutRow, parse_cuts, spread_half
from assistant.data.tables import exact
from assistant.errors import BadTable

WATER, PROTEIN, FAT, SODIUM = "255", "203", "204", "307"
ROUNDING = Fraction(5, 1000)  # figures carry two decimals

SPECIES_WORDS: Mapping[str, tuple[str, ...]] = {
    "beef": ("beef",),
    "pork": ("pork", "lard", "bacon", "sausage"),
    "lamb": ("lamb", "mutton"),
    "veal": ("veal",),
    "bison": ("bison",),
    "venison": ("deer",),
    "elk": ("elk",),
    "goat": ("goat",),
    "wild boar": ("boar",),
    "chicken": ("chicken",),
    "turkey": ("turkey",),
}


class Figure(Struct, frozen=True):
    value: Fraction
    low: Fraction | None
    high: Fraction | None


class SR28(Struct, frozen=True):
    """What the tests need of SR28: descriptions, refuse percent and text, and the four nutrients."""

    described: Mapping[str, str]
    refuse: Mapping[str, tuple[str, str]]
    figures: Mapping[tuple[str, str], Figure]

    def mean(self, entries: Iterable[str], nutrient: str) -> Fraction:
        values = [self.figures[entry, nutrient].value for entry in entries]
        return sum(values, Fraction(0)) / len(values)

    def ends(self, entries: Iterable[str]) -> tuple[Fraction, Fraction]:
        """The lowest and highest fat of the entries and of the samples they report."""
        found: list[Fraction] = []
        for entry in entries:
            figure = self.figures[entry, FAT]
            found += [end for end in (figure.value, figure.low, figure.high) if end is not None]
        return min(found), max(found)


def _lines(name: str) -> Iterable[list[str]]:
    spec = find_spec("usda_nutrition")
    assert spec is not None
    assert spec.submodule_search_locations is not None
    folder = Path(next(iter(spec.submodule_search_locations))) / "data" / "sr28"
    for line in (folder / name).read_text(encoding="latin-1").splitlines():
        yield [cell.strip("~") for cell in line.split("^")]


@pytest.fixture(scope="module")
def sr28() -> SR28:
    described: dict[str, str] = {}
    refuse: dict[str, tuple[str, str]] = {}
    for cells in _lines("FOOD_DES.txt"):
        described[cells[0]] = cells[2]
        refuse[cells[0]] = (cells[8], cells[7])
    wanted = {entry for cut in data.cuts().values() for entry in (*cut.ndb, *cut.ndb_bought, *cut.ndb_lean)}
    wanted |= {"13019", "23483", "13023", "23603", "10006", "10072", "17005", "17003", "23296", "23436"}
    wanted |= {"23224", "23225", "23226"}
    figures = {
        (cells[0], cells[1]): Figure(*(Fraction(cells[place]) if cells[place] else None for place in (2, 10, 11)))  # type: ignore[arg-type]
        for cells in _lines("NUT_DATA.txt")
        if cells[0] in wanted and cells[1] in (WATER, PROTEIN, FAT, SODIUM)
    }
    return SR28(described, refuse, figures)


def _from_sr28() -> list[CutRow]:
    return [cut for cut in data.cuts().values() if cut.ndb]


def test_there_are_well_over_a_hundred_cuts() -> None:
    assert len(data.cuts()) >= 150
    assert len(data.cut_names()) >= 1000


@pytest.mark.parametrize("cut", _from_sr28(), ids=lambda cut: cut.key)
def test_figures_are_the_means_of_their_entries(sr28: SR28, cut: CutRow) -> None:
    assert abs(sr28.mean(cut.ndb, FAT) - cut.fat) <= ROUNDING
    for nutrient, figure in ((WATER, cut.water), (PROTEIN, cut.protein), (SODIUM, cut.sodium)):
        if figure is None:
            assert any((entry, nutrient) not in sr28.figures for entry in cut.ndb)
        else:
            assert abs(sr28.mean(cut.ndb, nutrient) - figure) <= ROUNDING
    if cut.ndb_lean:
        assert cut.lean_only is not None
        assert abs(sr28.mean(cut.ndb_lean, FAT) - cut.lean_only) <= ROUNDING
    else:
        assert cut.lean_only is None


@pytest.mark.parametrize("cut", _from_sr28(), ids=lambda cut: cut.key)
def test_range_is_that_of_the_entries_as_bought(sr28: SR28, cut: CutRow) -> None:
    low, high = sr28.ends(cut.ndb_bought)
    low, high = min(low, cut.fat), max(high, cut.fat)  # a mean of two may round past its own entry
    if cut.spread:
        half = spread_half(cut.fat)
        low, high = min(low, cut.fat - half), max(high, cut.fat + half)
    assert (cut.low, cut.high) == (low, high)


@pytest.mark.parametrize("cut", _from_sr28(), ids=lambda cut: cut.key)
def test_entries_are_raw_and_of_the_species(sr28: SR28, cut: CutRow) -> None:
    words = SPECIES_WORDS.get(cut.species, (cut.species,))
    for entry in (*cut.ndb, *cut.ndb_bought, *cut.ndb_lean):
        description = sr28.described[entry].lower()
        assert any(word in description for word in words)
        assert "cooked" not in description
        if cut.kind not in ("fat", "cured", "seasoned"):
            assert "raw" in description or "unprepared" in description


@pytest.mark.parametrize("cut", [cut for cut in _from_sr28() if cut.bone is not None], ids=lambda cut: cut.key)
def test_bone_is_sr28s_refuse_or_a_part_of_it_that_it_names(sr28: SR28, cut: CutRow) -> None:
    refuse, what = sr28.refuse[cut.ndb[0]]
    assert cut.bone is not None
    assert Fraction(refuse) == cut.bone or f"{int(cut.bone)}%" in what
    assert cut.bone_what


@pytest.mark.parametrize("cut", _from_sr28(), ids=lambda cut: cut.key)
def test_fat_water_and_protein_leave_room_for_little_else(cut: CutRow) -> None:
    assert cut.water is not None
    assert cut.protein is not None
    holds_more = cut.salted or cut.key in ("beef liver", "beef tongue")  # salt and sugar; glycogen
    assert (93 if holds_more else 96) <= cut.fat + cut.water + cut.protein <= 102


@pytest.mark.parametrize(
    ("key", "share", "share_low", "share_high", "fat_entry", "lean_entry"),
    [
        ("beef trim", "0.5", "0.25", "0.75", "13019", "23483"),
        ("brisket trim", "0.6", "0.4", "0.9", "13019", "13023"),
        ("chuck trim", "0.4", "0.2", "0.6", "13019", "23603"),
        ("pork trim", "0.5", "0.25", "0.75", "10006", "10072"),
        ("lamb trim", "0.5", "0.25", "0.75", "17005", "17003"),
    ],
)
def test_trim_is_its_share_of_visible_fat_and_the_rest_lean(
    sr28: SR28, key: str, share: str, share_low: str, share_high: str, fat_entry: str, lean_entry: str
) -> None:
    cut = data.cuts()[key]
    fat, lean = sr28.figures[fat_entry, FAT].value, sr28.figures[lean_entry, FAT].value
    for end, part in ((cut.fat, share), (cut.low, share_low), (cut.high, share_high)):
        mixed = Fraction(part) * fat + (1 - Fraction(part)) * lean
        assert abs(mixed - end) <= ROUNDING
    for nutrient, figure in ((WATER, cut.water), (PROTEIN, cut.protein), (SODIUM, cut.sodium)):
        of_fat, of_lean = sr28.figures[fat_entry, nutrient].value, sr28.figures[lean_entry, nutrient].value
        assert figure is not None
        assert abs(Fraction(share) * of_fat + (1 - Fraction(share)) * of_lean - figure) <= ROUNDING
    assert fat_entry in cut.source
    assert lean_entry in cut.source
    assert "common practice, no source" in cut.source


def test_fat_cap_is_nine_tenths_visible_fat(sr28: SR28) -> None:
    cap = data.cuts()["beef fat cap"]
    mixed = Fraction(9, 10) * sr28.figures["13019", FAT].value + Fraction(1, 10) * sr28.figures["23483", FAT].value
    assert abs(mixed - cap.fat) <= ROUNDING
    assert (cap.low, cap.high) == (sr28.figures["23296", FAT].value, sr28.figures["23436", FAT].value)


def test_hanger_is_the_outside_skirt_beside_it(sr28: SR28) -> None:
    hanger = data.cuts()["beef hanger"]
    assert hanger.fat == sr28.figures["23224", FAT].value
    assert (hanger.low, hanger.high) == sr28.ends(["23224", "23225", "23226"])


def test_every_row_has_a_source_and_a_range_around_its_figure() -> None:
    for cut in data.cuts().values():
        assert cut.source
        assert 0 <= cut.low <= cut.fat <= cut.high <= 100


def test_every_name_is_lower_case_and_means_rows_that_exist() -> None:
    for name, keys in data.cut_names().items():
        assert name == name.lower()
        assert set(keys) <= data.cuts().keys()
        assert (len(keys) > 1) <= (name in data.ambiguous())


def test_no_word_is_both_absent_and_present() -> None:
    assert not data.absent().keys() & data.cut_names().keys()
    assert {key for key in data.absent().values() if key} <= data.cuts().keys()


def test_ambiguous_words_ask_a_question_or_say_what_they_took() -> None:
    for word in data.ambiguous().values():
        assert word.question if word.ask else word.note
        assert set(word.country.values()) <= data.cuts().keys()


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("topside", "beef top round"),
        ("silverside", "beef bottom round"),
        ("gravy beef", "beef shank"),
        ("oyster blade", "beef top blade"),
        ("bolar blade", "beef shoulder clod"),
        ("pork collar", "pork butt"),
        ("hand and spring", "pork picnic"),
        ("fatback", "pork backfat"),
        ("deer", "venison"),
        ("hamburger meat", "ground beef 80/20"),
    ],
)
def test_trade_words_of_three_countries(name: str, key: str) -> None:
    assert data.cut_names()[name] == (key,)


def test_sirloin_is_read_by_country() -> None:
    sirloin = data.ambiguous()["sirloin"]
    assert (sirloin.default, sirloin.ask) == ("beef top sirloin", False)
    assert sirloin.country["uk"] == sirloin.country["au"] == "beef strip loin"


def test_shoulder_needs_an_animal() -> None:
    shoulder = data.ambiguous()["shoulder"]
    assert (shoulder.default, shoulder.ask) == ("", True)


@pytest.mark.parametrize(
    ("fat", "half"),
    [("20", "3.64"), ("94", "1.092"), ("2", "1"), ("0.74", "0.74"), ("100", "0")],
)
def test_spread_is_of_the_scarcer_part_and_stays_inside(fat: str, half: str) -> None:
    assert spread_half(Fraction(fat)) == Fraction(half)


@pytest.mark.parametrize("text", ["15.7", "0.05", "100.0", "-2.5", "1e2", "1_0.5"])
def test_decimals_are_read_exactly(text: str) -> None:
    assert exact(text) == Fraction(text)


GOOD = "[[cut]]\nkey = 'a'\nspecies = 'beef'\nfat = 10.5\nndb = '13815'\n"


@pytest.mark.parametrize(
    ("text", "key", "field"),
    [
        (GOOD + "colour = 'red'\n", "a", "colour"),
        (GOOD.replace("ndb = '13815'\n", ""), "a", "source"),
        (GOOD.replace("10.5", "100.5"), "a", "fat"),
        (GOOD.replace("10.5", "-0.5"), "a", "fat"),
        (GOOD.replace("10.5", "nan"), "", ""),
        (GOOD.replace("10.5", "true"), "a", "fat"),
        (GOOD.replace("fat = 10.5\n", ""), "a", "fat"),
        (GOOD.replace("'beef'", "''"), "a", "species"),
        (GOOD.replace("'beef'", "3"), "a", "species"),
        (GOOD + "low = 11\n", "a", "low"),
        (GOOD + "high = 10\n", "a", "high"),
        (GOOD + "lean_only = 11\n", "a", "lean_only"),
        (GOOD + "kind = 'fish'\n", "a", "kind"),
        (GOOD + "spread = 1\n", "a", "spread"),
        (GOOD + "lean = '1381'\n", "a", "lean"),
        (GOOD + "names = 'x; ; y'\n", "a", "names"),
        (GOOD + "names = 'Chuck'\n", "a", "names"),
        (GOOD + "names = 'x'\n" + GOOD.replace("'a'", "'b'") + "names = 'x'\n", "b", "names"),
        (GOOD + GOOD, "a", "key"),
        (GOOD.replace("key = 'a'\n", ""), "cut 1", "key"),
        ("cut = 3\n", "cut", ""),
        ("cut = [3]\n", "cut 1", ""),
        ("other = 3\n", "other", ""),
        ("cut = ", "", ""),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a; z'\ndefault = 'a'\n", "w", "keys"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a'\ndefault = 'z'\n", "w", "default"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a'\n", "w", "default"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a'\nask = true\n", "w", "question"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a'\ndefault = 'a'\ncountry = { fr = 'a' }\n", "w", "country"),
        (GOOD + "[[ambiguous]]\nword = 'w'\nkeys = 'a'\ndefault = 'a'\ncountry = 3\n", "w", "country"),
        (GOOD + "[[ambiguous]]\nword = 'a'\nkeys = 'a'\ndefault = 'a'\n", "a", "names"),
        (GOOD + "[[absent]]\nname = 'a'\n", "a", "name"),
        (GOOD + "[[absent]]\nname = 'n'\nclosest = 'z'\n", "n", "closest"),
    ],
)
def test_bad_row_is_refused_by_name(text: str, key: str, field: str) -> None:
    with pytest.raises(BadTable) as refusal:
        parse_cuts(text, "test.toml")
    assert (refusal.value.file, refusal.value.key, refusal.value.field) == ("test.toml", key, field)
    assert refusal.value.problem


def test_good_row_is_read() -> None:
    cut = parse_cuts(GOOD).cuts["a"]
    assert (cut.fat, cut.low, cut.high, cut.kind) == (Fraction(21, 2), Fraction(21, 2), Fraction(21, 2), "cut")
    assert not cut.cured
    assert not cut.salted
