"""Pins: how deep they go, where they stand, and which cannot be; every figure is worked by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, inches, length_text
from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.marks import Station
from pleatwright.trade.pins import pin_depth, pins
from pleatwright.workroom import usual

REPEATABLE = settings(derandomize=True, database=None, deadline=None)

# Flat 30: overlap 3, pleats of 5, spaces of 4, return 4; finished 3 + 4 + 4 + 4 = 15.
ROW = [
    Station("overlap", 0, 3),
    Station("pleat", 3, 8, 1),
    Station("space", 8, 12, 1),
    Station("pleat", 12, 17, 2),
    Station("space", 17, 21, 2),
    Station("pleat", 21, 26, 3),
    Station("return", 26, 30),
]


@pytest.mark.parametrize(
    ("above", "rise", "buckram", "depth"),
    [
        ("1/4", "1 3/8", "4", "1 5/8"),
        ("0", "1 3/8", "4", "1 3/8"),
        ("1", "1 3/8", "4", "2 3/8"),
        ("1/4", "3/4", "2", "1"),
        ("2 5/8", "1 3/8", "4", "4"),
    ],
)
def test_a_pin_goes_in_by_its_rise_below_the_carrying_point(above, rise, buckram, depth):
    assert pin_depth(inches(above), inches(rise), inches(buckram)) == inches(depth)


def test_the_usual_rise_is_one_and_three_eighths():
    """Common practice."""
    assert usual.PIN_RISE.inch == inches("1 3/8")


@pytest.mark.parametrize(
    ("above", "rise", "buckram", "where", "words"),
    [
        (-1, INCH, 4 * INCH, [("heading_above",)], "would stand above the heading"),
        (0, 0, 4 * INCH, [("pin", "rise")], "more than nothing"),
        (0, -INCH, 4 * INCH, [("pin", "rise")], "more than nothing"),
        (0, 4 * INCH + 1, 4 * INCH, [("pin", "rise")], "below the buckram"),
        (INCH, INCH + 1, 2 * INCH, [("pin", "rise")], "below the buckram"),
        (3 * INCH, INCH, 2 * INCH, [("heading_above",)], "below the buckram"),
        (-INCH, 0, 2 * INCH, [("heading_above",), ("pin", "rise")], "would stand above the heading"),
        (-INCH, 9 * INCH, 2 * INCH, [("heading_above",)], "would stand above the heading"),
    ],
)
def test_a_pin_that_shows_or_tears_out_is_refused(above, rise, buckram, where, words):
    with pytest.raises(Impossible, match=words) as impossible:
        pin_depth(above, rise, buckram)
    assert [fault.where for fault in impossible.value.faults] == where


def worded(fault):
    return [
        text.format_map({name: length_text(length, "in") for name, length in fault.lengths.items()})
        for text in (fault.detail, fault.seen, fault.allowed)
    ]


def test_a_pin_below_the_buckram_is_told_the_most_its_rise_may_be():
    """4 in of buckram less 1/4 in of heading above the carrying point leaves 3 3/4."""
    with pytest.raises(Impossible) as impossible:
        pin_depth(inches("1/4"), inches("4"), inches("4"))
    detail, *seen_and_allowed = worded(*impossible.value.faults)
    assert "would enter 4 1/4 in down, below the buckram or tape of 4 in" in detail
    assert seen_and_allowed == ["4 in", "up to 3 3/4 in"]


def test_a_heading_as_far_above_the_carrying_point_as_the_buckram_is_deep_takes_no_pin():
    with pytest.raises(Impossible) as impossible:
        pin_depth(inches("4"), inches("1/2"), inches("4"))
    assert worded(*impossible.value.faults)[1:] == ["4 in", "less than 4 in"]


@REPEATABLE
@given(st.integers(-INCH, 5 * INCH), st.integers(-INCH, 5 * INCH), st.integers(INCH, 5 * INCH))
def test_a_depth_lies_within_the_buckram_or_is_refused(above, rise, buckram):
    possible = above >= 0 and rise > 0 and above + rise <= buckram
    if possible:
        assert pin_depth(above, rise, buckram) == above + rise
        return
    with pytest.raises(Impossible):
        pin_depth(above, rise, buckram)


def test_pins_stand_on_the_flat_and_on_the_finished_panel_where_worked_by_hand():
    """In the flat pieces 1 from the panel's edges; at a pleat where it starts, its two marks sewn together.

    Finished, the pleats stand at 3, 3 + 4 = 7 and 7 + 4 = 11, and the return ends at 15.
    """
    assert pins(ROW, edge_inset=1) == [
        HangingPoint("overlap", 1, 1, 1),
        HangingPoint("pleat", 1, 3, 3),
        HangingPoint("pleat", 2, 12, 7),
        HangingPoint("pleat", 3, 21, 11),
        HangingPoint("return", 1, 29, 14),
    ]


def test_a_pin_stands_in_the_middle_of_a_flat_piece_too_narrow_for_its_inset():
    """Half of 3 is 1, whole units; half of 4 is 2."""
    found = pins(ROW, edge_inset=100)
    assert (found[0].flat, found[0].finished) == (1, 1)
    assert (found[-1].flat, found[-1].finished) == (28, 13)


def test_pins_without_flat_pieces_are_one_to_a_pleat():
    """The same row without overlap and return."""
    assert pins(ROW[1:-1], edge_inset=1) == [
        HangingPoint("pleat", 1, 3, 0),
        HangingPoint("pleat", 2, 12, 4),
        HangingPoint("pleat", 3, 21, 8),
    ]


def test_a_return_at_the_leading_end_takes_a_pin_of_its_own():
    """A return of 2, an overlap of 3, one space of 4 between two pleats of 5, a return of 4."""
    row = [
        Station("return", 0, 2),
        Station("overlap", 2, 5),
        Station("pleat", 5, 10, 1),
        Station("space", 10, 14, 1),
        Station("pleat", 14, 19, 2),
        Station("return", 19, 23),
    ]
    assert pins(row, edge_inset=1) == [
        HangingPoint("return", 1, 1, 1),
        HangingPoint("overlap", 1, 3, 3),
        HangingPoint("pleat", 1, 5, 5),
        HangingPoint("pleat", 2, 14, 9),
        HangingPoint("return", 2, 22, 12),
    ]


@REPEATABLE
@given(st.lists(st.tuples(st.integers(1, 99), st.integers(1, 99)), min_size=2, max_size=30), st.integers(0, 60))
def test_there_is_a_pin_at_every_pleat_and_in_every_flat_piece(pleats_and_spaces, edge_inset):
    row = [Station("overlap", 0, 50)]
    for number, (take_up, space) in enumerate(pleats_and_spaces, 1):
        at = row[-1].end
        row += [
            Station("pleat", at, at + take_up, number),
            Station("space", at + take_up, at + take_up + space, number),
        ]
    row[-1] = Station("return", row[-1].start, row[-1].start + 70)
    found = pins(row, edge_inset)
    finished = 50 + sum(space for _, space in pleats_and_spaces[:-1]) + 70
    assert len(found) == len(pleats_and_spaces) + 2
    assert [pin.flat for pin in found[1:-1]] == [piece.start for piece in row if piece.kind == "pleat"]
    assert [pin.number for pin in found[1:-1]] == list(range(1, len(pleats_and_spaces) + 1))
    assert row[-1].end - found[-1].flat == finished - found[-1].finished == min(edge_inset, 35)
    assert found[0].flat == found[0].finished == min(edge_inset, 25)
    assert sorted(found, key=lambda pin: pin.finished) == found
