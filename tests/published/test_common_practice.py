"""What workrooms commonly do, by figures worked by hand. No source is claimed for any of it: common practice."""

import json
import math

import msgspec
import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, inches
from pleatwright.trade.pins import pin_depth

WINDOW = {
    "rod": {"width": 96, "return": 3.5, "overlap": 3},
    "hang": {"carrying_height": 96, "heading_above": 0.25, "clearance": 1},
    "heading": {"style": "three-fold-pinch"},
    "fullness": 2,
}
PANEL = {
    "units": "in",
    "heading": {"style": "three-fold-pinch"},
    "flat_width": 127,
    "finished_width": 53,
    "overlap": 3,
    "return": 3.5,
    "seams": [50.5, 103.5],
}


@pytest.fixture
def ask(headings, request_reader):
    """Ask the workroom for one of its operations."""
    return lambda operation, request: getattr(workroom, operation)(
        request_reader.read(operation, json.dumps(request).encode()), headings
    )


def test_a_pin_of_usual_rise_set_down_by_its_place_stands_a_quarter_inch_below_the_edge():
    """Common practice: a rise of 1 3/8 in, set 1 5/8 in down; 1 5/8 - 1 3/8 = 1/4."""
    assert pin_depth(inches("1/4"), inches("1 3/8"), inches("4")) == inches("1 5/8")


def test_a_request_that_leaves_the_pin_out_has_it_set_one_and_five_eighths_down(ask):
    """Common practice: as above."""
    reply = ask("pins", PANEL)
    assert reply.pin_depth == 1.625
    assert {each.at: each.value for each in reply.assumed}.items() >= {
        "/pin/rise": 1.375,
        "/heading_above": 0.25,
    }.items()


STYLES = {
    "three-fold-pinch": (3, "face", "under-buckram"),
    "two-fold-pinch": (2, "face", "under-buckram"),
    "goblet": (1, "face", "cup-base"),
    "inverted": (1, "back", "top"),
    "euro-three-fold": (3, "face", "top"),
    "butterfly": (2, "face", "under-buckram"),
}


@pytest.mark.parametrize(("style", "made"), STYLES.items(), ids=STYLES)
def test_a_style_has_its_folds_and_is_stitched_and_tacked_where_the_trade_does_it(headings, style, made):
    """Common practice. A goblet has no folds but one round cup; the fold of an inverted pleat lies at the back."""
    figures = workroom.heading(style, headings, "in")
    assert (figures.folds, figures.stitched, figures.tacked) == made


@pytest.mark.parametrize(
    ("style", "depth"),
    [
        ("three-fold-pinch", 4),
        ("two-fold-pinch", 4),
        ("goblet", 4),
        ("inverted", 4),
        ("euro-three-fold", 2),
        ("butterfly", 2),
    ],
)
def test_a_style_stands_on_its_usual_buckram(headings, style, depth):
    """Common practice: 4 in, and 2 in for a euro pleat and a butterfly."""
    assert workroom.heading(style, headings, "in").buckram_depth == depth
    assert workroom.heading(style, headings, "mm").buckram_depth == depth * 25.4


def test_a_pinch_pleat_has_the_usual_space_and_take_up(headings):
    """Common practice: spaces of 3 1/2 to 4 in, take-ups of 4 to 6 1/2 in."""
    pinch = workroom.heading("three-fold-pinch", headings, "in")
    assert 3.5 <= pinch.space.usual <= 4
    assert 4 <= pinch.take_up.least <= pinch.take_up.usual <= 6.5


def test_pins_are_one_in_the_overlap_and_one_at_each_pleat_and_one_in_the_return(ask):
    """Common practice: pleats + 2. This panel has 13 pleats."""
    reply = ask("pins", PANEL)
    assert [pin.on for pin in reply.pins] == ["overlap", *["pleat"] * 13, "return"]
    assert reply.pin_count == 13 + 2


@pytest.mark.parametrize(
    ("widths", "flat", "seams"),
    [
        # 3 x 54 - 2 seams x 1 - 2 edges x 3; 2 1/2 x 54 - 2 - 6; 4 x 54 - 3 - 6.
        (3, 154, [50.5, 103.5]),
        (2.5, 127, [50.5, 103.5]),
        (4, 207, [50.5, 103.5, 156.5]),
    ],
)
def test_side_hems_take_three_inches_an_edge_and_seams_one_inch_each(ask, widths, flat, seams):
    """Common practice: double 1 1/2 in side hems, 1/2 in seam allowances. A double hem takes its depth twice."""
    request = WINDOW | {"units": "in", "fabric": {"width": 54}, "make_up": {"width_count": widths}}
    reply = ask("panel", request)
    assert [each.flat_width for each in reply.panels] == [flat, flat]
    assert [[seam.at for seam in each.seams] for each in reply.panels] == [seams, seams]
    taken = {each.at: each.value for each in reply.assumed}
    assert (taken["/make_up/side_hem"], taken["/make_up/seam_allowance"]) == (2 * 1.5, 0.5)


@pytest.mark.parametrize(
    ("lining", "cut"),
    [
        # 96 + 1/4 - 1 = 95 1/4 finished; the lining 1 in shorter, 94 1/4; a double 2 in hem takes 4, the turning 1.
        ({"bottom_hem": 0, "top_turning": 0}, 94.25),
        ({}, 99.25),
        ({"shorter": 2, "bottom_hem": 0, "top_turning": 0}, 93.25),
    ],
)
def test_a_lining_is_an_inch_shorter_than_the_face(ask, lining, cut):
    """Common practice: 1 in at the hem."""
    window = WINDOW | {"label": "bay", "fabric": "linen", "lining": lining}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 54}}})
    assert [each.finished_length for each in reply.windows[0].panels] == [95.25, 95.25]
    assert reply.windows[0].materials.lining_cut_length == cut


def test_a_metric_lining_is_25_millimetres_shorter_than_the_face(ask):
    """Common practice: 2440 + 6 - 25 = 2421 finished, 2396 of lining before hems."""
    window = WINDOW | {
        "label": "bay",
        "fabric": "linen",
        "rod": {"width": 2440, "return": 90},
        "hang": {"carrying_height": 2440, "heading_above": 6, "clearance": 25},
        "lining": {"bottom_hem": 0, "top_turning": 0},
    }
    reply = ask("estimate", {"units": "mm", "windows": [window], "fabrics": {"linen": {"width": 1370}}})
    assert reply.windows[0].materials.lining_cut_length == 2396


MORE_STYLES = {
    "single-fold-pinch": (1, "face", "under-buckram", 4),
    "cartridge": (1, "face", "none", 4),
    "box": (1, "face", "top", 4),
    "euro-two-fold": (2, "face", "top", 2),
    "knife": (1, "face", "top", 4),
}


@pytest.mark.parametrize(("style", "made"), MORE_STYLES.items(), ids=MORE_STYLES)
def test_a_further_style_is_folded_stitched_and_tacked_as_the_trade_does_it(headings, style, made):
    """Common practice; the single fold and the euro pleat in two folds follow those in three."""
    figures = workroom.heading(style, headings, "in")
    assert (figures.folds, figures.stitched, figures.tacked, figures.buckram_depth) == made


def test_stage_boxes_at_12_in_centres_with_half_as_much_cloth_again_are_3_in_wide(headings, request_reader):
    """Common practice: 12 in centres, 1.5 times the cloth, 3 in boxes; 240 in finished take 21 of them."""
    request = {
        "units": "in",
        "heading": {"style": "box", "centres": "12"},
        "flat_width": "366",
        "finished_width": "240",
    }
    reply = workroom.pleats(request_reader.read("pleats", msgspec.json.encode(request)), headings)
    assert (reply.pleat_count, reply.space) == (21, 12)
    # 366 - 240 = 126 in over 21 pleats: 6 in each, and a box is half of that.
    assert (reply.take_up.least, reply.take_up.most) == (6, 6)
    box = headings.installed["box"].heading
    pleat = box.pleat(box.options(), lambda value, usual, *field: usual)
    assert pleat.shape(6.0).width_shown == 3


@pytest.mark.parametrize(
    ("options", "pointer"),
    [({"centres": "1"}, "centres"), ({"centres": "12", "spaced": False}, "spaced"), ({"centres": "0"}, "centres")],
)
def test_boxes_that_cannot_be_are_refused_at_the_option(headings, request_reader, options, pointer):
    request = {
        "units": "in",
        "heading": {"style": "box", **options},
        "flat_width": "366",
        "finished_width": "240",
    }
    with pytest.raises(Impossible) as impossible:
        workroom.pleats(request_reader.read("pleats", msgspec.json.encode(request)), headings)
    assert [fault.where for fault in impossible.value.faults] == [("heading", pointer)]


@pytest.mark.parametrize(
    ("style", "thicknesses"),
    [("three-fold-pinch", 6), ("two-fold-pinch", 4), ("single-fold-pinch", 2), ("knife", 3), ("box", 4)],
)
def test_a_soft_pleat_stacks_by_its_thicknesses_of_cloth(headings, style, thicknesses):
    """Geometry: each fold is two thicknesses; a knife pleat is the face over two, a box the face and its two folds."""
    assert workroom.heading(style, headings, "mm", 320).stack_per_pleat == thicknesses + 2


@pytest.mark.parametrize(("style", "take_up"), [("goblet", 5.5), ("cartridge", 3.5)])
def test_a_round_pleat_stacks_by_its_filler_whose_diameter_is_the_take_up_by_pi(headings, style, take_up):
    """Geometry."""
    figures = workroom.heading(style, headings, "in", INCH // 32)
    filler = next(material for material in figures.materials if material.kind == "filler")
    assert filler.size == pytest.approx(take_up / math.pi, abs=1e-3)
    assert figures.stack_per_pleat == pytest.approx(take_up / math.pi + 2 / 32, abs=1e-3)


@pytest.mark.parametrize("turned", ["left", "right", "centre"])
def test_a_knife_pleat_lies_half_its_take_up_wide(headings, turned):
    """Geometry."""
    knife = headings.installed["knife"].heading
    pleat = knife.pleat(knife.options(turned=turned), lambda value, usual, *field: usual)
    shape = pleat.shape(3.0)
    assert (shape.width_shown, shape.depth_of_fold, shape.outline.developed_length) == (1.5, 1.5, 3)
