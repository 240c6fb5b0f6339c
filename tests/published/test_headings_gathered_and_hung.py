"""Gathered headings and headings that hang from points, against what workrooms commonly do and against geometry."""

import itertools
import json
import math
from pathlib import Path

import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible
from pleatwright.lengths import inches

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples" / "headings"
WINDOW = {
    "units": "in",
    "rod": {"width": 96, "return": 0},
    "hang": {"carrying_height": 96, "clearance": 1},
    "fabric": {"width": 54},
}
JOB = {"units": "in", "fabrics": {"linen": {"width": 54}}}


def in_inches(value, usual, *field, least=1):
    """Read an option that is given in inches."""
    return usual if value is None else inches(str(value))


def hung(ask, heading, flat, finished, **more):
    """A panel laid out under a heading, measured in inches."""
    return ask("pleats", {"units": "in", "heading": heading, "flat_width": flat, "finished_width": finished} | more)


@pytest.mark.parametrize("flat", [60, 75, 88.5, 101, 120, 127.25, 154, 207])
def test_eyelets_are_even_in_number_so_that_both_edges_turn_to_the_wall(ask, flat):
    """Common practice. The gaps stand to the front and the back in turn, the first and the last to the front."""
    reply = hung(ask, {"style": "eyelet"}, flat, flat / 2)
    assert reply.points.count % 2 == 0
    edges = [station for station in reply.stations if station.kind == "edge"]
    assert [edges[0].start, edges[1].end] == [0, flat]
    # Half a gap is left beyond the outer eyelets, to turn in.
    assert [each.end - each.start for each in edges] == pytest.approx([reply.points.gap / 2] * 2, abs=1 / 16)


def test_eyelets_stand_about_six_inches_apart_with_a_buckram_of_four(headings):
    """Common practice."""
    figures = workroom.heading("eyelet", headings, "in")
    assert 5.5 <= figures.gap.usual <= 6.5
    assert (figures.depth, figures.point_counts) == (4, "even")


def test_an_eyelet_whose_hole_the_rod_does_not_fit_is_refused(ask):
    """Geometry: a rod of 6 in girth is 6 / pi = 1.91 in across."""
    with pytest.raises(Impossible) as impossible:
        hung(ask, {"style": "eyelet", "rod_girth": 6}, 101, 48)
    assert [fault.where for fault in impossible.value.faults] == [("heading", "hole")]
    assert hung(ask, {"style": "eyelet", "rod_girth": 6, "hole": 2.25}, 101, 48).points.count % 2 == 0


def test_an_eyelet_hangs_its_panel_by_the_top_of_its_hole(ask):
    """Geometry: middles 2 in down and holes 1 1/2 in across reach 2 - 3/4 = 1 1/4 in below the top; 96 + 1 1/4 - 1."""
    heading = {"style": "eyelet", "set_down": 2, "hole": 1.5}
    assert {each.finished_length for each in ask("panel", WINDOW | {"heading": heading}).panels} == {96.25}


@pytest.mark.parametrize(("girth", "ease", "frill", "depth"), [(4, 0.5, 0, 2.5), (3.5, 0.25, 2, 4), (5, 0, 1, 3.5)])
def test_a_rod_pocket_is_half_the_girth_and_its_ease_deep_below_its_frill(headings, girth, ease, frill, depth):
    """Geometry: two layers of cloth go once round the rod."""
    heading = headings.installed["rod-pocket"].heading
    made = heading.make(heading.options(rod_girth=girth, ease=ease, frill=frill), in_inches)
    assert made.depth == inches(str(depth))
    # What is turned over at the top is the frill, the pocket and 1/2 in under [common practice].
    assert made.top_turning == inches(str(depth + 0.5))


def test_a_tight_pocket_hangs_shorter_by_what_goes_round_the_rod(ask):
    """Geometry: half a girth of 2 pi in is pi in deep, on a rod that is 2 in across: pi - 2 = 1.1416 in longer."""
    heading = {"style": "rod-pocket", "rod_girth": 2 * math.pi, "ease": 0}
    lengths = [each.finished_length for each in ask("panel", WINDOW | {"heading": heading}).panels]
    assert lengths == pytest.approx([95 + math.pi - 2] * 2, abs=1e-3)


def test_tabs_go_once_round_the_rod_and_down_to_the_panel(ask, headings):
    """Geometry: a rod 2 in across, 1 in above the panel: tangents of sqrt(2^2 - 1), and 2/3 of the girth over it."""
    heading = {"style": "tab-top", "rod_girth": 2 * math.pi, "below": 1}
    # The panel's top is 2 + 1 = 3 in below the top of the rod: 96 - 3 - 1.
    lengths = [each.finished_length for each in ask("panel", WINDOW | {"heading": heading}).panels]
    assert lengths == pytest.approx([92, 92], abs=1e-3)
    window = {"label": "bay", "fabric": "linen", "heading": heading, "rod": WINDOW["rod"], "hang": WINDOW["hang"]}
    [tab] = ask("estimate", JOB | {"windows": [window]}).materials.sundries
    # And half an inch sewn in at both ends.
    assert tab.size.most == pytest.approx(2 * math.sqrt(3) + 4 * math.pi / 3 + 1, abs=1e-3)


@pytest.mark.parametrize(
    ("rod", "carriers", "snaps", "gaps"),
    [
        # (96 - 3) / 2 = 46 1/2 between the flat pieces: 23 1/4 gaps of 2 in, so an even 24.
        (96, 2, 4, 24),
        # (120 - 3) / 2 = 58 1/2: 30 gaps of 2 in.
        (120, 2, 5, 30),
        # (120 - 3) / 2 = 58 1/2: 58 1/2 / 3 = 19 1/2, so 20 gaps.
        (120, 3, 6, 20),
    ],
)
def test_snaps_and_carriers_fix_the_fullness_over_an_even_number_of_gaps(ask, rod, carriers, snaps, gaps):
    """Common practice: the snap spacing by the carrier spacing is the fullness; carriers are one more than gaps."""
    window = {
        "label": "bay",
        "rod": {"width": rod, "return": 3, "overlap": 3},
        "hang": {"carrying_height": 96, "clearance": 1},
        "fabric": "linen",
        "heading": {"style": "wave", "snap_spacing": snaps, "carrier_spacing": carriers},
    }
    reply = ask("estimate", JOB | {"windows": [window]})
    assert [(each.at, each.value) for each in reply.assumed if each.measure == "ratio"] == [
        ("/windows/0/fullness", snaps / carriers)
    ]
    for panel in reply.windows[0].panels:
        points = panel.pleats.points
        assert (points.count, points.gap) == (gaps + 1, snaps)
        assert points.finished_gap == pytest.approx((rod - 3) / 2 / gaps, abs=1e-3)
        surplus = sum(each.end - each.start for each in panel.pleats.stations if each.kind == "surplus")
        assert panel.flat_width - surplus == 3 + gaps * snaps + 3
    taken = {each.kind: each.count for each in reply.materials.sundries if each.kind in ("snap", "carrier")}
    assert taken == {"snap": 2 * (gaps + 1), "carrier": 2 * (gaps + 1)}


def test_a_fullness_that_the_snaps_do_not_make_is_refused(ask):
    window = WINDOW | {"heading": {"style": "wave"}, "fullness": 2.5}
    with pytest.raises(Impossible) as impossible:
        ask("panel", window)
    assert [(fault.where, fault.allowed) for fault in impossible.value.faults] == [(("fullness",), "2")]


@pytest.mark.parametrize(("style", "depth"), [("pencil", 3), ("gathered", 2)])
def test_a_tape_hangs_by_a_hook_at_each_edge_and_bend_and_no_more_than_three_inches_apart(ask, style, depth):
    """Common practice. The gathered heading has a 1 in tape below a 1 in frill."""
    reply = ask(
        "pins", {"units": "in", "heading": {"style": style}, "flat_width": 101, "finished_width": 50, "return": 3}
    )
    places = [pin.finished for pin in reply.pins]
    assert places[0] == 0.5
    assert places[-1] == 49.5
    assert 47 in places
    assert max(after - before for before, after in itertools.pairwise(places)) <= 3
    assert 0 < reply.pin_depth < depth


@pytest.mark.parametrize("style", ["rod-pocket", "eyelet", "tab-top", "wave"])
def test_what_a_rod_or_a_snap_carries_takes_no_pins(ask, style):
    """Common practice. 24 gaps of 2 in take 96 in of tape."""
    panel = {"units": "in", "heading": {"style": style}, "flat_width": 96, "finished_width": 48}
    reply = ask("pins", panel)
    assert (reply.pin_depth, reply.pin_count, reply.pins) == (None, 0, [])
    with pytest.raises(Impossible) as impossible:
        ask("pins", panel | {"pin": {"rise": 1}})
    assert [fault.where for fault in impossible.value.faults] == [("pin", "rise")]


@pytest.mark.parametrize("style", ["rod-pocket", "eyelet", "tab-top"])
def test_edges_on_a_rod_through_the_heading_cannot_cross(ask, style):
    """Geometry: neither edge can pass the other on one rod."""
    window = WINDOW | {"heading": {"style": style}}
    with pytest.raises(Impossible) as impossible:
        ask("panel", window | {"rod": {"width": 96, "return": 0, "overlap": 3}})
    assert [fault.where for fault in impossible.value.faults] == [("rod", "overlap")]
    assert {each.finished_width for each in ask("panel", window).panels} == {48}


def test_the_example_of_eyelets_comes_to_what_a_maker_works_out_by_hand(ask):
    """101 in over 16 eyelets is 6 5/16 in, over 18 is 5 5/8: the usual gap is 5 7/8, and 18 would show the seam.

    With 18, the seam at 50 1/2 in is in the middle of the ninth gap, which stands to the front; with 16 it is in the
    middle of the eighth, which stands to the back.
    """
    reply = ask("pleats", json.loads((EXAMPLES / "pleats-eyelet.json").read_text()))
    assert (reply.points.count, reply.points.gap, reply.points.finished_gap) == (16, 6.312, 3)
    assert [(seam.place, seam.point) for seam in reply.seams] == [("in-back-fold", 8)]


def test_the_example_of_rods_hangs_every_window_as_its_heading_has_it(ask):
    reply = ask("estimate", json.loads((EXAMPLES / "estimate-rods.json").read_text()))
    assert [window.panels[0].pleats.layout for window in reply.windows] == ["points", "points", "gathers", "gathers"]
    assert [window.materials.pins > 0 for window in reply.windows] == [False, False, False, True]
    shown = ("in-front-fold", "at-point", "in-space")
    panels = [panel for window in reply.windows for panel in window.panels]
    assert not [seam for panel in panels for seam in panel.pleats.seams if seam.place in shown]
    # The rims are 1 9/16 + 1 in wide and 3/4 in down, so the holes' tops are 3/4 + 1/2 in down: 90 + 1 1/4 - 1/2.
    assert reply.windows[0].panels[0].finished_length == 90.75
