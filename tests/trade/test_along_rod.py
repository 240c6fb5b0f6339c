"""Carriers and bends along a rod: every figure by hand, or by a walk along the rod [geometry]."""

from itertools import accumulate

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pleatwright.trade.along_rod import Sliders, bends_of, end_runs, sliders_of
from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.panel import Panel, finished_widths
from pleatwright.trade.window import Rod

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=200)


def panel(finished_width, side="left", leading_return=0, overlap=0, return_=0):
    return Panel(side, finished_width, 100, 2, 2 * finished_width, 100, (), leading_return, overlap, return_)


def points(*places):
    return [HangingPoint("pleat", number, 2 * place, place) for number, place in enumerate(places, 1)]


@pytest.mark.parametrize(
    ("leading_return", "overlap", "return_", "places", "sliders"),
    [
        # One pin in an overlap of 3, one on a return of 4 that starts at 16; 3 and 16 are the outer pleats'.
        (0, 3, 4, (1, 3, 9, 16, 19), Sliders(3, 1, 1)),
        # No flat piece at all: every one of them slides.
        (0, 0, 0, (0, 10, 20), Sliders(3, 0, 0)),
        # A return of 2 at the leading end too, and the overlap from there to 5.
        (2, 3, 4, (1, 3, 5, 9, 16, 19), Sliders(3, 1, 2)),
        # Hooks of a tape close together: two of them on the arm.
        (0, 3, 4, (0, 2, 5, 8, 11, 14, 16, 18), Sliders(5, 2, 1)),
        (0, 3, 4, (), Sliders(0, 0, 0)),
    ],
)
def test_what_is_on_a_flat_end_does_not_slide(leading_return, overlap, return_, places, sliders):
    """Common practice: the arm of the master carrier takes the overlap, eyes at the bracket take the return."""
    hung = panel(20, leading_return=leading_return, overlap=overlap, return_=return_)
    assert sliders_of(hung, points(*places)) == sliders


@REPEATABLE
@given(st.lists(st.integers(0, 100), max_size=30), st.integers(0, 10), st.integers(0, 20), st.integers(0, 20))
def test_every_hanging_point_is_on_a_carrier_on_the_arm_or_in_an_eye(places, leading_return, overlap, return_):
    found = sliders_of(panel(100, "left", leading_return, overlap, return_), points(*sorted(places)))
    assert found.sliding + found.overlap + found.return_ == len(places)
    between = [place for place in places if leading_return + overlap <= place <= 100 - return_]
    assert found.sliding == len(between)


@st.composite
def rods(draw):
    """A rod of several runs, and how panels draw on it."""
    runs = tuple(draw(st.lists(st.integers(1, 60), min_size=1, max_size=6)))
    width = sum(runs)
    kind = draw(st.sampled_from(["pair", "one-way-left", "one-way-right", "off-centre-pair", "fixed-pair"]))
    assume(width >= 4)
    return Rod(
        width=width,
        return_=draw(st.integers(0, 9)),
        overlap=0 if kind == "fixed-pair" else 2 * draw(st.integers(0, min(4, (width - 2) // 4))),
        draw=kind,
        parting=draw(st.integers(1, width - 1)) if kind == "off-centre-pair" else None,
        panel_width=draw(st.integers(1, width // 2)) if kind == "fixed-pair" else None,
        leading_return=draw(st.integers(0, 5)) if kind.startswith("one-way") else 0,
        runs=runs,
    )


def stretch(rod, side):
    """The stretch of the rod that a closed panel stands on, from the left end [geometry]: half of what crosses is past
    the place where a pair parts. Doubled, since half of the width may be half a unit.
    """
    if rod.draw == "fixed-pair":
        return (0, 2 * rod.panel_width) if side == "left" else (2 * (rod.width - rod.panel_width), 2 * rod.width)
    if rod.draw.startswith("one-way"):
        return 0, 2 * rod.width
    parts = 2 * rod.parting if rod.draw == "off-centre-pair" else rod.width
    return (0, parts + rod.overlap) if side == "left" else (parts - rod.overlap, 2 * rod.width)


@REPEATABLE
@given(rods())
def test_a_bend_is_where_a_walk_from_the_end_of_the_rod_comes_to_it(rod):
    """A panel stands on a bend if the bend is on its stretch. From the leading edge there it is the rod between them,
    and the return at that edge if there is one; half a unit more where the width is odd and halves are rounded up.
    """
    hung = [
        panel(width, side, rod.leading_return, rod.overlap, rod.return_)
        for side, width in finished_widths(rod)
        if width > rod.return_
    ]
    expected = {}
    for number, at in enumerate(list(accumulate(rod.runs))[:-1], 1):
        for each in hung:
            start, end = stretch(rod, each.side)
            if start <= 2 * at <= end:
                to_edge = end - 2 * at if each.side == "left" else 2 * at - start
                expected[number, at, each.side] = rod.leading_return + to_edge / 2
    found = {(bend.number, bend.at, bend.side): bend.finished for bend in bends_of(rod, hung, [points() for _ in hung])}
    assert found.keys() >= expected.keys()
    for key in found.keys() - expected.keys():
        # A hair off the edge of the stretch, by the half that is rounded up.
        assert found[key] == rod.leading_return
        assert rod.draw == "pair"
        assert rod.width % 2
    for key, finished in expected.items():
        assert finished <= found[key] <= finished + 0.5


@REPEATABLE
@given(rods(), st.lists(st.integers(0, 60), max_size=12))
def test_the_point_nearest_to_a_bend_is_none_farther_than_any_other(rod, places):
    hung = [panel(width, side, rod.leading_return, rod.overlap, rod.return_) for side, width in finished_widths(rod)]
    carried = points(*sorted(places))
    for bend in bends_of(rod, hung, [carried for _ in hung]):
        if not carried:
            assert (bend.nearest, bend.off) == (None, None)
            continue
        assert bend.off == min(abs(place - bend.finished) for place in places)
        assert abs(bend.nearest.finished - bend.finished) == bend.off


def test_of_two_points_as_near_the_one_towards_the_leading_edge_is_told():
    """A bend at 20 of a rod of 40: 40 - 20 = 20 from the leading edge, with pins at 18 and at 22."""
    rod = Rod(40, 0, 0, "one-way-left", runs=(20, 20))
    (bend,) = bends_of(rod, [panel(40)], [points(18, 22)])
    assert (bend.finished, bend.nearest.finished, bend.off) == (20, 18, 2)


@REPEATABLE
@given(rods())
def test_panels_stack_on_the_first_and_on_the_last_run(rod):
    assert end_runs(rod) == {"left": rod.runs[0], "right": rod.runs[-1]}


def test_a_straight_rod_is_one_run():
    assert end_runs(Rod(120, 3, 3, "pair")) == {"left": 120, "right": 120}
