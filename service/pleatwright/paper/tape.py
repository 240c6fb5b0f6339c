"""The marking tape: a panel's marks at full size, on strips to cut out and glue end to end, or on one from a roll."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from pleatwright.contract.cut_lists import Side
from pleatwright.contract.papers import SheetName
from pleatwright.contract.replies import HangingPoint, PleatFigures
from pleatwright.lengths import INCH, MILLIMETRE, Units, from_units, length_text
from pleatwright.paper.drawings.leaders import upright
from pleatwright.paper.drawings.marks import Mark, Marked, marked
from pleatwright.paper.drawings.shapes import (
    NOTE,
    PIN,
    Circle,
    Drawing,
    Fill,
    Line,
    Pen,
    Polyline,
    Rectangle,
    Shape,
    Text,
    hatched,
)
from pleatwright.paper.drawings.words import figure, isolated, shortened, width_of, wrapped

LAP: Final = 10.0
"""Millimetres of a strip that go under the next one, to glue them."""
_EDGE: Final = 12.0
"""What is kept free at a sheet's edges: printers do not print there."""
_HEAD: Final = 19.0
_ROW: Final = 42.0
"""From the top of one strip to the top of the next."""
_TALL: Final = 34.0
"""A strip, as it is cut out."""
_FOOT: Final = 20.0
_MARK, _MIDDLE, _TOKEN_AT = 13.0, 10.5, 16.0
_SMALL: Final = 2.3
_LONGEST_ROLL: Final = 4800
"""Millimetres of a page from a roll: a PDF's page is at most 200 in long, its lap and edges included."""


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A sheet in millimetres, and the lengths of strips on it in grid units: whole steps of the job's rule."""

    width: float
    height: float
    strip: int
    rows: int


def _sheet(name: SheetName, units: Units) -> _Sheet:
    step = INCH // 2 if units == "in" else 10 * MILLIMETRE
    if name == "roll":
        return _Sheet(0.0, _HEAD + _ROW + _FOOT, _LONGEST_ROLL * MILLIMETRE // step * step, 1)
    width, height = (297.0, 210.0) if name == "a4" else (279.4, 215.9)
    room = Fraction(width - 2 * _EDGE - LAP) * MILLIMETRE
    rows = int((height - _HEAD - _FOOT) // _ROW)
    return _Sheet(width, height, int(room // step * step), rows)


@dataclass(frozen=True, slots=True)
class _Strip:
    """One strip, from `start` to `end` along the panel as it lies face up, from its left."""

    number: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class _Tape:
    marks: Marked
    pins: tuple[Mark, ...]
    points: bool
    side: Side
    units: Units
    strips: tuple[_Strip, ...]

    def lies(self, at: int) -> int:
        """Return how far from the left of the panel, face up, a place measured from the leading edge is; or back."""
        return self.marks.flat_width - at if self.side == "left" else at


def tape(
    pleats: PleatFigures, pins: Sequence[HangingPoint], side: Side, names: Sequence[str], units: Units, name: SheetName
) -> list[Drawing]:
    """Return the pages of one panel's tape at full size, each with bars of 100 mm and 4 in to check the printer by.

    The upper edge of the tape lies along the top of the heading. `names` say whose panel it is.
    """
    sheet = _sheet(name, units)
    marks = marked(pleats, units)
    ends = [*range(sheet.strip, marks.flat_width, sheet.strip), marks.flat_width]
    strips = tuple(_Strip(number, 0 if number == 1 else ends[number - 2], end) for number, end in enumerate(ends, 1))
    word = "hook" if pleats.layout == "gathers" else "pin"
    hung = tuple(Mark(from_units(pin.flat, units), f"{word} {number}") for number, pin in enumerate(pins, 1))
    whole = _Tape(marks, hung, pleats.layout == "points", side, units, strips)
    return [
        _page(whole, strips[first : first + sheet.rows], sheet, names) for first in range(0, len(strips), sheet.rows)
    ]


def sheets_of(pleats: PleatFigures, units: Units, name: SheetName) -> int:
    """Return how many sheets a panel's tape takes."""
    sheet = _sheet(name, units)
    flat_width = from_units(pleats.stations[-1].end, units)
    return math.ceil(math.ceil(Fraction(flat_width, sheet.strip)) / sheet.rows)


def _page(tape: _Tape, strips: Sequence[_Strip], sheet: _Sheet, names: Sequence[str]) -> Drawing:
    longest = max(strip.end - strip.start for strip in strips) / MILLIMETRE
    width = sheet.width or max(2 * _EDGE + longest + LAP, 260.0)
    other = "right" if tape.side == "left" else "left"
    heading = f"Marking tape, {tape.side} panel"
    first, last, count = strips[0].number, strips[-1].number, len(tape.strips)
    which = f"strip {first}" if first == last else f"strips {first} to {last}"
    which += f" of {count}"
    flat = length_text(tape.marks.flat_width, tape.units)
    words = f"Flat {flat}; face up, its leading edge at your {other}. Figures are from the leading edge."
    shapes = [
        Text((_EDGE, 10.5), f"{heading}: {which}", 4.6, face="title"),
        Text((_EDGE, 15.0), shortened("  ·  ".join(map(isolated, names)), width - 2 * _EDGE, NOTE), NOTE),
        Text((width - _EDGE, 10.5), words, NOTE, "end"),
        *_bars(sheet.height - 13.5),
        *_advice(width, sheet.height - 15.0),
    ]
    for row, strip in enumerate(strips):
        shapes += _strip(tape, strip, _HEAD + row * _ROW)
    return Drawing(
        title=". ".join([heading, *names]),
        description=f"{words} {which.capitalize()}.",
        width=width,
        height=sheet.height,
        scale=1,
        shapes=tuple(shapes),
    )


def _advice(width: float, y: float) -> Iterator[Shape]:
    left = _EDGE + 118.0
    words = (
        "Print at full size and lay a rule on both bars: if one is off, the whole tape is. Cut the strips out, glue "
        "each on the lap of the one before, and lay the upper edge along the top of the heading."
    )
    for number, line in enumerate(wrapped(words, width - _EDGE - left, _SMALL, 3)):
        yield Text((left, y + 3.0 * number), line, _SMALL, face="note")


def _bars(y: float) -> Iterator[Shape]:
    """Yield the bars to check the printer by: exactly 100 mm, and exactly 4 in."""
    for drop, length, parts, words in ((0.0, 100.0, 10, "100 mm"), (4.4, 101.6, 4, "4 in")):
        at = y + drop
        yield Line((_EDGE, at), (_EDGE + length, at), Pen.FOLD)
        for part in range(parts + 1):
            x = _EDGE + length * part / parts
            tall = 2.6 if part in (0, parts) else 1.2
            yield Line((x, at - tall), (x, at), Pen.FOLD)
        yield Text((_EDGE + 104.0, at), words, _SMALL)


def _strip(tape: _Tape, strip: _Strip, top: float) -> list[Shape]:
    def x(at: int) -> float:
        return _EDGE + (tape.lies(at) - strip.start) / MILLIMETRE

    def here(marks: Sequence[Mark]) -> list[Mark]:
        """Return the marks on this strip; one where two strips meet is on the first."""
        held = [(tape.lies(mark.at), mark) for mark in marks]
        return [mark for at, mark in held if strip.start < at <= strip.end or at == strip.start == 0]

    right = _EDGE + (strip.end - strip.start) / MILLIMETRE
    shapes: list[Shape] = [
        Line((_EDGE, top), (right, top), Pen.EDGE),
        Line((_EDGE, top + _TALL), (right, top + _TALL), Pen.FAINT),
    ]
    shapes += _ends(tape, strip, top, right)
    for piece in tape.marks.pieces:
        start, end = sorted((tape.lies(piece.start), tape.lies(piece.end)))
        start, end = max(start, strip.start), min(end, strip.end)
        if start < end:
            shapes += _piece(piece.kind, piece.number, start - strip.start, end - strip.start, top)
    shapes += [Line((x(mark.at), top), (x(mark.at), top + _MARK), Pen.MARK) for mark in here(tape.marks.ends)]
    shapes += [Line((x(mark.at), top), (x(mark.at), top + _MIDDLE), Pen.CENTRE) for mark in here(tape.marks.middles)]
    for seam in here(tape.marks.seams):
        shapes += [
            Line((x(seam.at), top), (x(seam.at), top + _MARK + 5.0), Pen.SEAM),
            Text((x(seam.at) - 2.4, top + _TALL - 1.2), seam.of, _SMALL, face="bold", turned=90),
        ]
    if tape.points:
        for point in here(tape.marks.numbered):
            shapes += _token(x(point.at), top, point.of.split()[-1])
    shapes += _pins([(x(pin.at), pin.of) for pin in here(tape.pins)], top)
    labels = [(x(mark.at), figure(mark.at, tape.units), mark.of) for mark in here(_figured(tape.marks))]
    # At the leading edge of the panel itself there is nothing to measure.
    shapes += upright(
        [each for each in labels if each[1] != "0"], top + _MARK + 5.5, _EDGE + 2.5, right - 1.0, above=False
    )
    return shapes


def _figured(marks: Marked) -> list[Mark]:
    """Return one mark for each place that has a figure."""
    places = sorted((*marks.ends, *marks.middles, *marks.seams), key=lambda mark: mark.at)
    return [next(group) for _, group in groupby(places, key=lambda mark: mark.at)]


def _ends(tape: _Tape, strip: _Strip, top: float, right: float) -> Iterator[Shape]:
    """Yield the ends of a strip: an edge of the panel, or where it is glued to its neighbour."""
    total = tape.marks.flat_width
    edges = ("return edge", "leading edge") if tape.side == "left" else ("leading edge", "return edge")
    for at, place, edge, inner in ((strip.start, _EDGE, edges[0], 5.5), (strip.end, right, edges[1], -4.0)):
        outer = at in (0, total)
        yield Line((place, top), (place, top + _TALL), Pen.EDGE if outer else Pen.FOLD)
        if outer:
            yield Text((place + inner, top + _TALL - 1.2), edge, _SMALL, face="bold", turned=90)
    start, end = (length_text(tape.lies(at), tape.units) for at in (strip.start, strip.end))
    words = f"strip {strip.number} of {len(tape.strips)}: {start} to {end}"
    yield Text(((_EDGE + right) / 2, top + _TALL + 3.0), words, _SMALL, "middle", "note")
    if strip.end < total:
        yield hatched(right, top, LAP, _TALL, 3.0)
        yield Polyline(((right, top), (right + LAP, top), (right + LAP, top + _TALL), (right, top + _TALL)), Pen.FAINT)
        middle = (right + LAP / 2 + 0.9, top + _TALL / 2)
        words = f"glue strip {strip.number + 1} here"
        wide = width_of(words, _SMALL)
        yield Rectangle((middle[0] - 2.6, middle[1] - wide / 2 - 1), 3.4, wide + 2, None, Fill.PAPER)
        yield Text(middle, words, _SMALL, "middle", turned=90)


def _piece(kind: str, number: int, start: int, end: int, top: float) -> Iterator[Shape]:
    left, right = _EDGE + start / MILLIMETRE, _EDGE + end / MILLIMETRE
    if kind == "pleat":
        yield hatched(left, top, right - left, 4.0, 2.0)
    elif kind == "surplus":
        yield hatched(left, top, right - left, _MARK, 3.0, rising=False)
    middle = (left + right) / 2
    word = {"surplus": "cut off"}.get(kind, kind)
    if kind == "pleat":
        if right - left > 4.5:
            yield from _token(middle, top, str(number))
    elif kind != "point" and width_of(word, _SMALL) < right - left - 5:
        yield Text((middle, top + _TOKEN_AT + _SMALL * 0.36), word, _SMALL, "middle", "note")


def _token(place: float, top: float, number: str) -> Iterator[Shape]:
    yield Circle((place, top + _TOKEN_AT), 2.1, Pen.THIN, Fill.PAPER)
    yield Text((place, top + _TOKEN_AT + _SMALL * 0.36), number, _SMALL, "middle", "bold")


def _pins(pins: Sequence[tuple[float, str]], top: float) -> Iterator[Shape]:
    """Yield a pin's head for each pin or hook, with its number beside it."""
    for place, number in pins:
        yield Line((place, top + 4.0), (place, top + 8.0), Pen.FOLD)
        yield Circle((place, top + 6.0), 2 * PIN, None, Fill.INK)
        yield Text((place + 1.8, top + 6.0 + _SMALL * 0.36), number, _SMALL)
