"""Figures of a request on the grid, where the trade rooms have no type of their own for them."""

from dataclasses import dataclass
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class FaceCloth:
    """A fabric: bolt width, selvage, repeats (0 for none), drop as a part of the repeat, and the seller's increment."""

    width: int
    selvage: int
    vertical_repeat: int
    horizontal_repeat: int
    drop: Fraction
    increment: int


@dataclass(frozen=True, slots=True)
class LiningCloth:
    """A lining: what sewing takes of it, and the seller's increment."""

    shorter: int
    bottom_hem: int
    top_turning: int
    increment: int
