"""A panel hung from points, marked on the rule: its stations, the middle of each point, and where its seams fall."""

from bisect import bisect_right
from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor
from operator import attrgetter

from pleatwright.trade.laid_out import EvenPoints, HangingPoint, LaidOut
from pleatwright.trade.marks import PlacedSeam, Station, StationKind, check_division, shared_out
from pleatwright.trade.points import PointRow, best_points


def hung(row: PointRow, division: int) -> LaidOut:
    """Return the panel with its points, marked on a rule whose division is `division` grid units.

    Raises Impossible when no count of points, or not the one asked for, keeps within the limits.
    """
    points = best_points(row)
    if not row.is_fixed:
        check_division(division, points.gap)
    stations = _stations(row, points, division)
    centres = _centres(row, stations)
    first = sum(width for _, width in row.leading) + row.edge * points.finished_gap + Fraction(row.point_width, 2)
    pitch = points.finished_gap + row.point_width
    return LaidOut(
        stations=stations,
        seams=[_placed(row, seam, stations, centres) for seam in row.seams],
        hanging_points=[
            HangingPoint(row.word, number, centre, floor(first + (number - 1) * pitch + Fraction(1, 2)))
            for number, centre in enumerate(centres, 1)
        ],
        points=points,
    )


def _stations(row: PointRow, points: EvenPoints, division: int) -> list[Station]:
    if row.is_fixed:
        both, gaps = ceil(2 * row.edge * points.gap), [int(points.gap)] * (points.count - 1)
        edge = both // 2
    else:
        edge = round(row.edge * points.gap / division) * division
        both = 2 * edge
        between = row.flat_width - row.edges - points.count * row.point_width - both
        gaps = shared_out(between, points.count - 1, division)
    pieces: list[tuple[StationKind, int, int | None]] = [(kind, width, None) for kind, width in row.leading]
    pieces.append(("edge", edge, None))
    for number in range(1, points.count + 1):
        pieces.append(("point", row.point_width, number))
        if number < points.count:
            pieces.append(("gap", gaps[number - 1], number))
    pieces.append(("edge", both - edge, None))
    pieces += [(kind, width, None) for kind, width in row.trailing]
    found: list[Station] = []
    at = 0
    for kind, width, place in pieces:
        if width:
            found.append(Station(kind, at, at + width, place))
            at += width
    if at < row.flat_width:
        found.append(Station("surplus", at, row.flat_width))
    return found


def _centres(row: PointRow, stations: Sequence[Station]) -> list[int]:
    if row.point_width:
        return [int(station.centre) for station in stations if station.kind == "point"]
    gaps = [station for station in stations if station.kind == "gap"]
    return [gaps[0].start, *(gap.end for gap in gaps)]


def _placed(row: PointRow, seam: int, stations: Sequence[Station], centres: Sequence[int]) -> PlacedSeam:
    passed = bisect_right(centres, seam)
    last = passed or None
    # The first point that it is near, if it is near several.
    near = bisect_right(centres, seam - row.clear)
    if near < len(centres) and abs(seam - centres[near]) < row.clear:
        return PlacedSeam(seam, "at-point", None, None, near + 1)
    piece = stations[bisect_right(stations, seam, key=attrgetter("start")) - 1]
    if piece.kind == "surplus":
        return PlacedSeam(seam, "in-surplus", None, None, last)
    if piece.kind not in ("gap", "edge", "point"):
        return PlacedSeam(seam, "in-space", None, None, last)
    if not row.waves:
        return PlacedSeam(seam, "between-points", None, None, last)
    front = last is not None and last < len(centres) and last % 2 == 1
    return PlacedSeam(seam, "in-front-fold" if front else "in-back-fold", None, None, last)
