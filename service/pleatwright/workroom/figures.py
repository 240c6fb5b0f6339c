"""Figures of a request on the grid, where the trade rooms have no type of their own for them."""

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from pleatwright.trade.bolts import Piece
from pleatwright.trade.cuts import Pattern
from pleatwright.trade.railroad import Turned


class MotifPlace(Struct, frozen=True):
    """Where a motif starts in the repeat, its height, and at what distance from heading or hem it is to stand."""

    at: int
    height: int
    below_heading: int | None
    above_hem: int | None


class FaceCloth(Struct, frozen=True):
    """A fabric as it comes off the bolt, and the pieces of it on the shelf with their labels.

    A repeat is 0 where there is none; `drop` is a part of the vertical one. `mass_per_area` is in grams a square metre.
    """

    width: int
    selvage: int
    vertical_repeat: int
    horizontal_repeat: int
    drop: Fraction
    increment: int
    motif: MotifPlace | None = None
    level: Literal["room", "window"] = "room"
    pieces: tuple[Piece, ...] = ()
    labels: tuple[str, ...] = ()
    one_lot: Literal["window", "room", "none"] = "window"
    turned: Turned | None = None
    shrinks_long: Fraction = Fraction(0)
    shrinks_wide: Fraction = Fraction(0)
    thickness: int = 0
    mass_per_area: Fraction | None = None
    customers_own: bool = False

    @property
    def pattern(self) -> Pattern:
        """Its pattern along and across the bolt."""
        return Pattern(self.vertical_repeat, self.horizontal_repeat, self.drop)
