"""Batches of a rowing club's summer suppers, and free-form ones for properties."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from fractions import Fraction
from typing import Any

from hypothesis import strategies as st

from assistant.notebook import Batch, Part, Seasoned

FRIDAY = datetime(2026, 6, 5, 18, 30, tzinfo=timezone(timedelta(hours=2)))

SUPPER = Batch(
    name="Regatta supper",
    parts=(
        Part("round", Fraction(2800, 3), Fraction(44, 5), Fraction(6), Fraction(12)),
        Part("brisket trim", Fraction(1270, 3), Fraction(45), Fraction(38), Fraction(52)),
    ),
    target_fat=Fraction(20),
    fat=Fraction(20),
    fat_low=Fraction(161, 10),
    fat_high=Fraction(242, 10),
    seasonings=(
        Seasoned("salt", Fraction(204, 10), weighed=Fraction(19)),
        Seasoned("black pepper", None, Fraction(3, 2), "teaspoon"),
    ),
    patty_grams=Fraction(150),
    patty_count=9,
    cost=Fraction(1299, 100),
    currency="USD",
    tags=("boathouse",),
    units="us",
    request='{"weight": "3 lb", "fat": 20}',
)


def ticking(start: datetime = FRIDAY, step: timedelta = timedelta(days=1)) -> Callable[[], datetime]:
    """A clock that goes on by one step each time it is read."""
    moments = iter(range(10**9))
    return lambda: start + next(moments) * step


_exact = st.fractions(min_value=0, max_value=10**6, max_denominator=10**6)
_maybe = st.none() | _exact
_word = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cf", "Cs", "Zl", "Zp", "Zs")), min_size=1)
_any_text = st.text(max_size=30)  # lone surrogates and control characters among it
_times = st.datetimes(min_value=datetime(1970, 1, 2), max_value=datetime(2999, 1, 1), timezones=st.timezones()).map(
    lambda moment: datetime.fromisoformat(moment.isoformat())
)


def batches() -> st.SearchStrategy[Batch]:
    """Any batch that can be saved, with odd names, exact odd numbers and empty fields."""
    fields: dict[str, Any] = {
        "name": _word.map(lambda name: name[:40]),
        "parts": st.lists(
            st.builds(Part, cut=_any_text, grams=_exact, fat=_maybe, low=_maybe, high=_maybe, weighed=_maybe),
            max_size=3,
        ).map(tuple),
        "target_fat": _maybe,
        "fat": _maybe,
        "seasonings": st.lists(
            st.builds(Seasoned, name=_any_text, grams=_maybe, amount=_maybe, unit=_any_text, weighed=_maybe), max_size=2
        ).map(tuple),
        "patty_grams": _maybe,
        "patty_count": st.none() | st.integers(0, 10**9),
        "cost": _maybe,
        "currency": st.sampled_from(["", "USD", "EUR"]),
        "rating": st.none() | st.fractions(min_value=0, max_value=5, max_denominator=8),
        "tags": st.lists(_any_text, max_size=2).map(tuple),
        "request": _any_text,
        "saved_at": st.none() | _times,
    }
    return st.builds(Batch, **fields)
