"""A panel pleated to its pattern, asked of the workroom: sums worked by hand [geometry]."""

from itertools import pairwise

import pytest

from pleatwright.faults import Impossible

PANEL = {
    "units": "in",
    "heading": {"style": "three-fold-pinch"},
    "flat_width": "127",
    "finished_width": "53",
    "overlap": "3",
    "return": "3 1/2",
    "seams": ["49 1/2", "103 1/2"],
    "horizontal_repeat": "27",
}


def test_every_space_shows_the_same_motif_and_the_surplus_comes_off_the_edges(ask):
    """Three pleats to 27 in are 9 in apart. 46 1/2 in of spaces over 12 are 3 7/8, and 9 - 3 7/8 = 5 1/8 taken up.

    13 pleats take 53 + 13 x 5 1/8 = 119 5/8 of 127: 7 3/8 come off. With 5 3/8 off the leading edge the seam at 49 1/2
    is 44 1/8 on, which is 3 + 5 x 9 - 3 7/8, the end of the fifth pleat; the other is two repeats of 27 in farther.
    """
    reply = ask("pleats", PANEL)
    assert (reply.pleat_count, reply.space) == (13, 3.875)
    assert (reply.take_up.least, reply.take_up.most) == (5.125, 5.125)
    best = reply.pattern[0]
    assert (best.parts, best.leading_trim, best.return_trim) == (3, 5.375, 2)
    assert best.fullness == pytest.approx(119.625 / 53, abs=1e-3)
    assert [(each.kind, each.end - each.start) for each in (reply.stations[0], reply.stations[-1])] == [
        ("surplus", 5.375),
        ("surplus", 2),
    ]
    assert [(seam.place, seam.pleat, seam.side) for seam in reply.seams] == [
        ("beside-pleat", 5, "return"),
        ("beside-pleat", 11, "return"),
    ]
    starts = [each.start for each in reply.stations if each.kind == "pleat"]
    assert {after - before for before, after in pairwise(starts)} == {9}
    assert reply.stations[0].start == 0
    assert reply.stations[-1].end == 127
    [trim] = [each for each in reply.cautions if each.kind == "trim-to-the-pattern"]
    assert "5 3/8 in off the leading edge and 2 in off the return edge" in trim.detail


def test_pins_go_where_the_pleats_are(ask):
    reply = ask("pleats", PANEL)
    starts = [each.start for each in reply.stations if each.kind == "pleat"]
    assert [point.flat for point in reply.hanging_points if point.on == "pleat"] == starts


def test_a_seam_in_a_strip_that_comes_off_is_no_seam(ask):
    reply = ask("pleats", PANEL | {"seams": ["1", "49 1/2", "103 1/2"]})
    assert [seam.place for seam in reply.seams] == ["in-surplus", "beside-pleat", "beside-pleat"]


def test_every_choice_keeps_the_pitch_a_part_of_the_repeat(ask):
    reply = ask("pleats", PANEL | {"horizontal_repeat": "25 1/4", "flat_width": "150"})
    assert reply.pattern
    for each in reply.pattern:
        assert (each.space + each.take_up) * each.parts == pytest.approx(25.25, abs=0.01)
        kept = 150 - each.leading_trim - each.return_trim
        assert kept == pytest.approx(53 + each.pleat_count * each.take_up, abs=0.02)


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"horizontal_repeat": "7"}, ("horizontal_repeat",)),
        ({"flat_width": "110"}, ("flat_width",)),
        ({"heading": {"style": "pencil"}}, ("horizontal_repeat",)),
        ({"planned": {"flat_width": "127", "seams": ["49 1/2", "103 1/2"]}}, ("planned",)),
    ],
)
def test_a_panel_that_cannot_be_pleated_to_the_pattern_is_refused(ask, changes, where):
    """A pitch is 4 + 3 in at the least, and with spaces of 3 7/8 more; 27 in in three asks for 119 5/8 in of cloth."""
    with pytest.raises(Impossible) as impossible:
        ask("pleats", PANEL | changes)
    assert where in [fault.where for fault in impossible.value.faults]


def test_the_pins_of_a_panel_yet_to_be_trimmed_are_refused(ask):
    with pytest.raises(Impossible) as impossible:
        ask("pins", PANEL)
    assert [fault.where for fault in impossible.value.faults] == [("horizontal_repeat",)]


def test_more_seams_and_pleats_than_can_be_tried_are_refused_at_once(ask):
    seams = [37 * number for number in range(1, 200)]
    panel = {"flat_width": "7500", "finished_width": "2000", "seams": seams, "horizontal_repeat": "27"}
    with pytest.raises(Impossible) as impossible:
        ask("pleats", PANEL | panel)
    assert [fault.where for fault in impossible.value.faults] == [("seams",)]
