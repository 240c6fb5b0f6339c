"""A heading's cross-section, seen from above: the wall at the top of the paper, the room at the bottom."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from pleatwright.contract.about import HeadingFigures, LengthLimits
from pleatwright.lengths import MILLIMETRE, from_units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.placing import Frame, scale_for
from pleatwright.paper.drawings.section import outline_points
from pleatwright.paper.drawings.shapes import (
    FIGURE,
    NOTE,
    Circle,
    Dimension,
    Drawing,
    Fill,
    Line,
    Pen,
    Point,
    Polyline,
    Shape,
    Text,
)
from pleatwright.paper.drawings.words import clean, figure, wrapped

_SHOWN: Final = 3
"""Pleats, folds or pairs of gaps side by side."""
_APART: Final = 1.1
"""Millimetres between layers that lie flat on each other, which no true drawing could show."""
_TALL: Final = 62.0
_TABLE: Final = 3.9


def heading_section(figures: HeadingFigures) -> Drawing:
    """Return the cross-section of a style's heading of usual size, as long along the fold as the cloth it takes."""
    return _Section(figures).drawing()


class _Section:
    def __init__(self, figures: HeadingFigures) -> None:
        self.figures, self.units = figures, figures.units
        # Paths are in the units of the reply; on from here they are in grid units.
        unit = from_units(1, self.units)
        self.points = [(x * unit, y * unit) for x, y in outline_points(figures.cross_section.path)]
        end = round(self.points[-1][0])
        self.space = from_units(figures.space.usual, self.units) if figures.space else 0
        self.pitch = end + self.space
        self.is_flat = all(y == 0 for _, y in self.points)
        front, back = max(y for _, y in self.points), max(-y for _, y in self.points)
        low = min(x for x, _ in self.points)
        high = max(x for x, _ in self.points) - end
        across = self.pitch * (_SHOWN - 1) + end + 2 * max(-low, high, self.space / 2)
        scale = max(
            scale_for(round(across), sheet.ROOM - 36, enlarged=True),
            scale_for(round(front + back), _TALL, enlarged=True),
        )
        paper = across / MILLIMETRE / scale
        edge = max(-low, high, self.space / 2) / MILLIMETRE / scale
        left = sheet.MARGIN + (sheet.ROOM - paper) / 2 + edge
        top = sheet.HEAD + 22.0 + max(back / MILLIMETRE / scale, 4.0)
        self.frame = Frame(left, top, scale)
        self.edge = edge
        self.front = max(self.frame.y(front), top + 4.0)

    def drawing(self) -> Drawing:
        figures = self.figures
        cloth = figure(from_units(figures.cross_section.developed_length, self.units), self.units)
        description = (
            f"{clean(figures.summary)} {clean(figures.making)} Seen from above, the room at the bottom: "
            f"{_SHOWN} of them side by side, each of {cloth} of cloth. It stands out "
            f"{figure(from_units(figures.cross_section.projection, self.units), self.units)} from the face."
        )
        table = list(self.table())
        shapes = [*self.face(), *self.cloth(), *self.dimensions(), *table]
        bottom = self.front + 22.0 + _TABLE * (len(table) // 2)
        return sheet.finished(
            clean(figures.label), [figures.style], description, shapes, bottom, self.frame.scale, self.units
        )

    def face(self) -> Iterator[Shape]:
        top = self.frame.top
        left, right = self.frame.x(0) - self.edge, self.frame.x(self.pitch * _SHOWN - self.space) + self.edge
        yield Line((left, top), (right, top), Pen.CENTRE, of="face")
        yield Text((left, sheet.HEAD + 8.0), "wall", NOTE, face="note", of="wall word")
        if self.is_flat:
            words = "layers that lie flat are drawn a little apart"
            yield Text((right, self.front + 9.0), words, NOTE, "end", "note", of="layers")
        yield Text((left, self.front + 9.0), "room", NOTE, face="note", of="room word")

    def cloth(self) -> Iterator[Shape]:
        """Yield the cloth, the first piece heavier than what follows it, and the flat cloth between pleats."""
        for number in range(_SHOWN):
            at = number * self.pitch
            pen = Pen.EDGE if number == 0 else Pen.FOLD
            yield Polyline(self._laid(at), pen, of=f"{self.figures.word} {number + 1}")
            yield from self._tips(at)
            if self.space:
                x, y = self.frame.x(at), self.frame.top
                yield Circle((x, y), 0.9, None, Fill.CHALK, of=f"stitching {number + 1}")
                before = self.frame.x(at - self.space) if number else x - self.edge
                yield Line((before, y), (x, y), Pen.FOLD, of="space")
        if self.space:
            x = self.frame.x(self.pitch * (_SHOWN - 1))
            yield Line((x, self.frame.top), (x + self.edge, self.frame.top), Pen.FOLD, of="space")
        elif self.figures.layout == "points":
            for number in range(2 * _SHOWN + 1):
                x = self.frame.x(self.pitch * number / 2)
                yield Circle((x, self.frame.top), 1.1, Pen.MARK, Fill.PAPER, of=f"point {number + 1}")

    def _tips(self, at: int) -> Iterator[Shape]:
        """Yield the edges of folds that go out and back on one line, each as the small loop that cloth makes of it."""
        for before, tip, after in zip(self.points, self.points[1:], self.points[2:], strict=False):
            if before == after and not self.is_flat:
                place = (self.frame.x(at + tip[0]), self.frame.y(tip[1]))
                yield Circle(place, 0.9, Pen.FOLD, Fill.PAPER, of="fold edge")

    def _laid(self, at: int) -> tuple[Point, ...]:
        """Return one piece on paper; layers that lie flat on each other are drawn a little apart."""
        frame = self.frame
        if not self.is_flat:
            return tuple((frame.x(at + x), frame.y(y)) for x, y in self.points)
        # What shows lies before the face, and what does not behind it.
        way = 1 if self.figures.cross_section.width_shown else -1
        found: list[Point] = [(frame.x(at), frame.top)]
        last = len(self.points) - 2
        for number, (start, end) in enumerate(pairwise(self.points)):
            layer = 2 - number if last == 1 else min(number, last - number) + 1
            y = frame.top + way * _APART * layer
            found += [(frame.x(at + start[0]), y), (frame.x(at + end[0]), y)]
        return (*found, (frame.x(at), frame.top))

    def dimensions(self) -> Iterator[Shape]:
        frame, figures, units = self.frame, self.figures, self.units
        top = sheet.HEAD + 15.0
        if self.space:
            start, end = frame.x(0), frame.x(self.space)
            yield Dimension((start, top), (end, top), self.space, f"space {figure(self.space, units)}", of="space")
        else:
            start, end = frame.x(0), frame.x(self.pitch)
            words = f"{figure(self.pitch, units)} along the face"
            yield Dimension((start, top), (end, top), self.pitch, words, of="pitch")
        for x in (start, end):
            yield Line((x, top + 1.2), (x, frame.top - 1.0), Pen.FAINT)
        shown = from_units(figures.cross_section.width_shown, units)
        if self.space and shown:
            xs = [x for x, _ in self.points]
            low, high = (frame.x(self.pitch + each) for each in (min(xs), max(xs)))
            y = self.front + 6.0
            words = f"shows {figure(shown, units)}"
            yield Dimension((low, y), (high, y), round(max(xs) - min(xs)), words, beyond=high - low < 18, of="shown")
        out = from_units(figures.cross_section.projection, units)
        if out:
            x = frame.x(self.pitch * _SHOWN - self.space) + self.edge + 9.0
            foot = frame.y(out)
            text = figure(out, units)
            yield Dimension((x, frame.top), (x, foot), out, text, beyond=foot - frame.top < 12, of="projection")
        cloth = figure(from_units(figures.cross_section.developed_length, units), units)
        yield Text((frame.x(0), self.front + 14.0), f"cloth in each: {cloth}", FIGURE, "middle", "bold", of="cloth")

    def table(self) -> Iterator[Text]:
        """Yield the usual figures in two columns, and how it is made."""
        figures, units = self.figures, self.units

        def limits(given: LengthLimits) -> str:
            least, usual, most = (
                figure(from_units(each, units), units) for each in (given.least, given.usual, given.most)
            )
            return usual if least == most else f"{least} to {most}, usually {usual}"

        rows = [
            (name, limits(given))
            for name, given in (
                ("take-up", figures.take_up),
                ("space", figures.space),
                ("gap, flat", figures.gap),
                ("gap, hung", figures.finished_gap),
            )
            if given
        ]
        fullness = figures.fullness
        rows.append(("fullness", f"{fullness.least:g} to {fullness.most:g}, usually {fullness.usual:g}"))
        rows.append(("depth", figure(from_units(figures.depth, units), units)))
        if figures.folds:
            tacked = f", tacked {figures.tacked.replace('-', ' ')}" if figures.tacked not in (None, "none") else ""
            rows.append(("folds", f"{figures.folds}, stitched on the {figures.stitched}{tacked}"))
        making = wrapped(clean(figures.making), sheet.ROOM - 32, NOTE, 3)
        rows += [("making" if number == 0 else "", line) for number, line in enumerate(making)]
        for number, (word, text) in enumerate(rows):
            y = self.front + 24.0 + number * _TABLE
            yield Text((sheet.MARGIN, y), word, NOTE, face="note", of=f"{word} word")
            yield Text((sheet.MARGIN + 24.0, y), text, NOTE, of=word)
