"""Linear programmes solved exactly: a bounded simplex on whole numbers.

Every coefficient is scaled to an integer and every pivot divides without remainder (Edmonds 1967, Bareiss 1968),
so nothing is ever rounded and no tolerance decides what is feasible. Made for few rows and up to some hundred columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct

from assistant.errors import BadInput

# Steepest column first is quick; after this many steps without progress the lowest index is taken, which cannot cycle.
_PATIENCE = 20


class Row(Struct, frozen=True):
    """One condition: sum of coefficient times amount equals (or is at most) `right`."""

    coefficients: tuple[Fraction, ...]
    right: Fraction


class Optimum(Struct, frozen=True):
    """The cheapest point.

    amounts: one per column. slopes: change of cost per unit that a column is moved off its limit (0 for columns
    between their limits). equal_values and most_values: change of cost per unit of each row's right side.
    """

    amounts: tuple[Fraction, ...]
    cost: Fraction
    slopes: tuple[Fraction, ...]
    equal_values: tuple[Fraction, ...]
    most_values: tuple[Fraction, ...]


class UnboundedError(ArithmeticError):
    """The cost can be driven down without end."""


def minimise(
    costs: Sequence[Fraction],
    equal: Sequence[Row],
    lower: Sequence[Fraction],
    upper: Sequence[Fraction | None],
    at_most: Sequence[Row] = (),
) -> Optimum | None:
    """Cheapest amounts under rows and limits, or None where no amounts satisfy them.

    costs, lower, upper: one per column (upper None: no limit). equal: rows to be met exactly; at_most: rows not to
    be exceeded. Raises BadInput for lists of unequal length and UnboundedError where no cheapest point exists.
    """
    count = len(costs)
    if len(lower) != count or len(upper) != count:
        raise BadInput("lower, upper", (len(lower), len(upper)), f"{count} limits each")
    for row in (*equal, *at_most):
        if len(row.coefficients) != count:
            raise BadInput("rows", len(row.coefficients), f"{count} coefficients")
    if any(high is not None and high < low for low, high in zip(lower, upper, strict=True)):
        return None
    tableau = _Tableau(costs, equal, at_most, lower, upper)
    if not tableau.become_feasible():
        return None
    tableau.improve(tableau.cost_row)
    return tableau.optimum()


class _Tableau:
    """Integer tableau; the true entry is `entry / self.scale`. All columns are measured from the limit they rest on."""

    def __init__(
        self,
        costs: Sequence[Fraction],
        equal: Sequence[Row],
        at_most: Sequence[Row],
        lower: Sequence[Fraction],
        upper: Sequence[Fraction | None],
    ) -> None:
        self.costs, self.lower = costs, lower
        self.count, self.equals, self.mosts = len(costs), len(equal), len(at_most)
        rights = [
            row.right - sum(c * low for c, low in zip(row.coefficients, lower, strict=True))
            for row in (*equal, *at_most)
        ]
        widths = [None if high is None else high - low for low, high in zip(lower, upper, strict=True)]
        # A row of negative right side is turned round, so that its artificial column can start at the right side.
        self.row_scales = [
            lcm(*(c.denominator for c in row.coefficients)) * (1 if right >= 0 else -1)
            for row, right in zip((*equal, *at_most), rights, strict=True)
        ]
        rights = [right * scale for right, scale in zip(rights, self.row_scales, strict=True)]
        self.unit = lcm(*(v.denominator for v in (*rights, *(w for w in widths if w is not None))))
        self.cost_scale = lcm(*(c.denominator for c in costs))

        size = self.equals + self.mosts
        self.width = self.count + self.mosts + size
        self.limits: list[int | None] = [None if w is None else int(w * self.unit) for w in widths]
        self.limits += [None] * (self.mosts + size)
        self.flipped = [False] * self.width
        self.basis = [self.count + self.mosts + r for r in range(size)]
        self.scale = 1
        self.rows: list[list[int]] = []
        for r, (row, right) in enumerate(zip((*equal, *at_most), rights, strict=True)):
            line = [int(c * self.row_scales[r]) for c in row.coefficients] + [0] * (self.mosts + size)
            if r >= self.equals:
                line[self.count + r - self.equals] = 1 if self.row_scales[r] > 0 else -1
            line[self.basis[r]] = 1
            self.rows.append([*line, int(right * self.unit)])
        artificials = self.count + self.mosts
        short = [-sum(row[j] for row in self.rows) for j in range(self.width + 1)]
        self.short_row = [0 if artificials <= j < self.width else v for j, v in enumerate(short)]
        self.cost_row = [int(c * self.cost_scale) for c in costs] + [0] * (self.mosts + size + 1)

    def become_feasible(self) -> bool:
        self.improve(self.short_row)
        if self.short_row[-1] != 0:
            return False
        for artificial in range(self.count + self.mosts, self.width):
            self.limits[artificial] = 0
        return True

    def improve(self, goal: list[int]) -> None:
        """Pivot until no column lowers the goal. Artificial columns never come back."""
        idle = 0
        while (column := self._entering(goal, careful=idle > _PATIENCE)) is not None:
            idle = 0 if self._step(column) else idle + 1

    def _entering(self, goal: list[int], careful: bool) -> int | None:
        basic = set(self.basis)
        best, lowest = None, 0
        for j in range(self.count + self.mosts):
            if goal[j] < lowest and j not in basic and self.limits[j] != 0:
                if careful:
                    return j
                best, lowest = j, goal[j]
        return best

    def _step(self, column: int) -> bool:
        """Move one column as far as limits allow; True when something moved."""
        limit = self.limits[column]
        # A ratio is kept as (numerator, denominator) and compared by cross multiplication.
        best: tuple[int, int] | None = None if limit is None else (limit, 1)
        leaving: int | None = None
        for r, row in enumerate(self.rows):
            entry, basic_limit = row[column], self.limits[self.basis[r]]
            if entry > 0:
                ratio = (row[-1], entry)
            elif entry < 0 and basic_limit is not None:
                ratio = (basic_limit * self.scale - row[-1], -entry)
            else:
                continue
            order = -1 if best is None else ratio[0] * best[1] - best[0] * ratio[1]
            if order < 0 or (order == 0 and leaving is not None and self.basis[r] < self.basis[leaving]):
                best, leaving = ratio, r
        if best is None:
            raise UnboundedError
        if leaving is None:
            self._flip(column)
        else:
            if self.rows[leaving][column] < 0:
                self._measure_from_top(leaving)
            self._pivot(leaving, column)
        return best[0] != 0

    def _flip(self, column: int) -> None:
        """Rest a column on its other limit."""
        limit = self.limits[column]
        assert limit is not None
        self.flipped[column] = not self.flipped[column]
        for row in (*self.rows, self.short_row, self.cost_row):
            row[-1] -= row[column] * limit
            row[column] = -row[column]

    def _measure_from_top(self, r: int) -> None:
        column = self.basis[r]
        limit = self.limits[column]
        assert limit is not None
        self.flipped[column] = not self.flipped[column]
        right = limit * self.scale - self.rows[r][-1]
        self.rows[r] = [-v for v in self.rows[r]]
        self.rows[r][-1] = right
        self.rows[r][column] = self.scale

    def _pivot(self, r: int, column: int) -> None:
        pivot_row = self.rows[r]
        pivot, scale = pivot_row[column], self.scale
        for row in (*self.rows, self.short_row, self.cost_row):
            if row is pivot_row:
                continue
            factor = row[column]
            if factor:
                row[:] = [(v * pivot - factor * p) // scale for v, p in zip(row, pivot_row, strict=True)]
            else:
                row[:] = [v * pivot // scale for v in row]
        self.scale = pivot
        self.basis[r] = column

    def optimum(self) -> Optimum:
        measured = [0] * self.width
        for r, column in enumerate(self.basis):
            measured[column] = self.rows[r][-1]
        amounts = []
        for j, low in enumerate(self.lower):
            value = Fraction(measured[j], self.scale * self.unit)
            limit = self.limits[j]
            if self.flipped[j]:
                assert limit is not None
                value = Fraction(limit, self.unit) - value
            amounts.append(low + value)
        slopes = tuple(
            Fraction(-v if flip else v, self.scale * self.cost_scale)
            for v, flip in zip(self.cost_row[: self.count], self.flipped, strict=False)
        )
        artificials = self.cost_row[self.count + self.mosts : self.width]
        values = tuple(
            Fraction(-v * scale, self.scale * self.cost_scale)
            for v, scale in zip(artificials, self.row_scales, strict=True)
        )
        cost = sum((c * x for c, x in zip(self.costs, amounts, strict=True)), Fraction(0))
        return Optimum(tuple(amounts), cost, slopes, values[: self.equals], values[self.equals :])
