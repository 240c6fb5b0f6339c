"""Writes a drawing as SVG: plain elements with presentation attributes, and nothing that a strict policy would block.

The text goes through the standard library's XML writer, so that no name can become markup. The same drawing gives the
same bytes.
"""

import hashlib
from typing import Final
from xml.etree import ElementTree as ET

from pleatwright.paper.drawings.shapes import (
    FILLS,
    INKS,
    Circle,
    Dimension,
    Drawing,
    Face,
    Fill,
    Line,
    Pen,
    Point,
    Polyline,
    Rectangle,
    Shape,
    Strokes,
    Text,
)

_PLAIN: Final = "Helvetica, Arial, 'Liberation Sans', sans-serif"
_SERIF: Final = "'Times New Roman', 'Liberation Serif', Times, serif"
_FACES: Final[dict[Face, dict[str, str]]] = {
    "plain": {},
    "bold": {"font-weight": "bold"},
    "title": {"font-family": _SERIF},
    "note": {"font-style": "italic"},
}


def svg(drawing: Drawing) -> str:
    """Return a drawing as an SVG document, in millimetres, with a title and a description for screen readers."""
    told = f"{drawing.title}\n{drawing.description}"
    root = svg_element(drawing, hashlib.sha256(told.encode()).hexdigest()[:12])
    ET.indent(root, " ")
    return ET.tostring(root, encoding="unicode") + "\n"


def svg_element(drawing: Drawing, mark: str) -> ET.Element:
    """Return the same as an element, to stand in a page; the names in it end in `mark`, which is to be its own."""
    width, height = _number(drawing.width), _number(drawing.height)
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{width}mm",
            "height": f"{height}mm",
            "viewBox": f"0 0 {width} {height}",
            "role": "img",
            "aria-labelledby": f"title-{mark} desc-{mark}",
        },
    )
    ET.SubElement(root, "title", {"id": f"title-{mark}"}).text = drawing.title
    ET.SubElement(root, "desc", {"id": f"desc-{mark}"}).text = drawing.description
    ET.SubElement(root, "rect", {"width": width, "height": height, "fill": FILLS[Fill.PAPER]})
    group = ET.SubElement(
        root,
        "g",
        {
            "font-family": _PLAIN,
            "fill": INKS["ink"],
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
        },
    )
    for shape in drawing.shapes:
        _put(group, shape)
    return root


def _put(parent: ET.Element, shape: Shape) -> None:
    of = {"data-of": shape.of} if shape.of else {}
    match shape:
        case Line(start=start, end=end, pen=pen):
            ends = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
            ET.SubElement(parent, "line", of | _numbers(ends) | _stroke(pen))
        case Strokes(lines=lines, pen=pen):
            path = " ".join(f"M{_pair(start)}L{_pair(end)}" for start, end in lines)
            ET.SubElement(parent, "path", of | {"d": path, "fill": "none"} | _stroke(pen))
        case Polyline(points=points, pen=pen, fill=fill):
            tag = "polygon" if fill else "polyline"
            ET.SubElement(parent, tag, of | {"points": " ".join(map(_pair, points))} | _painted(pen, fill))
        case Rectangle(corner=(x, y), width=width, height=height, pen=pen, fill=fill):
            sides = {"x": x, "y": y, "width": width, "height": height}
            ET.SubElement(parent, "rect", of | _numbers(sides) | _painted(pen, fill))
        case Circle(centre=(x, y), radius=radius, pen=pen, fill=fill):
            ET.SubElement(parent, "circle", of | _numbers({"cx": x, "cy": y, "r": radius}) | _painted(pen, fill))
        case Text():
            _put_text(parent, shape, of)
        case Dimension():
            inner = ET.SubElement(parent, "g", of)
            for part in shape.parts():
                _put(inner, part)


def _put_text(parent: ET.Element, text: Text, of: dict[str, str]) -> None:
    x, y = text.at
    given = of | _numbers({"x": x, "y": y, "font-size": text.size}) | _FACES[text.face]
    if text.anchor != "start":
        given["text-anchor"] = text.anchor
    if text.turned:
        given["transform"] = f"rotate({-text.turned} {_number(x)} {_number(y)})"
    ET.SubElement(parent, "text", given).text = text.text


def _stroke(pen: Pen) -> dict[str, str]:
    dashes = {"stroke-dasharray": " ".join(map(_number, pen.dashes))} if pen.dashes else {}
    return {"stroke": INKS[pen.ink], "stroke-width": _number(pen.width)} | dashes


def _painted(pen: Pen | None, fill: Fill | None) -> dict[str, str]:
    return {"fill": FILLS[fill] if fill else "none"} | (_stroke(pen) if pen else {})


def _numbers(given: dict[str, float]) -> dict[str, str]:
    return {key: _number(value) for key, value in given.items()}


def _pair(point: Point) -> str:
    return f"{_number(point[0])},{_number(point[1])}"


def _number(value: float) -> str:
    """Write a number to a thousandth of a millimetre."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
