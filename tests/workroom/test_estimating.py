"""A whole job, its cuts and materials, worked by hand."""

import json
from pathlib import Path

import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible

EXAMPLES = Path(__file__).parent.parent.parent / "openapi" / "examples"


@pytest.fixture
def ask(request_reader, headings):
    """Send a job, with changes to its first window and its fabric, and return the reply."""

    def asked(window=None, fabric=None, more=(), **job):
        request = json.loads((EXAMPLES / "estimate.json").read_text())
        first = request["windows"][0]
        first.update(window or {})
        [cloth] = request["fabrics"].values()
        cloth.update(fabric or {})
        request["windows"] += [first | {"label": f"Another {number}"} | each for number, each in enumerate(more)]
        request.update(job)
        return workroom.estimate(request_reader.read("estimate", json.dumps(request).encode()), headings)

    return asked


def test_the_example_comes_to_what_a_maker_works_out_by_hand(ask):
    """120/2 + 3/2 + 3 1/2 = 65; 96 + 1/4 - 1/2 = 95 3/4; + 8 + 8 = 111 3/4; 5 x 25 1/4 = 126 1/4."""
    reply = ask()
    [window] = reply.windows
    for panel in window.panels:
        assert (panel.finished_width, panel.finished_length, panel.widths) == (65, 95.75, 3)
        assert (panel.flat_width, panel.cut_length, panel.raised_cut_length) == (154, 111.75, 126.25)
        assert (panel.pleats.pleat_count, panel.pins.pin_count, panel.pins.pin_depth) == (16, 18, 1.625)
        assert [seam.place for seam in panel.pleats.seams] == ["beside-pleat", "beside-pleat"]
    # Five raised cuts and one that is not: 5 x 126 1/4 + 111 3/4 = 743 in, and 20 3/4 yd are 747.
    assert window.cuts.run_length == 743
    assert window.cuts.order.quantity == "20 3/4 yd"
    [cloth] = reply.materials.fabrics
    assert (cloth.cuts, cloth.length) == (6, 747)
    # Lining: 95 3/4 - 1 + 4 + 1 = 99 3/4 in, six times. Buckram: 2 x 154 in.
    [lining] = window.materials.layers
    assert (lining.layer, lining.cut_length, lining.cuts, lining.length) == ("lining", 99.75, 6, 598.5)
    [buckram] = window.materials.sundries
    assert (buckram.kind, buckram.size.least, buckram.length) == ("buckram", 4, 308)
    assert reply.materials.pins == 36


def test_the_halves_of_a_split_cut_serve_both_panels(ask):
    """2 1/2 widths a panel: four whole cuts, and one split."""
    reply = ask({"rod": {"width": "96", "return": "3 1/2", "overlap": "3"}, "fullness": 2.35})
    [window] = reply.windows
    assert [panel.widths for panel in window.panels] == [2.5, 2.5]
    assert len(window.cuts.sequence) == 5
    split = [place.pieces for place in window.cuts.sequence if len(place.pieces) == 2]
    assert [[(piece.panel, piece.width, piece.half) for piece in pieces] for pieces in split] == [
        [("left", 3, True), ("right", 3, True)]
    ]


def test_the_pattern_drops_to_the_right_on_both_sides_of_the_parting(ask):
    """Third-drop of 24 in: from the leading edge a right panel starts at 0, 8, 16 and a left one at 0, 16, 8."""
    reply = ask(fabric={"vertical_repeat": "24", "drop_match": "1/3"})
    [window] = reply.windows
    phases = {(piece.panel, piece.width): place.phase for place in window.cuts.sequence for piece in place.pieces}
    assert [phases["right", width] for width in (1, 2, 3)] == [0, 8, 16]
    assert [phases["left", width] for width in (1, 2, 3)] == [0, 16, 8]


def test_windows_of_one_fabric_are_cut_one_after_another_in_phase(ask):
    """743 in for one window; the next starts at the 30th repeat, 757 1/2 in."""
    reply = ask(more=[{}])
    [cloth] = reply.materials.fabrics
    assert cloth.cuts == 12
    # 757 1/2 + 743 = 1500 1/2 in, and a quarter of a yard is 9 in: 167 x 9 = 1503.
    assert cloth.length == 1503
    assert reply.materials.pins == 72


def test_plain_cloth_takes_its_cuts_end_to_end(ask):
    """6 x 111 3/4 = 670 1/2 in."""
    reply = ask(fabric={"vertical_repeat": "0"})
    assert reply.windows[0].cuts.run_length == 670.5
    assert reply.windows[0].cuts.rule_of_thumb_length == 670.5


def test_a_job_of_more_widths_than_one_request_may_ask_for_is_refused(ask):
    """100 widths a panel, 200 a window: eight windows are over 1500."""
    wide = {"rod": {"width": "4400", "return": "0", "overlap": "3"}, "fullness": 2.38}
    with pytest.raises(Impossible) as impossible:
        ask(wide, more=[{}] * 7)
    assert [fault.where for fault in impossible.value.faults] == [("windows",)]


def test_a_seam_that_no_layout_hides_is_named_with_what_would_cure_it(ask):
    reply = ask({"pleat_count": 14})
    [window] = reply.windows
    for panel in window.panels:
        assert [seam.place for seam in panel.pleats.seams] == ["beside-pleat", "inside-pleat"]
        assert {"half-width-less", "pleat-count", "trim-return-edge"} == {cure.change for cure in panel.pleats.cures}
    assert [(caution.kind, caution.seam) for caution in window.cautions] == [("seam-inside-pleat", 2)] * 2


def test_each_cure_of_a_window_does_hide_its_seams(ask):
    """The cures are acted on, one by one, in a fresh request."""
    cures = ask({"pleat_count": 14}).windows[0].panels[0].pleats.cures
    fewer = next(cure for cure in cures if cure.change == "half-width-less")
    other = next(cure for cure in cures if cure.change == "pleat-count")
    for change, count in (
        ({"make_up": {"width_count": 2.5}, "pleat_count": 14}, fewer.count),
        ({"pleat_count": other.count}, other.count),
    ):
        [window] = ask(change).windows
        assert {panel.pleats.pleat_count for panel in window.panels} == {count}
        assert {seam.place for panel in window.panels for seam in panel.pleats.seams} == {"beside-pleat"}


def test_every_window_of_a_job_is_faulted_at_once(ask):
    with pytest.raises(Impossible) as impossible:
        ask(
            {"hang": {"carrying_height": "96", "to": "sill"}},
            more=[{"rod": {"width": "0", "return": "3"}}, {"fabric": "Nettle"}],
        )
    places = [fault.where for fault in impossible.value.faults]
    assert places == [
        ("windows", 0, "hang", "to_height"),
        ("windows", 1, "rod", "width"),
        ("windows", 1, "hang", "to_height"),
        ("windows", 2, "fabric"),
        ("windows", 2, "hang", "to_height"),
    ]


def test_the_worksheet_shows_how_every_window_was_reached(ask):
    steps = {step.name: step for step in ask(worksheet=True).worksheet}
    width = steps["South bay, left panel: finished width"]
    assert width.formula == "rod width / 2 + overlap / 2 + return"
    assert width.figures == {"rod width": 120, "overlap": 3, "return": 3.5}
    assert width.result == 65
    take_up = steps["South bay, right panel: take-up in stretch 1"]
    # 50 1/2 - 3 = 47 1/2 between the flat piece and the seam; (47 1/2 - 5 x 3.9) / 5 = 5.6.
    assert take_up.figures == {"stretch between seams": 47.5, "spaces in it": 5, "space": 3.9, "pleats in it": 5}
    assert take_up.result == 5.6


def test_the_same_job_gives_the_same_reply(ask):
    assert ask() == ask()


@pytest.mark.parametrize(
    ("hang", "short"),
    [
        # A clearance of 1 in is taken off, and 1/4 in of heading stands above.
        ({"drop": "40 3/4"}, False),
        ({"drop": "40 11/16"}, True),
        ({"drop": "84 cm"}, True),
        ({"drop": "84"}, False),
        ({"drop": "30", "to": "sill"}, False),
        ({"drop": "30", "to": "puddle"}, True),
    ],
)
def test_a_panel_too_short_for_the_floor_may_have_been_meant_in_other_units(ask, hang, short):
    kinds = [caution.kind for caution in ask({"hang": hang}).windows[0].cautions]
    assert ("short-for-the-floor" in kinds) == short
