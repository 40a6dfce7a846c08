"""How much of its fat meat keeps in cooking, from the published tables."""

from __future__ import annotations

from assistant import data
from assistant.engine import cook, learn


def kept_shares(form: str, method: str) -> tuple[learn.Kept, ...]:
    """Published shares of its fat that ground beef keeps, cooked so, at each raw fat.

    From the cooked fats of USDA SR28 and the yields of the USDA table of cooking yields, in data/yields.toml.
    """
    shares = []
    for row in data.cooked_fats():
        if (row.form, row.method) != (form, method):
            continue
        found = cook.cooked_yield(data.cooked_yields(), row.raw_fat, method, "beef", form)
        if found is not None:
            shares.append(learn.Kept(row.raw_fat, cook.fat_kept(row.raw_fat, row.cooked_fat, found.percent.value)))
    return tuple(shares)
