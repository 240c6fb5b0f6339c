"""Trial panels: a heading laid out all through its limits, as the trade would lay it out."""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor

from msgspec.structs import replace

from pleatwright.headings.made import Gather, Made, Pleat, Points
from pleatwright.headings.soundness import UnsoundError
from pleatwright.lengths import INCH
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.gathers import Gathering, gathered
from pleatwright.trade.hung import hung
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.layout import best_layout
from pleatwright.trade.marks import placed_seams, stations
from pleatwright.trade.points import PointRow, flat_needed


def check_layouts(made: Made) -> None:
    """Lay out panels all through a heading's limits; each must be covered within them. Raises UnsoundError."""
    match made:
        case Pleat():
            _pleats_cover(made)
        case Gather():
            _gathers_cover(made)
        case Points():
            _points_cover(made)


def _pleats_cover(pleat: Pleat) -> None:
    if pleat.shape(float(pleat.take_up.most)).lies_wide > max(pleat.space.least, pleat.take_up.most / 2):
        raise UnsoundError("its largest pleat lies wider than half its cloth, and wider than the least space")
    for cloth in _panels(pleat):
        layout = best_layout(cloth)
        row = stations(layout, [("overlap", cloth.leading)], [("return", cloth.trailing)], 1)
        _covered(LaidOut(row, placed_seams(row, cloth.seams), [], layout), cloth.flat_width)
        if not all(pleat.take_up.least <= take_up <= pleat.take_up.most for take_up in layout.take_ups):
            raise UnsoundError(f"its take-ups leave its limits on a flat width of {cloth.flat_width} grid units")
        if not pleat.space.least <= layout.space <= pleat.space.most:
            raise UnsoundError(f"its spaces leave its limits on a flat width of {cloth.flat_width} grid units")


def _panels(pleat: Pleat) -> Iterator[Cloth]:
    for pleats in (2, 3, 5, 9, 14):
        for part in (Fraction(0), Fraction(1, 3), Fraction(1)):
            take_up, space = (
                limits.least + int((limits.most - limits.least) * part) for limits in (pleat.take_up, pleat.space)
            )
            finished = 4 * INCH + (pleats - 1) * space
            flat = finished + pleats * take_up
            seams = tuple(flat * seam // 3 for seam in (1, 2)) if pleats > 5 else ()
            yield Cloth(flat, finished, 2 * INCH, 2 * INCH, seams, pleat.take_up, pleat.space)


def _gathers_cover(gather: Gather) -> None:
    least, most = gather.fullness.least, gather.fullness.most
    for finished in (12 * INCH, 53 * INCH, 240 * INCH):
        for part in (Fraction(0), Fraction(1, 3), Fraction(1)):
            flat = ceil((least + (most - least) * part) * finished)
            flat = min(flat, floor(most * finished))
            cloth = Gathering(flat, finished, 0, 0, 3 * INCH, (), least, most, gather.hook_spacing)
            laid_out = gathered(cloth, INCH // 2, 1)
            _covered(laid_out, flat)
            if gather.is_pinned and not laid_out.hanging_points:
                raise UnsoundError("it has no hooks to hang by")


def _points_cover(points: Points) -> None:
    usual_count = points.count or {"any": 9, "even": 10, "odd": 9}[points.parity]
    for gap in (points.gap.least, points.gap.usual, points.gap.most):
        gaps = usual_count - 1 + 2 * points.edge
        covered = usual_count * points.point_width
        flat = ceil(covered + gaps * gap)
        finished = flat / points.fullness.usual
        if points.finished_gap:
            finished = covered + gaps * points.finished_gap.usual
        row = PointRow(
            points.word,
            flat,
            ceil(finished),
            (),
            (),
            (),
            points.gap,
            points.finished_gap,
            points.fullness.least,
            points.fullness.most,
            points.point_width,
            points.clear,
            points.edge,
            points.parity,
            points.waves,
            points.count,
        )
        if row.is_fixed:
            row = replace(row, flat_width=flat_needed(row))
        laid_out = hung(row, 1)
        _covered(laid_out, row.flat_width)
        count = laid_out.points.count if laid_out.points else 0
        if points.parity != "any" and count % 2 != (points.parity == "odd"):
            raise UnsoundError(f"it hangs from {count} points, no {points.parity} count")


def _covered(laid_out: LaidOut, flat_width: int) -> None:
    row = laid_out.stations
    if row[0].start or row[-1].end != flat_width or any(a.end != b.start for a, b in pairwise(row)):
        raise UnsoundError(f"its stations do not cover a flat width of {flat_width} grid units")
