"""The best row of points against every count tried one by one [geometry: points at even distances]."""

from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import Limits
from pleatwright.trade.points import PointRow, best_points, can_hide, flat_needed
from pleatwright.trade.search import Budget

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)
COUNTS = range(2, 1001)


@dataclass
class Tried:
    """One count that keeps within the limits: its gaps, and what becomes of the seams."""

    count: int
    gap: Fraction
    finished_gap: Fraction
    surplus: int
    in_way: int
    on_show: int


def flat_pieces(row):
    return sum(width for _, width in row.leading), sum(width for _, width in row.trailing)


def suits(row, count):
    wanted = {"any": (0, 1), "even": (0,), "odd": (1,)}[row.parity]
    return count % 2 in wanted and (row.count is None or row.count == count)


def lies_within(gap, limits):
    return gap > 0 if limits is None else limits.least <= gap <= limits.most


def finished_gap_of(row, count):
    body = Fraction(row.finished_width - sum(flat_pieces(row)))
    return (body - count * row.point_width) / (count - 1 + 2 * row.edge)


def seams_spoilt(row, count, gap):
    """Count the seams near a point's middle, and of the others those from a middle to the next in an odd gap."""
    first = flat_pieces(row)[0] + row.edge * gap + Fraction(row.point_width, 2)
    middles = [first + number * (gap + row.point_width) for number in range(count)]
    in_way, on_show = 0, 0
    for seam in row.seams:
        if any(abs(seam - middle) < row.clear for middle in middles):
            in_way += 1
        elif row.waves:
            on_show += any(middles[at] < seam < middles[at + 1] for at in range(0, count - 1, 2))
    return in_way, on_show


def is_taped(row):
    return row.finished_gap is not None and row.gap.least == row.gap.most


def every_row(row):
    """Try each count, for cloth whose gaps are shared out and for a tape whose gaps are its own."""
    for count in COUNTS:
        if not suits(row, count):
            continue
        gaps = count - 1 + 2 * row.edge
        body = row.flat_width - sum(flat_pieces(row)) - count * row.point_width
        gap = Fraction(row.gap.least) if is_taped(row) else body / gaps
        surplus = body - gaps * gap
        if surplus < 0 or not lies_within(gap, row.gap):
            continue
        finished_gap = finished_gap_of(row, count)
        if lies_within(finished_gap, row.finished_gap):
            yield Tried(count, gap, finished_gap, int(surplus), *seams_spoilt(row, count, gap))


def best_by_enumeration(row):
    """The best of every count, None where there is none."""
    leading, trailing = flat_pieces(row)
    flat, finished = row.flat_width - leading - trailing, row.finished_width - leading - trailing
    if finished <= 0 or not (is_taped(row) or row.least_fullness <= Fraction(flat, finished) <= row.most_fullness):
        return None

    def rank(tried):
        off_usual = abs(tried.finished_gap - row.finished_gap.usual) if row.finished_gap else 0
        return tried.in_way, tried.on_show, abs(tried.gap - row.gap.usual), off_usual, tried.count

    return min(every_row(row), key=rank, default=None)


def checked(row):
    """The best row of points, compared with the best of every count."""
    tried = best_by_enumeration(row)
    if tried is None:
        with pytest.raises(Impossible):
            best_points(row)
        return None
    best = best_points(row)
    assert (best.count, best.gap, best.finished_gap, best.surplus) == (
        tried.count,
        tried.gap,
        tried.finished_gap,
        tried.surplus,
    )
    return best


def limits(draw, least, most):
    return Limits(*sorted(draw(st.integers(least, most)) for _ in range(3)))


def pieces(draw, *kinds):
    return tuple((kind, draw(st.integers(0, 15))) for kind in kinds if draw(st.booleans()))


@st.composite
def rows(draw, taped=False, seamed=None, most_points=40):
    """Panels that some count suits before their widths are changed a little, so small that counts often tie.

    A gap of a tape with half of it beyond the outer points is even, so that its half is whole; and no seam is in the
    way of a point that it is farther from than the next point is.
    """
    edge = draw(st.sampled_from((Fraction(0), Fraction(1, 2))))
    width = draw(st.just(0) | st.integers(1, 12))
    gap = Limits(*[2 * draw(st.integers(1, 20))] * 3) if taped else limits(draw, 1, 40)
    finished_gap = limits(draw, 1, 25) if taped or draw(st.booleans()) else None
    leading, trailing = pieces(draw, "return", "overlap"), pieces(draw, "return")
    edges = sum(each for _, each in (*leading, *trailing))
    count = draw(st.integers(2, most_points))
    gaps = count - 1 + 2 * edge

    def covered(least, most):
        return edges + int(count * width + gaps * draw(st.integers(least, most))) + draw(st.integers(0, 2))

    flat = max(2, covered(gap.least, gap.most) + draw(st.just(0) | st.integers(0, 3 * gap.most)))
    finished = covered(*(finished_gap.least, finished_gap.most) if finished_gap else (1, gap.most))
    seams = st.integers(1, flat - 1)
    least, most = draw(st.sampled_from(((1, 4), (1, 2), (Fraction(1, 2), 40), (Fraction(5, 4), 3))))
    return PointRow(
        word="eyelet",
        flat_width=flat,
        finished_width=finished,
        leading=leading,
        trailing=trailing,
        seams=() if seamed is False else tuple(sorted(draw(st.sets(seams, min_size=int(bool(seamed)), max_size=4)))),
        gap=gap,
        finished_gap=finished_gap,
        least_fullness=Fraction(least),
        most_fullness=Fraction(most),
        point_width=width,
        clear=draw(st.integers((width + 1) // 2, width + gap.least).filter(bool)),
        edge=edge,
        parity=draw(st.sampled_from(("any", "even", "odd"))),
        waves=draw(st.booleans()),
        count=draw(st.none() | st.just(count) | st.integers(2, most_points)),
    )


@REPEATABLE
@given(rows(seamed=False))
def test_points_on_cloth_without_seams_are_the_best_of_every_count(row):
    checked(row)


@REPEATABLE
@given(rows(seamed=True))
def test_points_among_seams_are_the_best_of_every_count(row):
    checked(row)


@REPEATABLE
@given(rows(taped=True))
def test_points_of_a_tape_are_the_best_of_every_count(row):
    checked(row)


@settings(REPEATABLE, max_examples=40)
@given(rows(most_points=1200))
def test_points_by_the_hundred_are_the_best_of_every_count(row):
    checked(row)


@pytest.mark.parametrize("gap", [1, 2])
def test_a_thousand_points_are_the_most(gap):
    """1000 points have 999 gaps between them; cloth for one gap more would take 1001."""
    row = PointRow(
        word="tab",
        flat_width=999 * gap,
        finished_width=999,
        leading=(),
        trailing=(),
        seams=(),
        gap=Limits(gap, gap, gap),
        finished_gap=None,
        least_fullness=Fraction(1),
        most_fullness=Fraction(3),
        point_width=0,
        clear=1,
        edge=Fraction(0),
        parity="any",
        waves=False,
    )
    assert checked(row).count == 1000
    assert checked(replace(row, flat_width=1000 * gap)) is None


@REPEATABLE
@given(rows(taped=True, seamed=False))
def test_a_tape_takes_the_cloth_of_the_count_whose_carriers_stand_nearest_to_usual(row):
    counts = [
        count for count in COUNTS if suits(row, count) and lies_within(finished_gap_of(row, count), row.finished_gap)
    ]
    leading, trailing = flat_pieces(row)
    if row.finished_width <= leading + trailing or not counts:
        with pytest.raises(Impossible):
            flat_needed(row)
        return
    count = min(counts, key=lambda count: (abs(finished_gap_of(row, count) - row.finished_gap.usual), count))
    gaps = count - 1 + 2 * row.edge
    assert flat_needed(row) == leading + count * row.point_width + gaps * row.gap.least + trailing


@REPEATABLE
@given(rows(seamed=True))
def test_seams_can_be_hidden_when_some_count_of_all_hides_them(row):
    """A seam in a flat piece at an edge is on show whatever the count [common practice]."""
    assume(not is_taped(row) and best_by_enumeration(row))
    leading, trailing = flat_pieces(row)
    between = all(leading <= seam < row.flat_width - trailing for seam in row.seams)
    hidden = any((tried.in_way, tried.on_show) == (0, 0) for tried in every_row(row))
    assert can_hide(row, Budget(10**6)) == (between and hidden)
