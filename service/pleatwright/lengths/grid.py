"""The grid that lengths lie on, 320 units to the millimetre, and what is made of whole numbers of it."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Literal, get_args

from pleatwright.factors import FACTORS

Units = Literal["in", "cm", "mm"]
"""The units a request may be made in; every length of its reply is a number in them."""

UNITS: Final[tuple[Units, ...]] = get_args(Units)


def _grid_factors() -> dict[str, int]:
    grid = {}
    for name, millimetres in FACTORS["mm"].items():
        units = millimetres * 320
        if units.denominator != 1:
            raise ArithmeticError(f"1 {name} is not a whole number of grid units")
        grid[name] = int(units)
    return grid


GRID: Final = _grid_factors()
"""Grid units in one of each unit: 1 in = 25.4 mm and 1 yd = 0.9144 m exactly [NIST SP 811, appendix B.8]."""

INCH: Final = GRID["in"]
MILLIMETRE: Final = GRID["mm"]
LONGEST: Final = 1000 * GRID["m"]
"""The longest length that is read: 1 km, more cloth than any bolt holds."""

Exact = int | Fraction
"""A length in grid units that may fall between two grid points; an `int`, far cheaper, wherever it does not."""


@dataclass(frozen=True, slots=True)
class Limits:
    """The least, the usual and the most that a length may be, in grid units."""

    least: int
    usual: int
    most: int


def nearest_whole(top: int, bottom: int) -> int:
    """Return the whole number nearest to a ratio of whole numbers, the even one of two: `round` of the fraction.

    >>> nearest_whole(7, 2), nearest_whole(-7, 3), nearest_whole(5, 2)
    (4, -2, 2)
    """
    if bottom == 1:
        return top
    whole, over = divmod(top, bottom)
    return whole + (2 * over > bottom or (2 * over == bottom and whole % 2 == 1))
