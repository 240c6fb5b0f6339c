"""Marks on the workroom's rule: where each overlap, pleat, space and return starts and ends on the flat cloth.

Rounding happens here and nowhere else, and never accumulates: what is shared out is the sum of all the spaces, and in
each stretch the sum of its take-ups, in whole divisions of the rule with the odd ones spread evenly. So the stations
cover the flat width exactly, the finished width comes out exact, and a hidden seam stays on its stitching line.
"""

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final, Literal

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.layout import Layout, Stretch

StationKind = Literal["overlap", "pleat", "space", "return", "gather", "edge", "point", "gap", "surplus"]
SeamPlace = Literal[
    "beside-pleat",
    "inside-pleat",
    "in-space",
    "in-gathers",
    "in-back-fold",
    "in-front-fold",
    "at-point",
    "between-points",
    "in-surplus",
]
HIDDEN: Final[frozenset[SeamPlace]] = frozenset(
    {"beside-pleat", "in-gathers", "in-back-fold", "between-points", "in-surplus"}
)
"""Where a seam is neither on show nor in the way."""

LEAST_DIVISIONS: Final = 4
"""Divisions of the rule in the smallest space, take-up or gap; our choice."""
FLAT_PIECES: Final[tuple[StationKind, ...]] = ("overlap", "return")


class Station(Struct, frozen=True):
    """One piece of the flat panel, from `start` to `end` measured from the leading edge, in grid units.

    Pleats, spaces, points and gaps are numbered from 1, each in their own row, from the leading edge. A surplus is
    cloth to take off at the return edge.
    """

    kind: StationKind
    start: int
    end: int
    number: int | None = None

    @property
    def centre(self) -> int | Fraction:
        """The middle, which may fall between two grid units."""
        doubled = self.start + self.end
        return Fraction(doubled, 2) if doubled % 2 else doubled // 2


class PlacedSeam(Struct, frozen=True):
    """Where a seam ended up: beside a pleat (on its leading or return side), inside one, or in a space for all to see.

    `pleat` is the pleat it touches; for a seam in a space, the last pleat before it. None in a flat piece at an edge.
    `point` is the point that it is at, or the last point before it, on a panel that hangs from points.
    """

    at: int
    place: SeamPlace
    pleat: int | None
    side: Literal["leading", "return"] | None
    point: int | None = None

    @property
    def is_hidden(self) -> bool:
        """Whether the seam is neither on show nor in the way."""
        return self.place in HIDDEN


def shared_out(total: int, parts: int, division: int) -> list[int]:
    """Share `total` out in `parts` that differ by one division of the rule at most, the larger ones spread evenly.

    A remainder smaller than a division goes to one of the smaller parts.

    >>> shared_out(23, 4, 2), shared_out(12, 3, 2)
    ([6, 6, 5, 6], [4, 4, 4])
    """
    divisions, remainder = divmod(total, division)
    each, odd = divmod(divisions, parts)
    if odd:
        before = [(part * odd + parts // 2) // parts for part in range(parts + 1)]
        shares = [(each + after - now) * division for now, after in pairwise(before)]
    else:
        shares = [each * division] * parts
    if remainder:
        shares[shares.index(each * division)] += remainder
    return shares


def stations(
    layout: Layout,
    leading: Sequence[tuple[StationKind, int]],
    trailing: Sequence[tuple[StationKind, int]],
    division: int,
) -> list[Station]:
    """Return the stations of a layout from the leading edge, on a rule whose division is `division` grid units.

    `leading` and `trailing` are the flat pieces before the first pleat and after the last, in order; a piece of no
    width has no station.

    Raises Impossible when the rule is so coarse that a space or a take-up would lose much of itself to rounding.
    """
    check_division(division, min(layout.space, layout.least_take_up))
    spaces = _space_widths(layout, division)
    found: list[Station] = []
    at = _add_flat(found, 0, leading)
    pleat, space = 0, 0
    for stretch in layout.stretches:
        its_spaces = spaces[space : space + _spaces_of(stretch)]
        left = stretch.end - stretch.start - sum(its_spaces)
        if stretch.opens_with_space:
            space += 1
            found.append(Station("space", at, at := at + its_spaces.pop(0), space))
        for take_up in shared_out(left, stretch.pleats, division) if stretch.pleats else ():
            pleat += 1
            found.append(Station("pleat", at, at := at + take_up, pleat))
            if its_spaces:
                space += 1
                found.append(Station("space", at, at := at + its_spaces.pop(0), space))
    _add_flat(found, at, trailing)
    return found


def _spaces_of(stretch: Stretch) -> int:
    """Return how many spaces a stretch holds; one without pleats is a space from seam to seam."""
    return stretch.pleats - 1 + stretch.opens_with_space + stretch.closes_with_space


def check_division(division: int, smallest: Fraction) -> None:
    """Raise Impossible when the rule is so coarse that the smallest piece would lose much of itself to rounding."""
    if division * LEAST_DIVISIONS > smallest:
        raise Impossible(
            Fault(
                ("mark",),
                "the rule is too coarse for pieces so small: use one with divisions of {most} at the most",
                "{division}",
                "up to {most}",
                {"division": division, "most": smallest / LEAST_DIVISIONS},
            )
        )


def _space_widths(layout: Layout, division: int) -> list[int]:
    """Widths of the spaces; one that fills the gap between two seams keeps its exact width."""
    widths: list[int | None] = []
    for stretch in layout.stretches:
        widths += [None] * _spaces_of(stretch) if stretch.pleats else [stretch.end - stretch.start]
    free = widths.count(None)
    spaces = layout.space.numerator * (layout.pleat_count - 1) // layout.space.denominator
    total = spaces - sum(width for width in widths if width)
    shares = iter(shared_out(total, free, division) if free else ())
    return [next(shares) if width is None else width for width in widths]


def _add_flat(found: list[Station], at: int, pieces: Sequence[tuple[StationKind, int]]) -> int:
    for kind, width in pieces:
        if width:
            found.append(Station(kind, at, at + width))
            at += width
    return at


def mirrored(row: Sequence[Station], flat_width: int) -> list[Station]:
    """Return the same stations measured from the other edge, so that a left panel reads as a right one lies.

    >>> mirrored([Station("overlap", 0, 3), Station("pleat", 3, 10, 1)], 10)
    [Station(kind='pleat', start=0, end=7, number=1), Station(kind='overlap', start=7, end=10, number=None)]
    """
    return [
        Station(piece.kind, flat_width - piece.end, flat_width - piece.start, piece.number) for piece in reversed(row)
    ]


def placed_seams(row: Sequence[Station], seams: Sequence[int]) -> list[PlacedSeam]:
    """Say for each seam whether it is beside a pleat, inside one, or in a space or another flat piece."""
    pleats = [piece for piece in row if piece.kind == "pleat"]
    starts = [pleat.start for pleat in pleats]
    return [_placed(seam, pleats, bisect_right(starts, seam) - 1) for seam in seams]


def _placed(seam: int, pleats: Sequence[Station], index: int) -> PlacedSeam:
    if index < 0:
        return PlacedSeam(seam, "in-space", None, None)
    pleat = pleats[index]
    if seam == pleat.start:
        return PlacedSeam(seam, "beside-pleat", pleat.number, "leading")
    if seam == pleat.end:
        return PlacedSeam(seam, "beside-pleat", pleat.number, "return")
    if seam < pleat.end:
        return PlacedSeam(seam, "inside-pleat", pleat.number, None)
    return PlacedSeam(seam, "in-space", pleat.number if index < len(pleats) - 1 else None, None)
