"""Panels gathered from edge to edge: where their hooks go, worked by hand, and the cloth that can be gathered so."""

from fractions import Fraction
from itertools import pairwise
from math import ceil

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, MILLIMETRE
from pleatwright.trade.gathers import Gathering, gathered, hooks
from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.marks import PlacedSeam, Station

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)
EIGHTH = INCH // 8
DIVISIONS = st.sampled_from((EIGHTH, MILLIMETRE, INCH // 16, INCH // 4, INCH // 64, 5 * MILLIMETRE, 1, 333))


def inches(*figures):
    return [int(Fraction(figure) * INCH) for figure in figures]


CURTAIN = Gathering(
    flat_width=96 * INCH,
    finished_width=40 * INCH,
    leading_return=0,
    overlap=0,
    return_=0,
    seams=(),
    least=Fraction(3, 2),
    most=Fraction(3),
    hook_spacing=3 * INCH,
)


@st.composite
def gatherings(draw):
    """Panels up to 10 ft wide, with hooks from 1 to 5 in apart, and any rod: some bends fall beyond the outer hooks."""
    finished = draw(st.integers(20 * INCH, 120 * INCH))
    flat = int(finished * draw(st.fractions(Fraction(5, 4), 3, max_denominator=50)))
    return Gathering(
        flat_width=flat,
        finished_width=finished,
        leading_return=draw(st.just(0) | st.integers(0, 6 * INCH)),
        overlap=draw(st.just(0) | st.integers(0, 4 * INCH)),
        return_=draw(st.just(0) | st.integers(0, 6 * INCH)),
        seams=tuple(sorted(draw(st.sets(st.integers(1, flat - 1), max_size=4)))),
        least=Fraction(1),
        most=Fraction(4),
        hook_spacing=draw(st.integers(INCH, 5 * INCH)),
    )


INSETS = st.integers(0, 3 * INCH)


def stretches(cloth, inset):
    """From the first hook to the last, stopping at each bend of the rod between them that is not hard by one."""
    near = cloth.hook_spacing // 4 + 1
    ends = inset, cloth.finished_width - inset
    bends = cloth.leading_return, cloth.finished_width - cloth.return_
    return list(pairwise(sorted({*ends, *(bend for bend in bends if ends[0] + near <= bend <= ends[1] - near)})))


def fine_enough(cloth, inset, division):
    """A rule that has four divisions in the least distance between hooks, flat."""
    least = min(after - before for before, after in pairwise(hooks(cloth, inset)))
    return 4 * division <= least * Fraction(cloth.flat_width, cloth.finished_width)


@REPEATABLE
@given(gatherings(), INSETS)
def test_the_outer_hooks_are_at_the_inset(cloth, inset):
    places = hooks(cloth, inset)
    assert (places[0], places[-1]) == (inset, cloth.finished_width - inset)
    assert all(left < right for left, right in pairwise(places))


@REPEATABLE
@given(gatherings(), INSETS)
def test_a_hook_stands_at_each_bend_of_the_rod(cloth, inset):
    """Where the return turns off, the heading must turn with it [common practice]."""
    places = hooks(cloth, inset)
    near = cloth.hook_spacing // 4 + 1
    for bend in (cloth.leading_return, cloth.finished_width - cloth.return_):
        assert bend in places or not inset + near <= bend <= cloth.finished_width - inset - near


@REPEATABLE
@given(gatherings(), INSETS)
def test_hooks_are_even_within_a_stretch_as_few_as_will_do_and_never_too_far_apart(cloth, inset):
    """A stretch of length l takes ceil(l / spacing) steps, and no fewer [geometry]."""
    places = hooks(cloth, inset)
    count = 1
    for start, end in stretches(cloth, inset):
        within = [place for place in places if start <= place <= end]
        steps = {after - before for before, after in pairwise(within)}
        assert len(steps) == 1
        assert steps.pop() <= cloth.hook_spacing
        fewest = ceil(Fraction(end - start, cloth.hook_spacing))
        assert len(within) == fewest + 1
        count += fewest
    assert len(places) == count


@REPEATABLE
@given(gatherings(), INSETS, DIVISIONS)
def test_hooks_on_the_flat_are_in_proportion_to_half_a_division(cloth, inset, division):
    """The fullness is the same all along."""
    assume(fine_enough(cloth, inset, division))
    points = gathered(cloth, inset, division).hanging_points
    places = hooks(cloth, inset)
    assert [(point.on, point.number) for point in points] == [("gather", n) for n in range(1, len(places) + 1)]
    for point, place in zip(points, places, strict=True):
        assert abs(point.finished - place) <= Fraction(1, 2)
        assert point.flat % division == 0 or point.flat == cloth.flat_width
        exact = place * cloth.flat_width / cloth.finished_width
        assert abs(point.flat - exact) <= Fraction(division, 2)


@REPEATABLE
@given(gatherings(), st.integers(INCH // 4, 3 * INCH), DIVISIONS)
def test_the_whole_width_is_gathered_and_hooks_stay_on_it(cloth, inset, division):
    assume(fine_enough(cloth, inset, division))
    laid_out = gathered(cloth, inset, division)
    assert laid_out.stations == [Station("gather", 0, cloth.flat_width)]
    assert (laid_out.pleats, laid_out.points) == (None, None)
    assert all(0 < point.flat < cloth.flat_width for point in laid_out.hanging_points)
    assert all(0 < point.finished < cloth.finished_width for point in laid_out.hanging_points)


@REPEATABLE
@given(gatherings(), INSETS, DIVISIONS)
def test_every_seam_is_lost_among_the_folds(cloth, inset, division):
    """[common practice]."""
    assume(fine_enough(cloth, inset, division))
    laid_out = gathered(cloth, inset, division)
    assert laid_out.seams == [PlacedSeam(seam, "in-gathers", None, None) for seam in cloth.seams]
    assert laid_out.hides_every_seam


def test_a_straight_panel_of_forty_inches_has_fourteen_hooks():
    """1/2 in to 39 1/2 in are 39 in: thirteen steps of 3 in."""
    assert hooks(CURTAIN, INCH // 2) == [*inches(*(Fraction(1, 2) + 3 * step for step in range(14)))]


def test_an_inch_more_takes_another_hook_and_all_stand_closer():
    """40 in are more than thirteen steps of 3 in: fourteen of 2 6/7 in."""
    places = hooks(replace(CURTAIN, finished_width=41 * INCH), INCH // 2)
    assert len(places) == 15
    assert {after - before for before, after in pairwise(places)} == {Fraction(20, 7) * INCH}


def test_a_panel_with_a_return_has_a_hook_at_the_bend():
    """1 to 46 in are fifteen steps of 3 in, and 46 to 48 in is one of 2 in: seventeen hooks."""
    cloth = replace(CURTAIN, flat_width=98 * INCH, finished_width=49 * INCH, return_=3 * INCH)
    assert hooks(cloth, INCH) == [*inches(*range(1, 47, 3), 48)]


def test_a_panel_from_wall_to_wall_has_a_hook_at_both_bends():
    """1/2 to 4 in is two steps of 1 3/4 in, 4 to 57 in eighteen of 53/18 in, 57 to 59 1/2 in one of 2 1/2 in."""
    cloth = replace(CURTAIN, finished_width=60 * INCH, leading_return=4 * INCH, return_=3 * INCH)
    places = hooks(cloth, INCH // 2)
    steps = [after - before for before, after in pairwise(places)]
    assert steps == [INCH * step for step in (*[Fraction(7, 4)] * 2, *[Fraction(53, 18)] * 18, Fraction(5, 2))]
    assert (places[2], places[20]) == (4 * INCH, 57 * INCH)


def test_an_overlap_does_not_bend():
    """It lies in line with the panel, on the other one [common practice]."""
    assert hooks(replace(CURTAIN, overlap=3 * INCH), INCH) == hooks(CURTAIN, INCH)


@pytest.mark.parametrize("return_", ["1/4", "1/2"])
def test_a_return_no_deeper_than_the_inset_takes_no_hook_of_its_own(return_):
    (deep,) = inches(return_)
    assert hooks(replace(CURTAIN, return_=deep), INCH // 2) == hooks(CURTAIN, INCH // 2)


def test_the_outer_hooks_of_a_narrow_panel_come_in_a_third_at_the_most():
    """3 in wide with hooks 2 in from its edges would cross them: they are at 1 and 2 in."""
    assert hooks(replace(CURTAIN, finished_width=3 * INCH), 2 * INCH) == [*inches(1, 2)]


def test_hooks_are_marked_on_the_flat_as_full_as_the_panel_is():
    """96 in on 40 in is 2 2/5 times: 1/2 in is at 1 1/5 in flat, 3 1/2 in at 8 2/5 in; to an eighth 1 1/4, 8 3/8 in."""
    points = gathered(CURTAIN, INCH // 2, EIGHTH).hanging_points
    assert points[0] == HangingPoint("gather", 1, *inches("5/4", "1/2"))
    assert points[1] == HangingPoint("gather", 2, *inches("67/8", "7/2"))
    # 39 1/2 in is at 94 4/5 in, 94 3/4 in to an eighth.
    assert points[-1] == HangingPoint("gather", 14, *inches("379/4", "79/2"))


def test_a_panel_on_a_rod_all_along_has_no_hooks():
    cloth = replace(CURTAIN, hook_spacing=None, seams=(INCH,))
    assert hooks(cloth, INCH) == []
    laid_out = gathered(cloth, INCH, EIGHTH)
    assert laid_out.hanging_points == []
    assert laid_out.stations == [Station("gather", 0, 96 * INCH)]
    assert laid_out.hides_every_seam


def refused(cloth):
    """The one fault of a panel."""
    with pytest.raises(Impossible) as impossible:
        gathered(cloth, INCH // 2, EIGHTH)
    (fault,) = impossible.value.faults
    for text in (fault.detail, fault.seen, fault.allowed):
        (text or "").format(**fault.lengths)
    return fault


@pytest.mark.parametrize("flat", [60 * INCH - 1, 120 * INCH + 1])
def test_a_fullness_that_cannot_be_gathered_is_refused(flat):
    """40 in at 1 1/2 to 3 times is 60 to 120 in."""
    fault = refused(replace(CURTAIN, flat_width=flat))
    assert fault.where == ("flat_width",)
    assert fault.allowed == "{least} to {most}"
    assert "gathers 1.5 to 3 times: use {least} to {most} of cloth" in fault.detail
    assert (fault.lengths["least"], fault.lengths["most"]) == (60 * INCH, 120 * INCH)
    assert (fault.lengths["flat"], fault.lengths["finished"]) == (flat, 40 * INCH)


@pytest.mark.parametrize("flat", [60 * INCH, 120 * INCH])
def test_the_least_and_the_most_fullness_can_be_gathered(flat):
    assert len(gathered(replace(CURTAIN, flat_width=flat), INCH // 2, EIGHTH).hanging_points) == 14


def test_returns_and_an_overlap_that_leave_nothing_between_them_are_refused():
    """16 + 8 + 16 in are all of the 40 in."""
    cloth = replace(CURTAIN, leading_return=16 * INCH, overlap=8 * INCH, return_=16 * INCH)
    fault = refused(cloth)
    assert fault.where == ("finished_width",)
    assert fault.allowed == "more than {edges}"
    assert fault.lengths["edges"] == 40 * INCH
    assert gathered(replace(cloth, overlap=8 * INCH - 1), INCH, EIGHTH).hanging_points


@pytest.mark.parametrize(("seams", "index", "previous"), [((30, 96), 1, 30), ((0,), 0, 0), ((30, 20), 1, 30)])
def test_a_seam_outside_the_panel_or_out_of_order_is_refused(seams, index, previous):
    fault = refused(replace(CURTAIN, seams=tuple(seam * INCH for seam in seams)))
    assert fault.where == ("seams", index)
    assert fault.allowed == "more than {previous}, less than {flat}"
    assert (fault.lengths["previous"], fault.lengths["flat"]) == (previous * INCH, 96 * INCH)


def test_more_hooks_than_anyone_counts_are_refused():
    """40 in of hooks 1/26 in apart would be 1040 steps."""
    fault = refused(replace(CURTAIN, hook_spacing=INCH // 26))
    assert fault.where == ("finished_width",)
    assert fault.allowed == "up to 1000 hooks"


def test_everything_that_is_wrong_is_said_at_once():
    cloth = replace(CURTAIN, flat_width=200 * INCH, return_=40 * INCH, seams=(200 * INCH,))
    with pytest.raises(Impossible) as impossible:
        gathered(cloth, INCH // 2, EIGHTH)
    assert [fault.where for fault in impossible.value.faults] == [("finished_width",), ("flat_width",), ("seams", 0)]


def test_no_hook_is_marked_beyond_the_cloth():
    """The last hook is at the edge itself: 11 of cloth is no whole number of divisions of 4."""
    with pytest.raises(Impossible):
        gathered(Gathering(11, 5, 0, 0, 0, (), Fraction(1), Fraction(3), 2), 0, 4)
    places = [
        each.flat
        for each in gathered(Gathering(110, 50, 0, 0, 0, (), Fraction(1), Fraction(3), 20), 0, 4).hanging_points
    ]
    assert places[-1] == 110


def test_a_rule_too_coarse_for_the_hooks_is_refused():
    cloth = Gathering(1000, 480, 0, 0, 0, (), Fraction(1), Fraction(3), 30)
    with pytest.raises(Impossible) as impossible:
        gathered(cloth, 5, 100)
    assert [fault.where for fault in impossible.value.faults] == [("mark",)]


def test_a_bend_hard_by_an_edge_has_no_hook_of_its_own():
    """The inset is 5 and the bend at 6 from the edge, less than a quarter of a spacing of 30 away."""
    places = hooks(Gathering(1000, 480, 0, 0, 6, (), Fraction(1), Fraction(3), 30), 5)
    assert places[-1] == 475
    assert 474 not in places
