"""Panels from a window's measurements; every expected figure is worked by hand beside it."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH
from pleatwright.trade.panel import (
    MOST_WIDTHS,
    cut_length,
    finished_widths,
    flat_width,
    halves_for,
    panels,
    seam_positions,
)
from pleatwright.trade.window import Hang, MakeUp, Rod

REPEATABLE = settings(derandomize=True, database=None, deadline=None)
BOLT = 54 * INCH
MAKE_UP = MakeUp(side_hem=3 * INCH, bottom_hem=8 * INCH, top_turning=8 * INCH, seam_allowance=INCH // 2, ease=0)
ROD = Rod(width=120 * INCH, return_=7 * INCH // 2, overlap=3 * INCH, draw="pair")
FIXED = replace(ROD, draw="fixed-pair", panel_width=20 * INCH, overlap=0)
TINY = Rod(width=INCH, return_=0, overlap=0, draw="one-way-left")
SMALL = replace(ROD, draw="one-way-left", width=20 * INCH, return_=0)
HANG = Hang(carrying_height=96 * INCH, heading_above=INCH // 4, to="floor", level=0, clearance=INCH)


def made(rod=ROD, hang=HANG, bolt=BOLT, selvage=0, fullness=Fraction(2), make_up=MAKE_UP):
    return panels(rod, hang, bolt, selvage, lambda width: fullness * width, make_up)


def faults(**figures):
    with pytest.raises(Impossible) as impossible:
        made(**figures)
    return impossible.value.faults


def in_inches(widths):
    return [(side, width / INCH) for side, width in widths]


@pytest.mark.parametrize(
    ("rod", "widths"),
    [
        # Half the rod + half the overlap + return: 60 + 1 1/2 + 3 1/2.
        (ROD, [("left", 65), ("right", 65)]),
        (replace(ROD, overlap=0), [("left", 63.5), ("right", 63.5)]),
        (replace(ROD, return_=0), [("left", 61.5), ("right", 61.5)]),
        # The whole rod + return, and a return at the leading end if there is one; an overlap adds nothing.
        (replace(ROD, draw="one-way-left", overlap=0), [("left", 123.5)]),
        (replace(ROD, draw="one-way-right", overlap=0), [("right", 123.5)]),
        (replace(ROD, draw="one-way-right", leading_return=2 * INCH), [("right", 125.5)]),
        # 40 and 80 of the rod, each + 1 1/2 + 3 1/2.
        (replace(ROD, draw="off-centre-pair", parting=40 * INCH), [("left", 45), ("right", 85)]),
        # Its own face + return.
        (replace(ROD, draw="fixed-pair", overlap=0, panel_width=20 * INCH), [("left", 23.5), ("right", 23.5)]),
        (replace(ROD, draw="fixed-pair", overlap=0, panel_width=60 * INCH), [("left", 63.5), ("right", 63.5)]),
    ],
)
def test_a_draw_has_its_finished_widths(rod, widths):
    assert in_inches(finished_widths(rod)) == widths
    assert in_inches([(panel.side, panel.finished_width) for panel in made(rod)]) == widths


def test_a_half_of_an_odd_width_is_rounded_up():
    assert finished_widths(Rod(width=121, return_=4, overlap=2, draw="pair")) == [("left", 66), ("right", 66)]
    assert finished_widths(Rod(width=120, return_=4, overlap=3, draw="off-centre-pair", parting=40)) == [
        ("left", 46),
        ("right", 86),
    ]


@pytest.mark.parametrize(
    ("rod", "flat_pieces"),
    [
        (ROD, (0, 3, 3.5)),
        (replace(ROD, draw="one-way-left", leading_return=2 * INCH), (2, 3, 3.5)),
        (replace(ROD, draw="fixed-pair", overlap=0, panel_width=20 * INCH), (0, 0, 3.5)),
    ],
)
def test_a_panel_keeps_its_flat_pieces(rod, flat_pieces):
    """The leading edge of a pair is flat for the whole overlap; a fixed panel has none."""
    for panel in made(rod):
        assert (panel.leading_return / INCH, panel.overlap / INCH, panel.return_ / INCH) == flat_pieces


@pytest.mark.parametrize(
    ("to", "level", "clearance", "length"),
    [
        # The top of the heading is at 96 + 1/4.
        ("floor", 0, 1, 95.25),
        ("floor", 0, 0, 96.25),
        ("sill", 36, 0.5, 59.75),
        ("apron", 33, -1, 64.25),
        ("break", 0, -1, 97.25),
        ("puddle", 0, -6, 102.25),
    ],
)
def test_a_panel_is_as_long_as_what_it_hangs_to(to, level, clearance, length):
    hang = replace(HANG, to=to, level=level * INCH, clearance=int(clearance * INCH))
    assert hang.finished_length == length * INCH
    assert all(panel.finished_length == length * INCH for panel in made(hang=hang))


def test_a_heading_below_the_carrying_point_shortens_the_panel():
    assert replace(HANG, heading_above=-INCH).finished_length == 94 * INCH


def test_a_cut_is_the_finished_length_with_turning_and_hem_and_ease():
    """95 1/4 + 8 + 8 + 2 = 113 1/4."""
    make_up = replace(MAKE_UP, ease=2 * INCH)
    assert cut_length(HANG.finished_length, make_up) == 453 * INCH // 4
    assert {panel.cut_length for panel in made(make_up=make_up)} == {453 * INCH // 4}


@pytest.mark.parametrize(
    ("halves", "flat", "seams"),
    [
        # w x 54 - 1 in a seam - 6; a seam at 54 - 3 - 1/2 = 50 1/2, then every 53.
        (1, 21, []),
        (2, 48, []),
        (3, 74, [50.5]),
        (4, 101, [50.5]),
        (5, 127, [50.5, 103.5]),
        (6, 154, [50.5, 103.5]),
        (7, 180, [50.5, 103.5, 156.5]),
        (8, 207, [50.5, 103.5, 156.5]),
    ],
)
def test_widths_seamed_together_are_as_wide_as_worked_by_hand(halves, flat, seams):
    assert flat_width(halves, BOLT, MAKE_UP) == flat * INCH
    assert [seam / INCH for seam in seam_positions(halves, BOLT, MAKE_UP)] == seams
    panel = made(SMALL, make_up=replace(MAKE_UP, halves=halves))[0]
    assert (panel.flat_width, panel.pieces) == (flat * INCH, len(seams) + 1)
    assert panel.fullness == Fraction(flat, 20)


def test_a_selvage_is_lost_at_both_edges_of_every_width():
    """54 - 2 x 1/2 = 53 usable: 3 x 53 - 2 - 6 = 151, seams at 49 1/2 and 101 1/2."""
    panel = made(selvage=INCH // 2, make_up=replace(MAKE_UP, halves=6))[0]
    assert panel.flat_width == 151 * INCH
    assert [seam / INCH for seam in panel.seams] == [49.5, 101.5]


def test_the_last_piece_is_what_the_last_seam_leaves():
    """A half width of 27 less 1/2 for the seam and 3 for the hem shows 23 1/2: it lies at the return side."""
    panel = made(make_up=replace(MAKE_UP, halves=5))[0]
    assert panel.flat_width - panel.seams[-1] == 47 * INCH // 2


@pytest.mark.parametrize(
    ("asked", "half", "whole", "nearest_half", "nearest_whole"),
    [
        # Sewn: 1/2 width 21, 1 48, 1 1/2 74, 2 101, 2 1/2 127, 3 154.
        (127, 5, 6, 5, 4),
        (128, 6, 6, 5, 6),
        (126, 5, 6, 5, 4),
        (154, 6, 6, 6, 6),
        (114, 5, 6, 5, 4),
        (113, 5, 6, 4, 4),
        (20, 1, 2, 1, 2),
        # Half way between the two, the wider.
        (Fraction(281, 2), 6, 6, 6, 6),
    ],
)
def test_widths_are_the_fewest_or_the_nearest_as_asked(asked, half, whole, nearest_half, nearest_whole):
    asked = Fraction(asked) * INCH
    wholes = replace(MAKE_UP, half_widths=False)
    assert halves_for(asked, BOLT, MAKE_UP) == half
    assert halves_for(asked, BOLT, wholes) == whole
    assert halves_for(asked, BOLT, replace(MAKE_UP, nearest=True)) == nearest_half
    assert halves_for(asked, BOLT, replace(wholes, nearest=True)) == nearest_whole


def test_the_widths_that_a_maker_has_settled_are_taken():
    assert halves_for(Fraction(1), BOLT, replace(MAKE_UP, halves=7)) == 7


def test_a_hair_more_than_the_cloth_holds_takes_another_half_width():
    assert halves_for(127 * INCH + Fraction(1, 3), BOLT, MAKE_UP) == 6


def test_more_widths_than_a_panel_may_have_are_refused():
    (fault,) = faults(rod=replace(ROD, width=10_000 * INCH))
    assert fault.where == ("fullness",)
    assert f"over {MOST_WIDTHS} widths" in fault.detail
    # 5005 finished, twice that asked.
    assert fault.lengths["asked"] == 10_010 * INCH


def test_every_fault_is_found_at_once_and_named_by_its_path():
    found = faults(
        rod=Rod(width=0, return_=0, overlap=0, draw="off-centre-pair", panel_width=INCH, leading_return=INCH),
        hang=Hang(carrying_height=30 * INCH, heading_above=0, to="puddle", level=36 * INCH, clearance=INCH),
        bolt=2 * INCH,
        selvage=INCH,
        make_up=replace(MAKE_UP, halves=3, half_widths=False),
    )
    assert {fault.where for fault in found} == {
        ("rod", "width"),
        ("rod", "parting"),
        ("rod", "panel_width"),
        ("rod", "leading_return"),
        ("hang", "carrying_height"),
        ("hang", "clearance"),
        ("fabric", "width"),
        ("make_up", "width_count"),
    }
    assert len(found) == 8


@pytest.mark.parametrize(
    ("figures", "where"),
    [
        ({"rod": replace(ROD, width=-1)}, ("rod", "width")),
        ({"rod": replace(ROD, draw="off-centre-pair")}, ("rod", "parting")),
        ({"rod": replace(ROD, draw="off-centre-pair", parting=0)}, ("rod", "parting")),
        ({"rod": replace(ROD, draw="off-centre-pair", parting=ROD.width)}, ("rod", "parting")),
        ({"rod": replace(ROD, parting=60 * INCH)}, ("rod", "parting")),
        ({"rod": replace(ROD, draw="fixed-pair", overlap=0)}, ("rod", "panel_width")),
        ({"rod": replace(ROD, draw="fixed-pair", overlap=0, panel_width=0)}, ("rod", "panel_width")),
        ({"rod": replace(ROD, draw="fixed-pair", overlap=0, panel_width=60 * INCH + 1)}, ("rod", "panel_width")),
        ({"rod": replace(ROD, draw="one-way-left", panel_width=INCH)}, ("rod", "panel_width")),
        ({"rod": replace(ROD, leading_return=INCH)}, ("rod", "leading_return")),
        ({"rod": replace(ROD, draw="fixed-pair", panel_width=20 * INCH)}, ("rod", "overlap")),
        ({"hang": replace(HANG, level=97 * INCH)}, ("hang", "carrying_height")),
        ({"hang": replace(HANG, clearance=385 * INCH // 4)}, ("hang", "clearance")),
        ({"hang": replace(HANG, to="break", clearance=0)}, ("hang", "clearance")),
        ({"hang": replace(HANG, to="puddle", clearance=INCH)}, ("hang", "clearance")),
        ({"bolt": INCH}, ("fabric", "width")),
        ({"selvage": 27 * INCH}, ("fabric", "width")),
        ({"make_up": replace(MAKE_UP, seam_allowance=27 * INCH)}, ("fabric", "width")),
        ({"make_up": replace(MAKE_UP, side_hem=2_700 * INCH)}, ("make_up", "side_hem")),
        ({"make_up": replace(MAKE_UP, halves=5, half_widths=False)}, ("make_up", "width_count")),
        ({"make_up": replace(MAKE_UP, halves=1, side_hem=14 * INCH)}, ("make_up", "width_count")),
    ],
)
def test_a_figure_that_cannot_be_is_the_one_at_fault(figures, where):
    (fault,) = faults(**figures)
    assert fault.where == where
    assert fault.allowed


def test_the_words_of_a_fault_have_every_length_they_speak_of():
    for figures in (
        {"rod": replace(ROD, width=0, parting=INCH)},
        {"hang": replace(HANG, to="break", level=97 * INCH, clearance=0)},
        {"hang": replace(HANG, clearance=100 * INCH)},
        {"rod": replace(FIXED, overlap=INCH, panel_width=None)},
        {"rod": replace(ROD, overlap=120 * INCH)},
        {"bolt": INCH},
        {"make_up": replace(MAKE_UP, side_hem=2_700 * INCH)},
        {"rod": replace(ROD, width=10_000 * INCH)},
    ):
        for fault in faults(**figures):
            for words in (fault.detail, fault.seen, fault.allowed):
                assert "{" not in (words or "").format_map(fault.lengths)


# A width of cloth at least four seam allowances wide: less, and a half width would not be worth its own seam.
BOLTS = st.integers(30 * INCH, 130 * INCH)
HEMS = st.integers(0, 6 * INCH)
ALLOWANCES = st.integers(0, 2 * INCH)
FINISHED = st.integers(10 * INCH, 400 * INCH)
FULLNESSES = st.integers(100, 400).map(lambda hundredths: Fraction(hundredths, 100))


@REPEATABLE
@given(BOLTS, HEMS, ALLOWANCES, st.integers(1, 199))
def test_another_half_width_never_gives_less_fullness(bolt, hem, allowance, halves):
    make_up = replace(MAKE_UP, side_hem=hem, seam_allowance=allowance)
    fewer, more = (made(TINY, bolt=bolt, make_up=replace(make_up, halves=max(2, halves) + one))[0] for one in (0, 1))
    assert fewer.fullness <= more.fullness


@REPEATABLE
@given(BOLTS, st.integers(0, 20 * INCH), HEMS, ALLOWANCES, st.integers(2, 200))
def test_wider_cloth_never_gives_less_fullness(bolt, wider, hem, allowance, halves):
    make_up = replace(MAKE_UP, side_hem=hem, seam_allowance=allowance, halves=halves)
    narrow, wide = (made(TINY, bolt=width, make_up=make_up)[0] for width in (bolt, bolt + wider))
    assert narrow.fullness <= wide.fullness


@REPEATABLE
@given(BOLTS, HEMS, ALLOWANCES, FINISHED, FULLNESSES, st.booleans())
def test_widths_are_the_fewest_that_reach_the_fullness_asked(bolt, hem, allowance, finished, fullness, half_widths):
    """By trying every count, and by the cloth counted out piece by piece."""
    make_up = replace(MAKE_UP, side_hem=hem, seam_allowance=allowance, half_widths=half_widths)

    def sewn(halves):
        pieces = [Fraction(bolt)] * (halves // 2) + [Fraction(bolt, 2)] * (halves % 2)
        return sum(pieces) - 2 * allowance * (len(pieces) - 1) - 2 * hem

    tried = (halves for halves in range(1, 2 * MOST_WIDTHS + 1) if half_widths or halves % 2 == 0)
    fewest = next(halves for halves in tried if int(sewn(halves)) >= fullness * finished)
    rod = Rod(width=finished, return_=0, overlap=0, draw="one-way-left")
    (panel,) = made(rod=rod, bolt=bolt, fullness=fullness, make_up=make_up)
    assert panel.halves == fewest
    assert panel.flat_width == int(sewn(fewest))
    assert panel.fullness >= fullness


@REPEATABLE
@given(BOLTS, HEMS, ALLOWANCES, FINISHED, FULLNESSES)
def test_no_count_of_widths_is_nearer_than_the_nearest(bolt, hem, allowance, finished, fullness):
    make_up = replace(MAKE_UP, side_hem=hem, seam_allowance=allowance, nearest=True)
    asked = fullness * finished
    off = {halves: abs(flat_width(halves, bolt, make_up) - asked) for halves in range(1, 2 * MOST_WIDTHS + 1)}
    assert off[halves_for(asked, bolt, make_up)] == min(off.values())


@REPEATABLE
@given(BOLTS, HEMS, ALLOWANCES, st.integers(1, 200))
def test_seams_part_the_flat_width_into_widths_of_cloth(bolt, hem, allowance, halves):
    make_up = replace(MAKE_UP, side_hem=hem, seam_allowance=allowance)
    flat = flat_width(halves, bolt, make_up)
    ends = [0, *seam_positions(halves, bolt, make_up), flat]
    shown = [right - left for left, right in pairwise(ends)]
    pieces = [bolt] * (halves // 2) + [bolt // 2] * (halves % 2)
    lost = [2 * allowance] * len(pieces)
    lost[0] += hem - allowance
    lost[-1] += hem - allowance
    assert shown == [piece - loss for piece, loss in zip(pieces, lost, strict=True)]


def test_the_nearest_widths_are_never_too_few_to_cover_the_window():
    """1 1/2 widths of 48 less 3 in at each edge are 66, nearer to 71 than the 90 of 2; but 67 are to be covered."""
    make_up = MakeUp(3 * INCH, 0, 0, 0, 0, nearest=True)
    asked, usable, finished = 72 * INCH - INCH, 48 * INCH, 67 * INCH
    assert flat_width(3, usable, make_up) == 66 * INCH
    assert halves_for(asked, usable, make_up) == 3
    assert halves_for(asked, usable, make_up, finished) == 4
