"""A panel laid out: the one result, whatever its heading is made of."""

from fractions import Fraction

from msgspec import Struct

from pleatwright.trade.layout import Layout
from pleatwright.trade.marks import PlacedSeam, Station


class HangingPoint(Struct, frozen=True):
    """A point that carries the panel: what it is on, and its place from the leading edge, flat and finished."""

    on: str
    number: int
    flat: int
    finished: int


class EvenPoints(Struct, frozen=True):
    """Points at even distances: how many, the exact gap between two of them flat and finished, and cloth left over.

    Each point covers `point_width`; `gaps` counts the parts of a gap beyond the outer points as well.
    """

    count: int
    gap: Fraction
    finished_gap: Fraction
    surplus: int
    point_width: int
    gaps: Fraction


class LaidOut(Struct, frozen=True):
    """One panel laid out and marked on the rule, in grid units.

    `stations` cover the flat width from the leading edge without a gap. `hanging_points` are empty where a rod carries
    the cloth all along. `pleats` is the layout of a pleated panel and `points` that of one hung from points; a gathered
    panel has neither.
    """

    stations: list[Station]
    seams: list[PlacedSeam]
    hanging_points: list[HangingPoint]
    pleats: Layout | None = None
    points: EvenPoints | None = None

    @property
    def hides_every_seam(self) -> bool:
        """Whether no seam is on show, in the way of a point, or bulky inside a pleat."""
        return all(seam.is_hidden for seam in self.seams)
