"""Puts the shapes of a drawing into a PDF, in millimetres, as the SVG has them."""

from collections.abc import Iterable, Sequence
from contextlib import nullcontext
from typing import Final

from fpdf import FPDF
from fpdf.enums import Align, XPos, YPos

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
from pleatwright.paper.pdf.opening import POINTS, SANS, SERIF, opened, prepare

_FACES: Final[dict[Face, tuple[str, str]]] = {
    "plain": (SANS, ""),
    "bold": (SANS, "B"),
    "title": (SERIF, ""),
    "note": (SANS, "I"),
}
_ALIGNED: Final = {"start": 0.0, "middle": 0.5, "end": 1.0}


def pages(title: str, drawings: Sequence[Drawing]) -> bytes:
    """Return a PDF of drawings at their size, each on a page of its own."""
    pdf = opened(FPDF(unit="mm"), title)
    for drawing in drawings:
        pdf.add_page(format=(drawing.width, drawing.height))
        put(pdf, drawing.shapes)
    return bytes(pdf.output())


def put(pdf: FPDF, shapes: Iterable[Shape], left: float = 0.0, top: float = 0.0, times: float = 1.0) -> None:
    """Put shapes on the page that is open, their corner at `left` and `top`, so many times as large."""
    putting = _Putting(pdf, left, top, times)
    with pdf.local_context():
        for shape in shapes:
            putting.put(shape)


class _Putting:
    """Shapes on their way to one place on a page."""

    def __init__(self, pdf: FPDF, left: float, top: float, times: float) -> None:
        self.pdf, self.left, self.top, self.times = pdf, left, top, times

    def at(self, point: Point) -> Point:
        return self.left + point[0] * self.times, self.top + point[1] * self.times

    def put(self, shape: Shape) -> None:
        pdf = self.pdf
        match shape:
            case Line(start=start, end=end, pen=pen):
                self.lines([(start, end)], pen)
            case Strokes(lines=lines, pen=pen):
                self.lines(lines, pen)
            case Polyline(points=points, pen=pen, fill=fill):
                closed = fill is not None
                how = self.painted(pen, fill)
                pdf.polyline([self.at(point) for point in points], polygon=closed, style=how)
            case Rectangle(corner=corner, width=width, height=height, pen=pen, fill=fill):
                how = self.painted(pen, fill)
                pdf.rect(*self.at(corner), width * self.times, height * self.times, style=how)
            case Circle(centre=centre, radius=radius, pen=pen, fill=fill):
                pdf.circle(*self.at(centre), radius * self.times, style=self.painted(pen, fill))
            case Text():
                self.write(shape)
            case Dimension():
                for part in shape.parts():
                    self.put(part)

    def lines(self, lines: Sequence[tuple[Point, Point]], pen: Pen) -> None:
        """Put lines; those of a pen with dashes of two lengths in two goes, since fpdf2 knows dashes of one."""
        self.take(pen)
        dashes = [each * self.times for each in pen.dashes]
        for number in range(0, max(len(dashes), 1), 2):
            if dashes:
                whole, before = sum(dashes), sum(dashes[:number])
                self.pdf.set_dash_pattern(dashes[number], whole - dashes[number], (whole - before) % whole)
            for start, end in lines:
                self.pdf.line(*self.at(start), *self.at(end))
        self.pdf.set_dash_pattern()

    def take(self, pen: Pen) -> None:
        self.pdf.set_draw_color(INKS[pen.ink])
        self.pdf.set_line_width(pen.width * self.times)

    def painted(self, pen: Pen | None, fill: Fill | None) -> str:
        """Take the pen and the fill; return how a shape is painted with them. No shape is without both."""
        if fill:
            self.pdf.set_fill_color(FILLS[fill])
        if pen:
            self.take(pen)
        return ("D" if pen else "") + ("F" if fill else "")

    def write(self, text: Text) -> None:
        if not text.text:
            return
        pdf, size = self.pdf, text.size * self.times
        pdf.set_font(*_FACES[text.face], size * POINTS)
        pdf.set_text_color(INKS["ink"])
        prepare(pdf, text.text)
        width = pdf.get_string_width(text.text)
        x, y = self.at(text.at)
        with pdf.rotation(text.turned, x, y) if text.turned else nullcontext():
            # fpdf2 has a cell's baseline 0.3 of the size below its middle. Only its cells set what runs right to left.
            pdf.x, pdf.y = x - width * _ALIGNED[text.anchor], y - 0.8 * size
            pdf.cell(width + 0.01, size, text.text, align=Align.L, new_x=XPos.RIGHT, new_y=YPos.TOP)
