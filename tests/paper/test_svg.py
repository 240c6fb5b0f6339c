"""The SVG itself: safe to put on a page, told to those who cannot see it, the same bytes each time."""

from xml.etree import ElementTree as ET

import msgspec
import pytest

from pleatwright import workroom
from pleatwright.lengths import from_units, parse_length
from pleatwright.paper.drawings import cut_plan, hang_section, heading_section, panel_finished, panel_flat, svg
from pleatwright.paper.drawings.words import width_of

TAGS = {"svg", "title", "desc", "g", "rect", "line", "path", "polyline", "polygon", "circle", "text"}
HOSTILE = [
    '"><script>alert(1)</script>',
    "]]> & <!-- -- > &lt; ' \" <svg onload=x>",
    "\u05d7\u05d3\u05e8 \u202egnikram\u2066 \u0634\u0645\u0627\u0644",
    "bell\x07 null\x00 \ufffe line\nbreak\x85 \x1b[2J",
    "x" * 300,
    "word " * 60,
    "\u6f22\u5b57" * 150,
    "e\u0301" * 150,
    "",
]


def drawings(reply, label, headings):
    window = msgspec.structs.replace(reply.windows[0], label=label, fabric=label)
    fabric = reply.materials.fabrics[0]
    pieces = [
        msgspec.structs.replace(
            cut, pieces=[msgspec.structs.replace(piece, window=label) for piece in cut.pieces or ()]
        )
        for cut in fabric.sequence
    ]
    fabric = msgspec.structs.replace(fabric, fabric=label, sequence=pieces)
    figures = msgspec.structs.replace(
        workroom.heading("goblet", headings, "in"), label=label, making=label, summary=label
    )
    behind = msgspec.structs.replace(window, label="sheer", behind=label)
    return [
        panel_flat(window, window.panels[0], "in"),
        panel_finished(window, window.panels[0], "in"),
        hang_section(window, [window, behind], "in"),
        cut_plan(fabric, "in"),
        heading_section(figures),
    ]


@pytest.mark.parametrize("label", HOSTILE, ids=range(len(HOSTILE)))
def test_no_label_becomes_markup_or_leaves_the_paper(label, estimated, headings):
    for drawing in drawings(estimated("estimate"), label, headings):
        root = ET.fromstring(svg(drawing))
        for each in root.iter():
            tag = each.tag.rpartition("}")[2]
            assert tag in TAGS
            assert not {"style", "class", "href", "src"} & {key.rpartition("}")[2] for key in each.attrib}
            assert not [key for key in each.attrib if key.startswith("on")]
        for text in root.iter("{http://www.w3.org/2000/svg}text"):
            words = text.text or ""
            assert not set(words) & set("\x00\x07\x1b\x85\n\u202e\u2066\ufffe")
            if "transform" in text.attrib:
                continue
            size, x = float(text.get("font-size")), float(text.get("x"))
            part = {"start": 0, "middle": 0.5, "end": 1}[text.get("text-anchor", "start")]
            left = x - part * width_of(words, size)
            assert left > 0, words
            assert left + width_of(words, size) < 297, words


def test_the_whole_name_is_in_the_title(estimated, headings):
    label = "The long gallery, second window from the garden door, with a name far too long for any paper " * 3
    for drawing in drawings(estimated("estimate"), label, headings):
        assert label.strip() in drawing.title
        root = ET.fromstring(svg(drawing))
        assert root.find("{*}title").text == drawing.title
        texts = list(root.iter("{http://www.w3.org/2000/svg}text"))
        shown = " ".join(each.text for each in texts if each.get("data-of") in ("heading", "names"))
        # What is left out is said to be: of three names on two lines, and of one as a heading.
        assert shown.count("far too long") == drawing.title.count("far too long") or "…" in shown
        assert shown.count("far too long") >= 1


def test_a_name_from_right_to_left_ends_where_it_ends(estimated, headings):
    name = "\u05d7\u05d3\u05e8"
    drawing = drawings(estimated("estimate"), name, headings)[0]
    assert f"\u2068{name}\u2069" in drawing.title


def test_screen_readers_are_given_a_title_and_a_description(estimated, headings):
    seen = set()
    for drawing in drawings(estimated("estimate"), "South bay", headings):
        root = ET.fromstring(svg(drawing))
        assert root.get("role") == "img"
        title, description = root.get("aria-labelledby").split()
        assert (root[0].tag.rpartition("}")[2], root[0].get("id")) == ("title", title)
        assert (root[1].tag.rpartition("}")[2], root[1].get("id")) == ("desc", description)
        assert root[1].text.count(".") >= 2
        seen |= {title, description}
    assert len(seen) == 10, "no two drawings on one page share a name"


def test_the_same_reply_gives_the_same_bytes(estimated, headings):
    first, second = (
        [svg(drawing) for drawing in drawings(estimated("estimate"), "South bay", headings)] for _ in range(2)
    )
    assert first == second


def test_what_is_chalk_is_dark_enough_for_black_and_white(estimated, headings):
    for drawing in drawings(estimated("estimate"), "South bay", headings):
        root = ET.fromstring(svg(drawing))
        inks = {each.get("stroke") for each in root.iter() if each.get("stroke")}
        assert inks
        for ink in inks:
            red, green, blue = (int(ink[at : at + 2], 16) / 255 for at in (1, 3, 5))
            # Relative luminance of the display primaries [ITU-R BT.709]: the contrast with paper is over 4.5.
            linear = [((c + 0.055) / 1.055) ** 2.4 for c in (red, green, blue)]
            luminance = 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
            assert 1.05 / (luminance + 0.05) > 4.5, ink


def test_a_scale_bar_is_as_long_as_it_says(estimated, sheet_of, millimetres):
    for name in ("estimate", "estimate-metric"):
        reply = estimated(name)
        for window in reply.windows:
            sheet = sheet_of(panel_flat(window, window.panels[0], reply.units))
            (start,), (end,) = sheet.words("bar start"), sheet.words("bar end")
            length = parse_length(end[1].text) / from_units(1, reply.units)
            wanted = length * millimetres[reply.units] / sheet.scale
            assert end[1].x - start[1].x == pytest.approx(wanted, abs=0.003)
