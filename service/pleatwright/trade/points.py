"""A panel that hangs from points at even distances: how many, how far apart, and what becomes of its seams.

With n points that each cover w of the panel, and e of a gap beyond the outer two, the cloth between the flat pieces at
its edges is n w + (n - 1 + 2 e) gap, and the finished panel is the same with the finished gap [geometry]. In waves,
the gaps stand to the front and to the back in turn; a seam in a gap to the back is hidden, one in a gap to the front
shows, and one near a point is in its way.

Among the counts within the heading's limits the best has, in this order: the fewest seams in the way of a point; the
fewest that show; the gap closest to the usual one; the finished gap closest to the usual one; the fewest points. All of
it is decided on exact values, before anything is rounded to a mark.
"""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, floor, lcm
from typing import Final, Literal

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import Limits
from pleatwright.trade.cloth import edge_faults, seam_faults
from pleatwright.trade.laid_out import EvenPoints
from pleatwright.trade.marks import StationKind
from pleatwright.trade.search import Budget

MOST_POINTS: Final = 1000
"""The most points on one panel, as of pleats."""


class PointRow(Struct, frozen=True):
    """A flat panel to be hung from points, in grid units.

    `leading` and `trailing` are the flat pieces at its edges, in order. `gap` and `finished_gap` are the limits of the
    cloth from one point to the next, flat and finished; with both, a `gap` without a choice is that of a tape, and the
    cloth left over is surplus. `clear` is how near a point's middle a seam may come. `count` is the count asked for.
    """

    word: str
    flat_width: int
    finished_width: int
    leading: tuple[tuple[StationKind, int], ...]
    trailing: tuple[tuple[StationKind, int], ...]
    seams: tuple[int, ...]
    gap: Limits
    finished_gap: Limits | None
    least_fullness: Fraction
    most_fullness: Fraction
    point_width: int
    clear: int
    edge: Fraction
    parity: Literal["any", "even", "odd"]
    waves: bool
    count: int | None = None

    @property
    def edges(self) -> int:
        """Width of the flat pieces at the edges."""
        return sum(width for _, width in (*self.leading, *self.trailing))

    @property
    def is_fixed(self) -> bool:
        """Whether a tape settles the gap, and so the flat width, whatever the cloth."""
        return self.finished_gap is not None and self.gap.least == self.gap.most

    def gaps(self, count: int) -> Fraction:
        """Return how many gaps `count` points make, parts of a gap beyond the outer points included."""
        return count - 1 + 2 * self.edge


def best_points(row: PointRow) -> EvenPoints:
    """Return the best count of points and the gaps that it makes.

    Raises Impossible when there is none. Eight eyelets, half a gap beyond the outer two, on 48 of cloth hung to 24:

    >>> best = best_points(PointRow("eyelet", 48, 24, (), (), (), Limits(5, 6, 8), None, Fraction(1), Fraction(3), 0, 1,
    ...     Fraction(1, 2), "even", True))
    >>> best.count, float(best.gap), float(best.finished_gap)
    (8, 6.0, 3.0)
    """
    faults = [*edge_faults(row.finished_width, row.edges), *seam_faults(row.seams, row.flat_width)]
    if not faults and not row.is_fixed:
        faults += _fullness_faults(row)
    if faults:
        raise Impossible(*faults)
    near_first = sorted((_points(row, count) for count in _counts(row)), key=lambda points: _nearness(row, points))
    if not near_first:
        raise Impossible(_no_count(row))
    best, least = near_first[0], None
    for points in near_first:
        cost = _cost(row, points)
        if least is None or cost < least:
            best, least = points, cost
        if cost == (0, 0):
            break
    return best


def can_hide(row: PointRow, budget: Budget) -> bool:
    """Tell whether some count keeps every seam out of the way and out of sight; not when none is found in the budget.

    Raises Impossible as best_points does.
    """
    leading, trailing = (sum(width for _, width in pieces) for pieces in (row.leading, row.trailing))
    for count in _counts(row):
        if budget.spent:
            break
        budget.left -= 1 + len(row.seams)
        points = _points(row, count)
        end = row.flat_width - points.surplus
        exposed = any(seam < leading or end - trailing <= seam < end for seam in row.seams)
        if not exposed and _cost(row, points) == (0, 0):
            return True
    return False


def flat_needed(row: PointRow) -> int:
    """Return the flat width that a tape's own gaps come to on this finished width.

    Raises Impossible when its carriers cannot stand so.
    """
    faults = edge_faults(row.finished_width, row.edges)
    counts = [] if faults else list(_counts_by_finished_gap(row))
    if not counts:
        raise Impossible(*(faults or [_no_count(row)]))
    count = min(counts, key=lambda count: _distance(_finished_gap(row, count), row.finished_gap))
    return row.edges + _cloth(row, count)


def _counts(row: PointRow) -> list[int]:
    if row.is_fixed:
        return [count for count in _counts_by_finished_gap(row) if row.edges + _cloth(row, count) <= row.flat_width]
    body = row.flat_width - row.edges
    counts = _within(row, body, row.gap)
    if row.finished_gap is None:
        return [count for count in counts if _finished_gap(row, count) > 0]
    allowed = set(_counts_by_finished_gap(row))
    return [count for count in counts if count in allowed]


def _counts_by_finished_gap(row: PointRow) -> list[int]:
    limits = row.finished_gap or Limits(1, 1, row.finished_width)
    return list(_within(row, row.finished_width - row.edges, limits))


def _within(row: PointRow, body: int, gap: Limits) -> Iterator[int]:
    """Yield the counts whose gaps on `body` lie within the limits: n w + (n - 1 + 2 e) gap = body, solved for n."""
    beyond = 1 - 2 * row.edge
    fewest = ceil((body + beyond * gap.most) / (row.point_width + gap.most))
    most = floor((body + beyond * gap.least) / (row.point_width + gap.least))
    for count in range(max(fewest, 2), min(most, MOST_POINTS) + 1):
        if row.parity != "any" and count % 2 != (row.parity == "odd"):
            continue
        if row.count in (None, count):
            yield count


def _points(row: PointRow, count: int) -> EvenPoints:
    if row.is_fixed:
        surplus = row.flat_width - row.edges - _cloth(row, count)
        gap = Fraction(row.gap.least)
    else:
        surplus = 0
        gap = (row.flat_width - row.edges - count * row.point_width) / row.gaps(count)
    return EvenPoints(count, gap, _finished_gap(row, count), surplus, row.point_width, row.gaps(count))


def _cloth(row: PointRow, count: int) -> int:
    return ceil(count * row.point_width + row.gaps(count) * row.gap.least)


def _finished_gap(row: PointRow, count: int) -> Fraction:
    return (row.finished_width - row.edges - count * row.point_width) / row.gaps(count)


def _distance(gap: Fraction, limits: Limits | None) -> Fraction:
    return abs(gap - limits.usual) if limits else Fraction(0)


def _nearness(row: PointRow, points: EvenPoints) -> tuple[Fraction, Fraction, int]:
    return _distance(points.gap, row.gap), _distance(points.finished_gap, row.finished_gap), points.count


def _cost(row: PointRow, points: EvenPoints) -> tuple[int, int]:
    """Return how many seams are in the way of a point, and how many more show."""
    if not row.seams:
        return 0, 0
    first = sum(width for _, width in row.leading) + row.edge * points.gap + Fraction(row.point_width, 2)
    pitch = points.gap + row.point_width
    # In whole numbers of a unit that divides both, for speed.
    unit = lcm(first.denominator, pitch.denominator)
    origin, step, clear = int(first * unit), int(pitch * unit), row.clear * unit
    in_way, on_show = 0, 0
    for seam in row.seams:
        after, beyond = divmod(seam * unit - origin, step)
        before_one = 0 <= after < points.count and beyond < clear
        if before_one or (-1 <= after < points.count - 1 and step - beyond < clear):
            in_way += 1
        elif row.waves and 0 <= after < points.count - 1 and after % 2 == 0:
            on_show += 1
    return in_way, on_show


def _fullness_faults(row: PointRow) -> list[Fault]:
    finished = row.finished_width - row.edges
    least = row.edges + floor(row.least_fullness * finished)
    most = row.edges + ceil(row.most_fullness * finished)
    if least <= row.flat_width <= most:
        return []
    return [
        Fault(
            ("flat_width",),
            f"hung from {row.word}s, cloth falls well at {float(row.least_fullness):g} to {float(row.most_fullness):g} "
            "times the width that it covers: use {least} to {most} of cloth for a finished width of {finished}",
            "{flat}",
            "{least} to {most}",
            {"flat": row.flat_width, "finished": row.finished_width, "least": least, "most": most},
        )
    ]


def _no_count(row: PointRow) -> Fault:
    lengths = {"flat": row.flat_width, "least": row.gap.least, "most": row.gap.most, "finished": row.finished_width}
    which = {"any": "count", "even": "even count", "odd": "odd count"}[row.parity]
    asked = "" if row.count is None else f" (and {row.count} were asked for)"
    wide = ", {wide} wide each," if row.point_width else ""
    lengths["wide"] = row.point_width
    counts = _counts_by_finished_gap(row) if row.finished_gap else []
    if row.finished_gap and not counts:
        lengths |= {"least_finished": row.finished_gap.least, "most_finished": row.finished_gap.most}
        return Fault(
            ("finished_width",),
            f"no {which} of {row.word}s{asked} covers this finished width with {{least_finished}} to {{most_finished}} "
            "from one to the next: change the width, or the spacing",
            "{finished}",
            lengths=lengths,
        )
    if row.is_fixed:
        lengths["needed"] = row.edges + min(_cloth(row, count) for count in counts)
        return Fault(
            ("flat_width",),
            f"the tape takes {{needed}} of flat cloth for the {row.word}s of this finished width: use more cloth",
            "{flat}",
            "{needed} or more",
            lengths,
        )
    return Fault(
        ("flat_width",),
        f"no {which} of {row.word}s{asked}{wide} fits this cloth with {{least}} to {{most}} from one to the next: "
        f"change the cloth, or what the {row.word}s ask for",
        "{flat}",
        lengths=lengths,
    )
