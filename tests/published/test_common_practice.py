"""What workrooms commonly do, by figures worked by hand. No source is claimed for any of it: common practice."""

import json
import math

import msgspec
import pytest

from pleatwright import workroom
from pleatwright.faults import Impossible
from pleatwright.lengths import inches
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


def in_inches(value, usual, *field, least=1):
    """Read an option that is given in inches."""
    return usual if value is None else inches(str(value))


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
    # Folds, stitched, tacked, tacks by hand, buckram in inches.
    "three-fold-pinch": (3, "face", "under-buckram", 1, 4),
    "two-fold-pinch": (2, "face", "under-buckram", 1, 4),
    "single-fold-pinch": (1, "face", "under-buckram", 1, 4),
    "butterfly": (2, "face", "under-buckram", 1, 2),
    "euro-three-fold": (3, "face", "top", 1, 2),
    "euro-two-fold": (2, "face", "top", 1, 2),
    # One round cup, tacked at its base; one round tube, held by its filler and not tacked.
    "goblet": (1, "face", "cup-base", 1, 4),
    "cartridge": (1, "face", "none", 0, 4),
    # Flat to both sides of the stitching, and so tacked at both.
    "box": (1, "face", "top", 2, 4),
    "inverted": (1, "back", "top", 2, 4),
    "knife": (1, "face", "top", 1, 4),
}


@pytest.mark.parametrize(("style", "made"), STYLES.items(), ids=STYLES)
def test_a_style_is_folded_and_stitched_and_tacked_on_its_buckram_as_the_trade_does_it(headings, style, made):
    """Common practice: 2 in of buckram for a euro pleat and a butterfly, 4 in for the others."""
    figures = workroom.heading(style, headings, "in")
    found = (figures.folds, figures.stitched, figures.tacked, figures.hand_tacks, figures.buckram_depth)
    assert found == made
    # It is stitched for the depth of the buckram.
    assert figures.stitching_length == made[-1]
    assert workroom.heading(style, headings, "mm").buckram_depth == made[-1] * 25.4


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
    assert reply.windows[0].materials.layers[0].cut_length == cut


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
    assert reply.windows[0].materials.layers[0].cut_length == 2396


@pytest.mark.parametrize(
    ("centres", "flat", "finished", "pleats", "box"),
    [
        # With half the centres at either end, 20 x 12 = 240 in, of 1.5 x 240 = 360 in: 120 / 20 = 6 in a pleat.
        ("12", "360", "240", 20, 3),
        # The same at half the size, and twice the cloth on 8 in centres: 80 in of 160, 80 / 10 = 8 in, in 4 in boxes.
        ("6", "180", "120", 20, 1.5),
        ("8", "160", "80", 10, 4),
    ],
)
def test_boxes_at_the_centres_of_stage_work_are_as_wide_as_the_cloth_makes_them(
    headings, request_reader, ask, centres, flat, finished, pleats, box
):
    """Common practice for stage curtains: 12 in centres, 1.5 times the cloth, 3 in boxes; and so in proportion."""
    heading = {"style": "box", "centres": centres}
    end = int(centres) / 2
    panel = {"units": "in", "flat_width": flat, "finished_width": finished, "overlap": end, "return": end}
    reply = ask("pleats", panel | {"heading": heading})
    assert (reply.pleat_count, reply.space) == (pleats, int(centres))
    assert (reply.take_up.least, reply.take_up.most) == (2 * box, 2 * box)
    options = request_reader.read("pleats", json.dumps(panel | {"heading": heading}).encode()).heading
    drafted = headings.of(options).heading.make(options, in_inches)
    assert drafted.shape(reply.take_up.most).width_shown == box


def test_boxes_without_spaces_are_half_their_take_up_wide_and_touch(headings, ask):
    """Geometry: boxes of 3 in, stitched 3 in apart, take 6 in each. Ten of them: 9 x 3 = 27 in, of 27 + 60 in."""
    heading = {"style": "box", "spaced": False}
    reply = ask("pleats", {"units": "in", "heading": heading, "flat_width": 87, "finished_width": 27})
    assert (reply.pleat_count, reply.space) == (10, 3)
    assert (reply.take_up.least, reply.take_up.most) == (6, 6)
    box = headings.installed["box"].heading
    assert box.make(box.options(spaced=False), in_inches).shape(6.0).width_shown == 3


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
        workroom.pleats(request_reader.read("pleats", json.dumps(request).encode()), headings)
    assert [fault.where for fault in impossible.value.faults] == [("heading", pointer)]


IN_HEADING = 3 * 1 + 0.6
"""1 mm cloth in the heading: once on the face, twice in the turning round the buckram, which is 0.6 mm (our choice)."""
STACKS = {
    # Two such thicknesses a fold, and two for the space folded behind it.
    "three-fold-pinch": (6 + 2) * IN_HEADING,
    "two-fold-pinch": (4 + 2) * IN_HEADING,
    "single-fold-pinch": (2 + 2) * IN_HEADING,
    "butterfly": (4 + 2) * IN_HEADING,
    "euro-three-fold": (6 + 2) * IN_HEADING,
    "euro-two-fold": (4 + 2) * IN_HEADING,
    # A fold of two lies over the face.
    "knife": (3 + 2) * IN_HEADING,
    # Two folds to either side.
    "box": (4 + 2) * IN_HEADING,
    "inverted": (4 + 2) * IN_HEADING,
    # 5 1/2 in are 139.7 mm, 139.7 / pi = 44.468; 3 1/2 in are 88.9 mm, 88.9 / pi = 28.298.
    "goblet": 44.468 + 2 * IN_HEADING,
    "cartridge": 28.298 + 2 * IN_HEADING,
}


@pytest.mark.parametrize(("style", "stack"), STACKS.items(), ids=STACKS)
def test_a_pleat_stacks_by_its_thicknesses_of_cloth_or_by_its_filler(headings, style, stack):
    """Geometry, with cloth that presses flat."""
    figures = workroom.heading(style, headings, "mm", round(inches("1") / 25.4))
    assert figures.cloth_thickness == 1
    assert figures.stack_each == pytest.approx(stack, abs=1e-3)


@pytest.mark.parametrize("style", ["goblet", "cartridge"])
def test_cloth_too_thick_for_the_filler_stacks_by_itself(headings, style):
    """Geometry: 30 mm cloth is 90.6 mm in the heading; two of that are more than either filler, four with the space."""
    assert workroom.heading(style, headings, "mm", inches("300") // 254).stack_each == pytest.approx(362.4, abs=0.06)


FILLERS = {
    # Pleats in a panel of 127 - 53 = 74 in to take up: 74 / 13 / pi = 1.812; 74 / 16 / pi = 1.472.
    "goblet": (13, 1.812),
    "cartridge": (16, 1.472),
}


@pytest.mark.parametrize(("style", "pleats", "diameter"), [(style, *each) for style, each in FILLERS.items()])
def test_a_round_pleat_takes_a_filler_each_as_wide_as_its_take_up_by_pi(ask, style, pleats, diameter):
    """Geometry. One width of 133 in, 127 in after side hems, has no seams and so equal pleats; there are two panels."""
    heading = {"heading": {"style": style}, "pleat_count": pleats, "make_up": {"width_count": 1}}
    window = WINDOW | {"label": "bay", "fabric": "linen"} | heading
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 133}}})
    [filler] = (each for each in reply.windows[0].materials.sundries if each.kind == "filler")
    assert filler.count == 2 * pleats
    assert (filler.size.least, filler.size.most) == (diameter, diameter)


@pytest.mark.parametrize("style", FILLERS)
def test_fillers_are_counted_over_all_panels_and_measured_from_the_least_take_up_to_the_most(ask, style):
    """Geometry. Panels of 2 1/2 widths of 54 in, whose seams make for take-ups that differ."""
    window = WINDOW | {"label": "bay", "fabric": "linen", "heading": {"style": style}, "make_up": {"width_count": 2.5}}
    reply = ask("estimate", {"units": "in", "windows": [window], "fabrics": {"linen": {"width": 54}}})
    [made] = reply.windows
    take_ups = [each.pleats.take_up for each in made.panels]
    [filler] = (each for each in made.materials.sundries if each.kind == "filler")
    assert filler.count == sum(each.pleats.pleat_count for each in made.panels)
    sizes = filler.size
    assert sizes.least == pytest.approx(min(each.least for each in take_ups) / math.pi, abs=1e-3)
    assert sizes.most == pytest.approx(max(each.most for each in take_ups) / math.pi, abs=1e-3)
    assert sizes.least < sizes.most


@pytest.mark.parametrize(("style", "diameter"), [("goblet", 1.751), ("cartridge", 1.114)])
def test_the_filler_of_a_usual_pleat_is_listed_with_the_style(headings, style, diameter):
    """Geometry: 5 1/2 / pi = 1.751 in; 3 1/2 / pi = 1.114 in."""
    materials = workroom.heading(style, headings, "in").materials
    assert [(each.kind, each.per, each.size) for each in materials] == [
        ("buckram", "flat-width", 4),
        ("filler", "pleat", diameter),
    ]


@pytest.mark.parametrize(
    "options",
    [{"centres": "12"}, {"centres": "9"}, {"spaced": False}, {}],
)
def test_no_box_is_wider_than_the_space_it_stands_in(headings, request_reader, options):
    """Geometry: a box is half its take-up wide, and one wider than the space would lie on the next."""
    box = headings.installed["box"].heading
    read = msgspec.convert({"style": "box", **options}, box.options)
    pleat = box.make(read, in_inches)
    assert pleat.take_up.most <= 2 * pleat.space.least


def test_centres_and_spaces_are_not_both_asked(headings, request_reader):
    request = {
        "units": "in",
        "heading": {"style": "box", "centres": "12", "space": {"usual": "4"}},
        "flat_width": "360",
        "finished_width": "240",
    }
    with pytest.raises(Impossible) as impossible:
        workroom.pleats(request_reader.read("pleats", msgspec.json.encode(request)), headings)
    assert [fault.where for fault in impossible.value.faults] == [("heading", "space")]
