"""A heading's cross-section: as long as the cloth that it takes, for every style, and to scale."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pleatwright import workroom
from pleatwright.headings.outline import Outline
from pleatwright.lengths import parse_length
from pleatwright.paper.drawings import heading_section
from pleatwright.paper.drawings.section import length_along, outline_points

STYLES = [
    *("box", "butterfly", "cartridge", "euro-three-fold", "euro-two-fold", "eyelet", "gathered", "goblet", "inverted"),
    *("knife", "pencil", "rod-pocket", "single-fold-pinch", "tab-top", "three-fold-pinch", "two-fold-pinch", "wave"),
]


def length_of(points):
    return sum(math.dist(start, end) for start, end in pairwise(points))


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize("style", STYLES)
def test_the_path_drawn_is_as_long_as_the_cloth(style, units, headings, sheet_of, millimetres):
    figures = workroom.heading(style, headings, units)
    sheet = sheet_of(heading_section(figures))
    section = figures.cross_section
    unit = millimetres[units] / sheet.scale
    pieces = sheet.points(rf"{figures.word} \d")
    assert len(pieces) == 3
    for points in pieces:
        if len({y for _, y in points}) > 1 and style not in ("box", "inverted", "knife"):
            assert length_of(points) == pytest.approx(section.developed_length * unit, rel=0.001)
            ys = [y for _, y in points]
            assert max(ys) - points[0][1] == pytest.approx(section.projection * unit, abs=0.0006 * unit + 0.002)
        else:
            # Layers that lie flat are a little apart: their length along the face is the cloth.
            along = sum(abs(end[0] - start[0]) for start, end in pairwise(points))
            assert along == pytest.approx(section.developed_length * unit, rel=0.001)
    assert parse_length(sheet.word("cloth").removeprefix("cloth in each: "), units) == pytest.approx(
        parse_length(round(section.developed_length, 6), units), abs=8128 / 32
    )
    first = [points[0][0] for points in pieces]
    (of,) = {"space", "pitch"} & {each.get("data-of") for each in sheet.root.iter("{http://www.w3.org/2000/svg}g")}
    ends, _ = sheet.dimension(of)
    end = pieces[0][-1][0] - pieces[0][0][0]
    assert [after - x for x, after in pairwise(first)] == pytest.approx(
        2 * [ends[2] - ends[0] + (of == "space") * end], abs=0.01
    )


def test_what_lies_behind_the_face_is_drawn_towards_the_wall(headings, sheet_of):
    (box, inverted) = (
        sheet_of(heading_section(workroom.heading(style, headings, "in"))).points("pleat 1")[0]
        for style in ("box", "inverted")
    )
    assert max(y for _, y in box) > box[0][1]
    assert min(y for _, y in box) >= box[0][1]
    assert min(y for _, y in inverted) < inverted[0][1]


def test_each_fold_has_its_edge_where_it_turns(headings, sheet_of):
    for style, folds in (("three-fold-pinch", 3), ("two-fold-pinch", 2), ("goblet", 0), ("box", 0)):
        sheet = sheet_of(heading_section(workroom.heading(style, headings, "in")))
        edges = [
            (float(each.get("cx")), float(each.get("cy")))
            for each in sheet.root.iter()
            if each.get("data-of") == "fold edge"
        ]
        assert len(edges) == 3 * folds
        outlines = [point for number in (1, 2, 3) for point in sheet.points(f"pleat {number}")[0]]
        assert set(edges) <= set(outlines)


def test_limits_are_written_as_the_reply_has_them(headings, sheet_of):
    figures = workroom.heading("three-fold-pinch", headings, "in")
    sheet = sheet_of(heading_section(figures))
    assert sheet.word("take-up") == "4 to 7, usually 5 1/2"
    assert sheet.dimension("space")[1] == "space 3 3/4"
    assert sheet.dimension("shown")[1] == "shows 15/16"


turns = st.floats(0.1, math.pi * 2 - 0.1) | st.floats(-math.pi * 2 + 0.1, -0.1)
places = st.floats(-9, 9)


@given(st.lists(st.tuples(places, places) | st.tuples(places, places, turns), min_size=1, max_size=6))
def test_a_path_read_back_keeps_its_length_and_its_end(pieces):
    outline = Outline()
    for piece in pieces:
        outline = outline.line(*piece) if len(piece) == 2 else outline.arc(*piece)
    points = outline_points(outline.svg_path())
    assert points[-1] == pytest.approx(outline.end, abs=1e-5)
    # A point of it is on the outline itself, and not on an arc the other way round.
    walked = list(outline.walked(160))
    for point in points:
        assert min(math.dist(point, other) for other in walked) < 0.6
    assert length_along(points) == pytest.approx(outline.developed_length, rel=1.5e-3, abs=1e-4)


@pytest.mark.parametrize("path", ["L 1 1", "M 0 0 Q 1 1 2 2", "M 0 0 L 1", "M 0 0 M 1 1", "M 0 0 C 0 0 1 1 2 2"])
def test_other_paths_are_refused(path):
    with pytest.raises(ValueError, match="not a path of moves, lines and arcs"):
        outline_points(path)
