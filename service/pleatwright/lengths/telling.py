"""Lengths as they are told: numbers of a unit in replies, trade fractions or metric decimals for a maker to read."""

import math
from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from pleatwright.lengths.grid import GRID, MILLIMETRE, Units, nearest_whole

_ENDS_WITHIN_SIX: Final = {unit: grid // math.gcd(grid, 10**6) for unit, grid in GRID.items()}
"""A length that is a multiple of so many grid units is, in that unit, a number that ends within six decimals."""


def in_units(value: int | Fraction, units: Units) -> float:
    """Give a length as a number of `units`, to six decimals, which is enough to tell any two grid points apart.

    >>> from pleatwright.lengths import INCH
    >>> in_units(2 * INCH + INCH // 64, "in"), in_units(INCH, "cm")
    (2.015625, 2.54)
    """
    grid = GRID[units]
    if not isinstance(value, int):
        return round(value.numerator / (value.denominator * grid), 6)
    if value % _ENDS_WITHIN_SIX[units] == 0:
        return value / grid
    millionths, over = divmod(value * 2_000_000 + grid, 2 * grid)
    return millionths / 1_000_000 if over else round(value / grid, 6)


def each_in_units(values: Iterable[int], units: Units, parts: int = 1) -> list[float]:
    """Give many lengths as `in_units` gives each; they are in grid units, or in so many `parts` of one.

    >>> from pleatwright.lengths import INCH
    >>> each_in_units([INCH, 2 * INCH], "in"), each_in_units([INCH], "in", parts=2)
    ([1.0, 2.0], [0.5])
    """
    grid, ends = GRID[units] * parts, _ENDS_WITHIN_SIX[units] * parts
    return [value / grid if value % ends == 0 else _part_in_units(value, parts, units) for value in values]


def _part_in_units(value: int, parts: int, units: Units) -> float:
    whole, over = divmod(value, parts)
    return in_units(Fraction(value, parts) if over else whole, units)


def from_units(value: float, units: Units) -> int:
    """Return the grid length that `in_units` gave as `value`; the nearest one to any other number.

    >>> from_units(in_units(12345, "in"), "in")
    12345
    """
    return round(Fraction(repr(value)) * GRID[units])


def rounded_in_units(value: Fraction | int, units: Units) -> float:
    """Give a length that falls between the marks of a rule as a number of `units`, to three decimals.

    >>> from pleatwright.lengths import INCH
    >>> rounded_in_units(Fraction(5 * INCH, 3), "in")
    1.667
    """
    return round(value.numerator / (value.denominator * GRID[units]), 3)


def length_text(value: int | Fraction, units: str, *, finest: int = 16) -> str:
    """Write a length as a maker reads it: trade fractions of an inch or a yard down to 1/`finest`, or metric decimals.

    What falls between two divisions is written as the nearer one. Metric is written to a tenth of a millimetre.

    >>> from pleatwright.lengths import INCH
    >>> length_text(84 * INCH + INCH // 2, "in"), length_text(-INCH // 4, "in"), length_text(214 * 3200 + 1920, "cm")
    ('84 1/2 in', '-1/4 in', '214.6 cm')
    """
    top, bottom = abs(value.numerator), value.denominator * GRID[units]
    if units in ("in", "yd"):
        whole, parts = divmod(nearest_whole(top * finest, bottom), finest)
        common = math.gcd(parts, finest)
        over = f"{parts // common}/{finest // common}" if parts else ""
        shown = f"{whole} {over}".rstrip() if whole or not over else over
    else:
        tenths = nearest_whole(top * 10, value.denominator * MILLIMETRE)
        shown = f"{tenths / (10 * GRID[units] // MILLIMETRE):.4f}".rstrip("0").rstrip(".")
    return f"{'-' if value < 0 and shown != '0' else ''}{shown} {units}"
