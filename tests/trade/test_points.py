"""Panels hung from points: they cover their cloth, hang evenly, and say where each seam falls; worked by hand."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, MILLIMETRE, Limits
from pleatwright.trade.hung import hung
from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.marks import PlacedSeam, Station
from pleatwright.trade.points import PointRow, best_points, flat_needed

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)
SIXTEENTH = INCH // 16
DIVISIONS = st.sampled_from((SIXTEENTH, MILLIMETRE, INCH // 8, INCH // 4, INCH // 64, 5 * MILLIMETRE, 1, 333))
FLAT_PIECES = ("return", "overlap")


def inches(*figures):
    return tuple(int(Fraction(figure) * INCH) for figure in figures)


def limits(least, usual, most):
    return Limits(*inches(least, usual, most))


EYELETS = PointRow(
    word="eyelet",
    flat_width=48 * INCH,
    finished_width=24 * INCH,
    leading=(),
    trailing=(),
    seams=(),
    gap=limits(5, 6, 8),
    finished_gap=None,
    least_fullness=Fraction(3, 2),
    most_fullness=Fraction(5, 2),
    point_width=0,
    clear=INCH,
    edge=Fraction(1, 2),
    parity="even",
    waves=True,
)
TABS = replace(
    EYELETS,
    word="tab",
    flat_width=34 * INCH,
    finished_width=26 * INCH,
    least_fullness=Fraction(5, 4),
    point_width=2 * INCH,
    edge=Fraction(0),
    parity="any",
    waves=False,
)
SNAPS = replace(
    EYELETS,
    word="snap",
    flat_width=80 * INCH,
    finished_width=40 * INCH,
    gap=limits(4, 4, 4),
    finished_gap=limits(1, 2, 2),
    clear=INCH // 2,
    edge=Fraction(0),
    parity="odd",
)


@st.composite
def rows(draw):
    """Panels of a count that suits them, up to some sixty inches from point to point in all, with seams anywhere."""

    def length(least, most):
        return draw(st.integers(int(least * INCH), int(most * INCH)))

    def piece(kind, most):
        return kind, draw(st.just(0) | st.just(INCH) | st.integers(0, most * INCH))

    count = draw(st.integers(2, 30))
    width = draw(st.just(0) | st.integers(INCH, 3 * INCH))
    edge = draw(st.sampled_from((Fraction(0), Fraction(1, 2), Fraction(1, 3))))
    leading, trailing = (piece("return", 4), piece("overlap", 3)), (piece("return", 4),)
    if draw(st.booleans()):
        leading = trailing = (("return", 3 * INCH),)
    edges = sum(each for _, each in (*leading, *trailing))
    gap = length(4, 8)
    finished_gap = int(gap / draw(st.fractions(Fraction(5, 4), 3, max_denominator=100)))
    gaps = count - 1 + 2 * edge
    slack = length(0.25, 2)
    flat = edges + int(count * width + gaps * gap)
    return PointRow(
        word="tab",
        flat_width=flat,
        finished_width=edges + int(count * width + gaps * finished_gap),
        leading=leading,
        trailing=trailing,
        seams=tuple(sorted(draw(st.sets(st.integers(1, flat - 1), max_size=5)))),
        gap=Limits(gap - slack, gap, gap + slack),
        finished_gap=draw(st.sampled_from((None, Limits(1, finished_gap, 2 * finished_gap)))),
        least_fullness=Fraction(1),
        most_fullness=Fraction(4),
        point_width=width,
        clear=(width + 1) // 2 + length(0.125, 1),
        edge=edge,
        parity=draw(st.sampled_from(("any", "odd" if count % 2 else "even"))),
        waves=draw(st.booleans()),
        count=draw(st.sampled_from((None, count))),
    )


@st.composite
def tapes(draw):
    """Tapes whose points stand whole gaps apart, on the cloth that they need or on some more."""
    count = draw(st.integers(2, 60))
    gap, carriers = 2 * draw(st.integers(INCH // 2, 3 * INCH)), draw(st.integers(INCH, 3 * INCH))
    return_, surplus = draw(st.integers(0, 4 * INCH)), draw(st.just(0) | st.integers(1, 5 * INCH))
    edge = draw(st.sampled_from((Fraction(0), Fraction(1, 2))))
    gaps = count - 1 + 2 * edge
    return replace(
        SNAPS,
        flat_width=int(return_ + gaps * gap + surplus),
        finished_width=int(return_ + gaps * carriers),
        trailing=(("return", return_),),
        gap=Limits(gap, gap, gap),
        finished_gap=Limits(carriers // 2, carriers, carriers),
        edge=edge,
        parity=draw(st.sampled_from(("any", "odd" if count % 2 else "even"))),
    )


def sizes(stations, *kinds):
    return [piece.end - piece.start for piece in stations if piece.kind in kinds]


@REPEATABLE
@given(rows() | tapes(), DIVISIONS)
def test_stations_cover_the_flat_width_end_to_end(row, division):
    laid_out = hung(row, division)
    stations, count = laid_out.stations, laid_out.points.count
    assert (stations[0].start, stations[-1].end) == (0, row.flat_width)
    assert all(left.end == right.start for left, right in pairwise(stations))
    assert all(piece.start < piece.end for piece in stations)
    point = ["point"] * (row.point_width > 0)
    edge = ["edge"] * (row.edge > 0)
    assert [piece.kind for piece in stations] == [
        *[kind for kind, width in row.leading if width],
        *edge,
        *point,
        *["gap", *point] * (count - 1),
        *edge,
        *[kind for kind, width in row.trailing if width],
        *["surplus"] * (laid_out.points.surplus > 0),
    ]
    assert [piece.number for piece in stations if piece.kind == "gap"] == list(range(1, count))
    assert [piece.number for piece in stations if piece.kind == "point"] == list(range(1, count + 1))[
        : count * len(point)
    ]


@REPEATABLE
@given(rows() | tapes(), DIVISIONS)
def test_flat_pieces_points_and_surplus_keep_their_widths(row, division):
    laid_out = hung(row, division)
    given_widths = [width for _, width in (*row.leading, *row.trailing) if width]
    assert sizes(laid_out.stations, *FLAT_PIECES) == given_widths
    assert set(sizes(laid_out.stations, "point")) <= {row.point_width}
    assert sum(sizes(laid_out.stations, "surplus")) == laid_out.points.surplus


@REPEATABLE
@given(rows(), DIVISIONS)
def test_gaps_are_whole_divisions_that_differ_by_one_at_most(row, division):
    """What is less than a division goes to one gap."""
    laid_out = hung(row, division)
    gaps = sizes(laid_out.stations, "gap")
    assert max(gaps) - min(gaps) <= division
    assert sum(gap % division != 0 for gap in gaps) <= 1
    assert all(abs(gap - laid_out.points.gap) < 2 * division for gap in gaps)


@REPEATABLE
@given(rows(), DIVISIONS)
def test_both_edges_are_the_same_and_nearest_to_their_part_of_a_gap(row, division):
    laid_out = hung(row, division)
    edges = sizes(laid_out.stations, "edge")
    assert len(edges) == (2 if row.edge else 0)
    assert len(set(edges)) <= 1
    assert all(edge % division == 0 for edge in edges)
    assert all(abs(edge - row.edge * laid_out.points.gap) <= Fraction(division, 2) for edge in edges)


@REPEATABLE
@given(tapes(), DIVISIONS)
def test_the_gaps_of_a_tape_are_its_own_whatever_the_rule(row, division):
    stations = hung(row, division).stations
    assert set(sizes(stations, "gap")) == {row.gap.least}
    assert set(sizes(stations, "edge")) == ({row.gap.least // 2} if row.edge else set())
    assert stations == hung(row, 100 * INCH).stations


@REPEATABLE
@given(rows() | tapes(), DIVISIONS)
def test_points_are_in_order_and_where_they_are_marked(row, division):
    """A point of no width stands where two gaps meet, or an edge and a gap."""
    laid_out = hung(row, division)
    points = laid_out.hanging_points
    assert [(point.on, point.number) for point in points] == [
        (row.word, number) for number in range(1, laid_out.points.count + 1)
    ]
    gaps = [piece for piece in laid_out.stations if piece.kind == "gap"]
    half = Fraction(row.point_width, 2)
    for gap, left, right in zip(gaps, points, points[1:], strict=False):
        assert abs(gap.start - half - left.flat) < 1
        assert abs(gap.end + half - right.flat) < 1
        assert left.flat < right.flat


@REPEATABLE
@given(rows() | tapes(), DIVISIONS)
def test_points_hang_evenly_over_the_finished_width(row, division):
    """[geometry]: as far from the flat pieces at both edges, and the same from each to the next, to a grid unit."""
    laid_out = hung(row, division)
    places = [point.finished for point in laid_out.hanging_points]
    pitch = laid_out.points.finished_gap + row.point_width
    assert all(abs(after - before - pitch) <= 1 for before, after in pairwise(places))
    left, right = (sum(width for _, width in pieces) for pieces in (row.leading, row.trailing))
    before, after = places[0] - left, row.finished_width - right - places[-1]
    assert abs(before - after) <= 1
    beyond = row.edge * laid_out.points.finished_gap + Fraction(row.point_width, 2)
    assert abs(before - beyond) <= Fraction(1, 2)
    if left == right:
        mirrored = [row.finished_width - place for place in reversed(places)]
        assert all(abs(one - other) <= 1 for one, other in zip(places, mirrored, strict=True))


@REPEATABLE
@given(rows() | tapes())
def test_gaps_and_points_come_to_the_flat_and_the_finished_width_exactly(row):
    points = best_points(row)
    edges = sum(width for _, width in (*row.leading, *row.trailing))
    gaps = points.count - 1 + 2 * row.edge
    assert points.gaps == gaps
    assert edges + points.count * row.point_width + gaps * points.gap + points.surplus == row.flat_width
    assert edges + points.count * row.point_width + gaps * points.finished_gap == row.finished_width


@REPEATABLE
@given(rows(), DIVISIONS)
def test_a_seam_is_said_to_be_where_it_is(row, division):
    laid_out = hung(row, division)
    assert [seam.at for seam in laid_out.seams] == list(row.seams)
    for seam in laid_out.seams:
        assert (seam.pleat, seam.side) == (None, None)
        near = [point for point in laid_out.hanging_points if abs(seam.at - point.flat) < row.clear]
        if near:
            assert seam == PlacedSeam(seam.at, "at-point", None, None, near[0].number)
            continue
        before = [point.number for point in laid_out.hanging_points if point.flat < seam.at]
        assert seam.point == (before[-1] if before else None)
        touched = [piece for piece in laid_out.stations if piece.start <= seam.at <= piece.end]
        assert seam.place in {place_in(piece, row.waves) for piece in touched}
    assert laid_out.hides_every_seam == all(seam.place in ("in-back-fold", "between-points") for seam in laid_out.seams)


def place_in(piece, waves):
    """The gaps of waves stand to the front and to the back in turn, and the edges to the back."""
    if piece.kind in FLAT_PIECES:
        return "in-space"
    if not waves:
        return "between-points"
    return "in-front-fold" if piece.kind == "gap" and piece.number % 2 else "in-back-fold"


def test_eight_eyelets_with_half_a_gap_beyond_the_outer_two():
    """48 in / 8 is 6 in flat, 24 in / 8 is 3 in finished: 3 + 7 x 6 + 3 = 48, and four waves."""
    laid_out = hung(EYELETS, SIXTEENTH)
    assert (laid_out.points.count, laid_out.points.gaps) == (8, 8)
    assert (laid_out.points.gap, laid_out.points.finished_gap) == (6 * INCH, 3 * INCH)
    assert laid_out.points.surplus == 0
    assert sizes(laid_out.stations, "edge", "gap") == [*inches(3, *[6] * 7, 3)]
    assert [point.flat for point in laid_out.hanging_points] == [*inches(3, 9, 15, 21, 27, 33, 39, 45)]
    assert laid_out.hanging_points[0] == HangingPoint("eyelet", 1, *inches(3, 1.5))
    assert laid_out.hanging_points[7] == HangingPoint("eyelet", 8, *inches(45, 22.5))


def test_eyelets_between_a_return_and_an_overlap():
    """3 + 1 and 4 in of flat pieces on 56 in leave 48 in of the 56, and 24 of the 32 that it hangs to."""
    row = replace(
        EYELETS,
        flat_width=56 * INCH,
        finished_width=32 * INCH,
        leading=(("return", 3 * INCH), ("overlap", INCH)),
        trailing=(("return", 4 * INCH),),
    )
    laid_out = hung(row, SIXTEENTH)
    assert laid_out.stations[:3] == [
        Station("return", *inches(0, 3)),
        Station("overlap", *inches(3, 4)),
        Station("edge", *inches(4, 7)),
    ]
    assert laid_out.stations[-1] == Station("return", *inches(52, 56))
    assert laid_out.hanging_points[0] == HangingPoint("eyelet", 1, *inches(7, 5.5))
    assert laid_out.hanging_points[-1] == HangingPoint("eyelet", 8, *inches(49, 26.5))


def test_five_tabs_two_inches_wide():
    """5 x 2 + 4 x 6 = 34 in flat and 5 x 2 + 4 x 4 = 26 in finished; four tabs make 8 2/3 in, six 4 2/5 in."""
    laid_out = hung(TABS, SIXTEENTH)
    assert (laid_out.points.count, laid_out.points.gap, laid_out.points.finished_gap) == (5, *inches(6, 4))
    assert sizes(laid_out.stations, "point", "gap") == [*inches(2, 6, 2, 6, 2, 6, 2, 6, 2)]
    assert [point.flat for point in laid_out.hanging_points] == [*inches(1, 9, 17, 25, 33)]
    assert [point.finished for point in laid_out.hanging_points] == [*inches(1, 7, 13, 19, 25)]


def test_a_tape_of_four_inches_with_carriers_two_inches_apart():
    """40 / 2 = 20 gaps, so 21 snaps, 20 x 4 = 80 in of cloth and ten waves; of 83 in, 3 are left over."""
    assert flat_needed(SNAPS) == 80 * INCH
    laid_out = hung(replace(SNAPS, flat_width=83 * INCH), SIXTEENTH)
    assert (laid_out.points.count, laid_out.points.gaps, laid_out.points.surplus) == (21, 20, 3 * INCH)
    assert laid_out.stations[-1] == Station("surplus", *inches(80, 83))
    assert [point.flat for point in laid_out.hanging_points] == [*inches(*range(0, 81, 4))]
    assert [point.finished for point in laid_out.hanging_points] == [*inches(*range(0, 41, 2))]


def test_a_tape_whose_carriers_do_not_fit_closes_them_up_to_the_next_odd_count():
    """41 / 2 is 20 1/2 gaps, and 21 gaps would be 22 snaps: 22 gaps of 41 / 22 in, 22 x 4 = 88 in of cloth."""
    row = replace(SNAPS, finished_width=41 * INCH)
    assert flat_needed(row) == 88 * INCH
    points = best_points(replace(row, flat_width=88 * INCH))
    assert (points.count, points.finished_gap) == (23, Fraction(41 * INCH, 22))


def test_gaps_that_do_not_fall_on_the_rule_are_shared_out():
    """36 5/16 in of six gaps, half of one to either side: 6 5/96 in. Edges of 3 in leave 485 sixteenths: 97 each."""
    row = replace(EYELETS, flat_width=inches("581/16")[0], finished_width=18 * INCH, count=6)
    laid_out = hung(row, SIXTEENTH)
    assert laid_out.points.gap == Fraction(581, 96) * INCH
    assert sizes(laid_out.stations, "edge") == [*inches(3, 3)]
    assert [gap // SIXTEENTH for gap in sizes(laid_out.stations, "gap")] == [97] * 5


# Of eight eyelets on 48 in, at 3, 9, 15 to 45 in: the place of a seam, and the eyelet that it is at or after.
SEAMS = {
    "in the edge before the first": (1, "in-back-fold", None),
    "in the first gap, to the front": (6, "in-front-fold", 1),
    "as near as is allowed": (8, "in-front-fold", 1),
    "too near, before": (8.5, "at-point", 2),
    "through the middle": (9, "at-point", 2),
    "too near, after": (9.5, "at-point", 2),
    "in the second gap, to the back": (12, "in-back-fold", 2),
    "in the last gap, to the front": (42, "in-front-fold", 7),
    "in the edge after the last": (47, "in-back-fold", 8),
}


@pytest.mark.parametrize(("at", "place", "eyelet"), SEAMS.values(), ids=SEAMS)
def test_a_seam_among_waves_is_to_the_front_to_the_back_or_at_a_point(at, place, eyelet):
    """The first gap stands to the front, the second to the back, and so on; both edges turn to the wall."""
    (seam,) = inches(at)
    laid_out = hung(replace(EYELETS, count=8, seams=(seam,)), SIXTEENTH)
    assert laid_out.seams == [PlacedSeam(seam, place, None, None, eyelet)]
    assert laid_out.hides_every_seam == (place == "in-back-fold")


@pytest.mark.parametrize(
    ("at", "place", "tab"), [(5, "between-points", 1), (13, "between-points", 2), (9, "at-point", 2)]
)
def test_a_seam_between_tabs_is_out_of_the_way_in_any_gap(at, place, tab):
    """Tabs at 1, 9, 17, 25 and 33 in."""
    (seam,) = inches(at)
    laid_out = hung(replace(TABS, seams=(seam,), count=5), SIXTEENTH)
    assert laid_out.seams == [PlacedSeam(seam, place, None, None, tab)]
    assert laid_out.hides_every_seam == (place == "between-points")


@pytest.mark.parametrize(("at", "eyelet"), [(1, None), (53, 8)])
def test_a_seam_in_an_overlap_or_a_return_is_on_show(at, eyelet):
    """3 in of overlap before the 48 in, and 3 in of return after them."""
    row = replace(
        EYELETS,
        flat_width=54 * INCH,
        finished_width=30 * INCH,
        leading=(("overlap", 3 * INCH),),
        trailing=(("return", 3 * INCH),),
        seams=inches(at),
    )
    laid_out = hung(row, SIXTEENTH)
    assert laid_out.seams == [PlacedSeam(at * INCH, "in-space", None, None, eyelet)]
    assert not laid_out.hides_every_seam


def test_a_count_that_hides_a_seam_is_better_than_the_usual_gap():
    """At 18 in is the third gap of eight, to the front, and the second of six at 4, 12 and 20 in, to the back."""
    laid_out = hung(replace(EYELETS, seams=inches(18)), SIXTEENTH)
    assert (laid_out.points.count, laid_out.points.gap, laid_out.points.finished_gap) == (6, *inches(8, 4))
    assert laid_out.seams == [PlacedSeam(18 * INCH, "in-back-fold", None, None, 2)]


def test_a_seam_that_shows_is_better_than_one_in_the_way():
    """At 20 in is the third of six eyelets; of eight it is 1 in from the fourth, in the third gap, to the front."""
    laid_out = hung(replace(EYELETS, seams=inches(20)), SIXTEENTH)
    assert laid_out.points.count == 8
    assert laid_out.seams == [PlacedSeam(20 * INCH, "in-front-fold", None, None, 3)]


def refused(row, division=SIXTEENTH):
    """The one fault of a row, which says what it may be in lengths that it has."""
    with pytest.raises(Impossible) as impossible:
        hung(row, division)
    (fault,) = impossible.value.faults
    for text in (fault.detail, fault.seen, fault.allowed):
        (text or "").format(**fault.lengths)
    return fault


def test_cloth_that_no_count_fits_is_refused():
    """Eight eyelets on 48 in make 6 in and ten make 4 4/5 in: none from 5 to 5 3/4 in."""
    fault = refused(replace(EYELETS, gap=limits(5, "11/2", "23/4")))
    assert fault.where == ("flat_width",)
    assert "even count of eyelets" in fault.detail
    assert "{least} to {most}" in fault.detail
    assert (fault.lengths["least"], fault.lengths["most"]) == inches(5, "23/4")
    assert fault.lengths["flat"] == 48 * INCH


def test_a_count_asked_for_that_does_not_fit_is_refused():
    """Four eyelets on 48 in make 12 in, more than 8; the refusal says how many were asked for."""
    fault = refused(replace(EYELETS, count=4))
    assert fault.where == ("flat_width",)
    assert "4 were asked for" in fault.detail
    assert "{least} to {most}" in fault.detail
    assert (fault.lengths["least"], fault.lengths["most"]) == inches(5, 8)


def test_a_count_of_the_wrong_parity_is_refused():
    """Seven on 48 in would make 6 6/7 in, within the limits."""
    fault = refused(replace(EYELETS, count=7))
    assert fault.where == ("flat_width",)
    assert "even count of eyelets (and 7 were asked for)" in fault.detail
    assert hung(replace(EYELETS, count=7, parity="odd"), SIXTEENTH).points.count == 7


@pytest.mark.parametrize("ask", [best_points, flat_needed], ids=["hung", "its cloth"])
def test_a_finished_width_that_the_carriers_cannot_share_is_refused(ask):
    """41 in of carriers 2 in apart, no more and no less, is 20 1/2 gaps."""
    with pytest.raises(Impossible) as impossible:
        ask(replace(SNAPS, finished_width=41 * INCH, finished_gap=limits(2, 2, 2)))
    (fault,) = impossible.value.faults
    assert fault.where == ("finished_width",)
    assert "odd count of snaps" in fault.detail
    assert "{least_finished} to {most_finished}" in fault.detail
    assert (fault.lengths["least_finished"], fault.lengths["most_finished"]) == inches(2, 2)


@pytest.mark.parametrize("return_", [0, 3])
def test_too_little_cloth_for_a_tape_is_refused_with_the_least_that_will_do(return_):
    """Over 40 in, 2 in apart at the most, are 20 gaps or more, of 4 in each: 80 in, and a return besides."""
    needed = (80 + return_) * INCH
    row = replace(SNAPS, finished_width=(40 + return_) * INCH, trailing=(("return", return_ * INCH),))
    fault = refused(replace(row, flat_width=needed - 1))
    assert fault.where == ("flat_width",)
    assert fault.allowed == "{needed} or more"
    assert "{needed}" in fault.detail
    assert fault.lengths["needed"] == needed
    assert best_points(replace(row, flat_width=needed)).surplus == 0


@pytest.mark.parametrize("flat", [35, 61])
def test_cloth_that_falls_too_full_or_too_scant_is_refused(flat):
    """24 in at 1 1/2 to 2 1/2 times is 36 to 60 in."""
    fault = refused(replace(EYELETS, flat_width=flat * INCH))
    assert fault.where == ("flat_width",)
    assert fault.allowed == "{least} to {most}"
    assert "{least} to {most}" in fault.detail
    assert (fault.lengths["least"], fault.lengths["most"]) == inches(36, 60)


def test_flat_pieces_count_once_in_the_fullness():
    """24 in and 3 in of overlap: 3 + 36 to 3 + 60 in."""
    row = replace(EYELETS, finished_width=27 * INCH, leading=(("overlap", 3 * INCH),))
    fault = refused(replace(row, flat_width=63 * INCH + 1))
    assert (fault.lengths["least"], fault.lengths["most"]) == inches(39, 63)
    assert hung(replace(row, flat_width=63 * INCH), SIXTEENTH).points.count == 10


@pytest.mark.parametrize("row", [EYELETS, SNAPS], ids=["eyelets", "a tape"])
def test_flat_pieces_that_leave_nothing_between_them_are_refused(row):
    """3 in and 4 in of flat pieces: more than 7 in."""
    pieces = {"leading": (("overlap", 3 * INCH),), "trailing": (("return", 4 * INCH),)}
    fault = refused(replace(row, finished_width=7 * INCH, **pieces))
    assert fault.where == ("finished_width",)
    assert fault.allowed == "more than {edges}"
    assert fault.lengths["edges"] == 7 * INCH
    with pytest.raises(Impossible, match="leave nothing between them"):
        flat_needed(replace(row, finished_width=7 * INCH, **pieces))


def test_a_seam_outside_the_panel_is_refused():
    fault = refused(replace(EYELETS, seams=inches(12, 48)))
    assert fault.where == ("seams", 1)
    assert (fault.lengths["previous"], fault.lengths["flat"]) == inches(12, 48)


def test_a_rule_too_coarse_for_the_gaps_is_refused():
    """Gaps of 6 in need divisions of a quarter of that, 1 1/2 in, or finer."""
    fault = refused(EYELETS, 3 * INCH // 2 + 1)
    assert fault.where == ("mark",)
    assert fault.allowed == "up to {most}"
    assert fault.lengths["most"] == Fraction(3, 2) * INCH
    assert sum(sizes(hung(EYELETS, 3 * INCH // 2).stations, "edge", "gap")) == 48 * INCH
