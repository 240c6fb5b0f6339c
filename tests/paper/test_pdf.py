"""Drawings as PDF, read back: the same shapes at the same places as in the SVG, in any script, the same every time."""

import io

import pdfplumber
import pytest

from pleatwright import workroom
from pleatwright.paper import drawings
from pleatwright.paper.drawings.shapes import Drawing, Line, Pen, Text
from pleatwright.paper.pdf import pages

POINT = 25.4 / 72


def opened(data):
    return pdfplumber.open(io.BytesIO(data))


@pytest.fixture(scope="module")
def drawn(estimated, headings):
    reply = estimated("estimate")
    [window] = reply.windows
    return [
        drawings.panel_flat(window, window.panels[0], "in"),
        drawings.panel_finished(window, window.panels[1], "in"),
        drawings.heading_section(workroom.heading(window.style, headings, "in")),
        drawings.hang_section(window, reply.windows, "in"),
        drawings.cut_plan(reply.materials.fabrics[0], "in"),
    ]


def test_each_line_is_where_the_svg_has_it(drawn, sheet_of):
    with opened(pages("All", drawn)) as document:
        for drawing, page in zip(drawn, document.pages, strict=True):
            sheet = sheet_of(drawing)
            assert [round(page.width * POINT, 2), round(page.height * POINT, 2)] == pytest.approx(
                [sheet.width, sheet.height], abs=0.02
            )
            wanted = {tuple(round(value, 1) for value in line[1:]) for line in sheet.lines(".+")}
            found = [
                tuple(value * POINT for value in (each["x0"], each["top"], each["x1"], each["bottom"]))
                for each in page.lines
            ]
            for x, y, to_x, to_y in wanted:
                low, high = sorted((x, to_x)), sorted((y, to_y))
                assert any(
                    abs(line[0] - low[0]) < 0.1
                    and abs(line[2] - low[1]) < 0.1
                    and abs(line[1] - high[0]) < 0.1
                    and abs(line[3] - high[1]) < 0.1
                    for line in found
                ), (x, y, to_x, to_y)


def test_each_word_starts_where_the_svg_has_it(drawn, sheet_of):
    with opened(pages("All", drawn)) as document:
        for drawing, page in zip(drawn, document.pages, strict=True):
            letters = [
                (each["text"], each["x0"] * POINT, (page.height - each["matrix"][5]) * POINT, each["upright"])
                for each in page.chars
            ]
            for text, x, y, turned in sheet_of(drawing).all_words():
                if (
                    text.strip()
                    and not turned
                    and all(each.anchor == "start" for _, each in sheet_of(drawing).words() if each.text == text)
                ):
                    assert any(
                        letter == text[0] and abs(at - x) < 0.8 and abs(base - y) < 0.05
                        for letter, at, base, _ in letters
                    ), text


def test_the_same_drawings_give_the_same_bytes(drawn):
    assert pages("All", drawn) == pages("All", drawn)


def test_fonts_are_in_the_document_and_nothing_of_the_clock_is(drawn):
    data = pages("All", drawn)
    assert data.count(b"/FontFile2") >= 3
    assert b"D:20000101000000" in data
    with opened(data) as document:
        assert document.metadata["Title"] == "All"


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("Salón ½ ⅝", "Salón ½ ⅝"),
        ("Гостиная", "Гостиная"),
        # From right to left: the first letter of the name stands at the right.
        ("סלון", "ןולס"),
    ],
)
def test_a_name_in_another_script_is_set_in_its_own_order(name, seen):
    drawing = Drawing("Names", "", 100, 50, 1, (Text((10, 20), name, 5.0),))
    with opened(pages("Names", [drawing])) as document:
        [page] = document.pages
        letters = sorted(page.chars, key=lambda each: each["x0"])
        assert "".join(each["text"] for each in letters) == seen


def test_a_pen_of_two_dashes_is_drawn_as_one():
    line = Line((10, 20), (90, 20), Pen.SEAM)
    with opened(pages("Seam", [Drawing("Seam", "", 100, 50, 1, (line,))])) as document:
        [page] = document.pages
        ends = {(round(each["x0"] * POINT, 2), round(each["x1"] * POINT, 2)) for each in page.lines}
        assert ends == {(10.0, 90.0)}
        dashes = [each["dash"] for each in page.lines if each["dash"]]
        # Long, gap, short, gap: 2.4, 0.9, 0.5 and 0.9 mm, begun anew every 4.7 mm.
        periods = {round(sum(float(part) for part in pattern) * POINT, 2) for pattern, _ in dashes}
        assert periods == {4.7}
        assert len(dashes) == 2
