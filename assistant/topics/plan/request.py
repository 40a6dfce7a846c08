"""The batch as the cook described it: one typed request for blending, seasoning, portioning, buying and cost.

Everything is optional, because people say things in pieces over several turns; what is missing is asked for.
Amounts stay in the unit that was said (Measure), so that the answer can speak the cook's own units.
"""

from __future__ import annotations

from fractions import Fraction

from msgspec import Struct, field

from assistant.language.phrases import Bound, Measure


class Kept(Struct, frozen=True, omit_defaults=True, forbid_unknown_fields=True):
    """A record that the notebook keeps as text (see keep.py)."""


class Item(Kept, frozen=True):
    """One meat of the batch.

    name: as said. keys: rows of the cut table it may be; empty for meat known only by the cook's own figure.
    fat: the cook's own figure in percent (about: said as "about"; fat_high: the upper end of a range). weight with weight_is: "is" (this much
    goes in), "have" (stock), "all" (use it up), or a Bound. share: 0..1, likewise with share_is.
    parts: so many parts. push: "most" or "least", as much or as little of it as the batch allows. rest: makes up what is left. price: per gram, or for what was bought.
    """

    name: str
    keys: tuple[str, ...] = ()
    fat: Fraction | None = None
    fat_about: bool = False
    fat_high: Fraction | None = None
    weight: Measure | None = None
    weight_is: str = "is"
    share: Fraction | None = None
    share_is: Bound = Bound.IS
    parts: Fraction | None = None
    rest: bool = False
    plenty: bool = False
    wanted: bool = False
    price: Price | None = None
    trimmed: bool = False
    push: str = ""


class Price(Kept, frozen=True):
    """Money per weight. currency "" where none was said. per None: the price is for the whole piece."""

    amount: Fraction
    currency: str
    per: Measure | None


LOT = "patty"
"""The sort of a group that is so many patties of one size, and no people."""


class Group(Kept, frozen=True):
    """Eaters of one sort: how many, how many patties each, how heavy each patty (None: not said). Or a LOT.

    high: the upper end where a range of them was said. heft: how many times as heavy their patty is as the others'. noun: the word said for them. label: the day, sitting or table that they come to.
    """

    count: Fraction
    sort: str = "person"
    each: Fraction | None = None
    size: Measure | None = None
    noun: str = ""
    label: str = ""
    heft: Fraction = Fraction(1)
    high: Fraction | None = None


class PattyWish(Kept, frozen=True):
    """What was said of patties. cooked: the size is meant on the plate."""

    count: Fraction | None = None
    count_high: Fraction | None = None
    size: Measure | None = None
    cooked: bool = False
    diameter: Measure | None = None
    thickness: Measure | None = None
    bun: Measure | None = None
    count_is: Bound = Bound.IS


class Pinch(Kept, frozen=True):
    """One seasoning. amount with per (a rate), or alone (an amount for the batch or for recipe_for);
    percent amounts have unit "percent". of_total: the percent is of the finished mix."""

    name: str
    key: str
    amount: Measure | None = None
    per: Measure | None = None
    of_total: bool = False
    already: Measure | None = None


class Loss(Kept, frozen=True):
    """What does not reach the bowl or the plate. where: "trim", "bone", "grinder", "cooking" or "trimmed" (so much
    came off); amount in percent or weight. cut: the one of several meats that loses it ("" for all of it)."""

    where: str
    amount: Measure
    cut: str = ""


class Turn(Kept, frozen=True):
    """What a line changes of a part of the crowd on the table; one of these.

    day_gone: a day or sitting on which nobody comes any more; sort_gone: a sort of people of whom nobody comes; half_each: patties for
    each of half of them; some: some of them, who eat otherwise; like: the day whose people come again on another.
    """

    day_gone: str = ""
    sort_gone: str = ""
    half_each: Fraction | None = None
    some: Group | None = None
    like: str = ""


class Plan(Kept, frozen=True):
    """Everything said about one batch.

    ratio: two numbers that may be lean to fat or so much of each of two cuts, until the cook has said which.
    finished: the batch's weight is that of the finished mix, seasonings counted in.
    keep: the batch keeps its weight while it is put right. touches: safety reminders that the words call for.
    spare is in percent, spare_count in patties. servings: how often everybody is fed. absent: people already taken
    off the groups. at_once: patties that go on in one round. appetite: patties a head where no number was said.
    feeds: patties for each of the people whose number is asked.
    extra: money on top of the meat; paid: what all of it cost; heads: "per guest?" was asked. spoons: "us", "metric" or
    "au", where the line says whose. cooked: "asked" (what does it weigh cooked) or "given" (the weight of the batch is
    meant cooked). heap: the item that is ground already and is put right with the others; salt_in: percent of salt in
    it. aside: meat kept back for something else. crowd_factor: so many times the people of before; crowd_change: so
    many more or fewer of them, or of the sort of people that crowd_of names; regroup: what is said anew of a sort of people (count 0: as many as before); label: the
    day or sitting that a line without numbers speaks of; turn: which part of them changes. round_up: the unit to whole ones of which the meat is rounded up ("": it is not). pack: what one pack of the meat weighs (packed_into: the meat
    goes into such packs); rolls_a_pack, rolls: bread rolls, likewise. pair: a weight and what was left of it.
    question: what has to be asked before anything is worked out.
    """

    items: tuple[Item, ...] = ()
    batch: Measure | None = None
    batch_is: Bound = Bound.IS
    target: Fraction | None = None
    target_is: Bound = Bound.IS
    target_reversed: bool = False
    target_high: Fraction | None = None
    ratio: tuple[Fraction, ...] | None = None
    finished: bool = False
    wish: str = ""
    equal: bool = False
    without: tuple[str, ...] = ()
    swaps: tuple[tuple[str, str], ...] = ()
    patties: PattyWish | None = None
    groups: tuple[Group, ...] = ()
    spare: Fraction | None = None
    seconds: Fraction | None = None
    losses: tuple[Loss, ...] = ()
    seasonings: tuple[Pinch, ...] = ()
    recipe_for: Measure | None = None
    factor: Fraction | None = None
    budget: Measure | None = None
    shop: Price | None = None
    bowl: Measure | None = None
    asks: frozenset[str] = field(default_factory=frozenset)
    too: str = ""
    salted: bool = False
    units: str = ""
    species: tuple[str, ...] = ()
    trimmed_off: Measure | None = None
    per: Measure | None = None
    keep: bool = False
    spare_count: Fraction | None = None
    servings: Fraction | None = None
    absent: Fraction | None = None
    at_once: Fraction | None = None
    appetite: Fraction | None = None
    cooked: str = ""
    touches: frozenset[str] = field(default_factory=frozenset)
    spoons: str = ""
    extra: Measure | None = None
    paid: Measure | None = None
    heads: bool = False
    only: bool = False
    heap: str = ""
    salt_in: Fraction | None = None
    question: str = ""
    pack: Measure | None = None
    packed_into: bool = False
    rolls: Fraction | None = None
    rolls_a_pack: Fraction | None = None
    pair: tuple[Measure, Measure] | None = None
    aside: Measure | None = None
    feeds: Fraction | None = None
    crowd_factor: Fraction | None = None
    crowd_change: Fraction | None = None
    crowd_of: str = ""
    regroup: tuple[Group, ...] = ()
    label: str = ""
    turn: Turn | None = None
    round_up: str = ""
