"""The panel finished: closed, with its heading measured from the leading edge, and stacked, to the same scale."""

from collections.abc import Iterator
from typing import Final

from pleatwright.contract.estimates import EstimatedPanel, EstimatedWindow
from pleatwright.lengths import MILLIMETRE, Units, from_units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.elevation import hanging
from pleatwright.paper.drawings.leaders import APART, upright
from pleatwright.paper.drawings.panel_flat import heading_depth
from pleatwright.paper.drawings.placing import Frame, scale_for
from pleatwright.paper.drawings.shapes import (
    FIGURE,
    NOTE,
    Anchor,
    Circle,
    Dimension,
    Drawing,
    Fill,
    Line,
    Pen,
    Shape,
    Text,
    hatched,
)
from pleatwright.paper.drawings.words import counted, figure, listed, width_of

_TALL: Final = 118.0
_BETWEEN: Final = 44.0
"""Between the two views."""
_LEFT: Final = 22.0
"""Left of them, for the length."""
_ROW: Final = 5.5
_FOLD_APART: Final = 2.2
"""The least between folds of a stacked panel."""


def panel_finished(window: EstimatedWindow, panel: EstimatedPanel, units: Units) -> Drawing:
    """Return one panel of a window finished: closed on the left of the paper, stacked on the right.

    Its return is drawn straight on, as it lies on the table. Places along it are measured from the leading edge.
    """
    return _Finished(window, panel, units).drawing()


class _Finished:
    def __init__(self, window: EstimatedWindow, panel: EstimatedPanel, units: Units) -> None:
        self.window, self.panel, self.units = window, panel, units
        self.mirrored = panel.side == "left"
        self.width, self.length = from_units(panel.finished_width, units), from_units(panel.finished_length, units)
        stacks = {each.side: each.stack for each in window.rod.stacks}
        self.stack = from_units(stacks[panel.side], units)
        self.depth = heading_depth(window, units)
        self.returned = from_units(panel.return_, units)
        lead = from_units(panel.leading_return, units)
        self.overlap = (lead, lead + from_units(panel.overlap, units))
        self.lead = lead
        room = sheet.ROOM - _BETWEEN - _LEFT
        scale = max(scale_for(self.width + self.stack, room), scale_for(self.length, _TALL))
        self.points = [
            (from_units(each.finished, units), f"{each.on} {each.number}") for each in panel.pleats.hanging_points
        ]
        longest = max((width_of(figure(at, units), FIGURE) for at, _ in self.points), default=0.0)
        across = self.width / MILLIMETRE / scale
        both = across + _BETWEEN + self.stack / MILLIMETRE / scale
        left = sheet.MARGIN + _LEFT + (room + _BETWEEN - both) / 2
        self.frame = Frame(
            left + across if self.mirrored else left, sheet.HEAD + longest + 16.0, scale, 0, self.mirrored
        )
        self.foot = self.frame.y(self.length)

    def drawing(self) -> Drawing:
        panel, units = self.panel, self.units
        places = [f"{of} at {figure(at, units)}" for at, of in self.points]
        description = (
            f"{panel.side.capitalize()} panel seen from the room, its leading edge at your "
            f"{'right' if self.mirrored else 'left'}. Closed it is {figure(self.width, units)} wide and "
            f"{figure(self.length, units)} long; stacked it takes {figure(self.stack, units)} of the rod. "
            + (f"From the leading edge, {listed(places)}." if places else "The rod carries it all along.")
        )
        names = [self.window.label, self.window.style, self.window.fabric]
        heading = f"{panel.side.capitalize()} panel, finished"
        shapes = [*self.closed(), *self.open()]
        return sheet.finished(heading, names, description, shapes, self.foot + 22.0, self.frame.scale, units)

    def closed(self) -> Iterator[Shape]:
        frame, units = self.frame, self.units
        left, right = sorted((frame.x(0), frame.x(self.width)))
        folds = sorted(frame.x(at) for at, _ in self._carrying())
        yield from hanging(left, right, frame.top, frame.y(self.depth), self.foot, folds, "closed")
        lap = sorted((frame.x(self.overlap[0]), frame.x(self.overlap[1])))
        if lap[0] < lap[1]:
            yield hatched(lap[0], frame.top, lap[1] - lap[0], frame.y(self.depth) - frame.top, 1.3)
        for at, of in ((self.width - self.returned, "return fold"), (self.lead, "leading return fold")):
            if 0 < at < self.width:
                yield Line((frame.x(at), frame.top), (frame.x(at), self.foot), Pen.STITCH, of=of)
        yield from self._heading()
        yield from self._chain()
        x = left - 9.0
        text = figure(self.length, units)
        yield Dimension((x, frame.top), (x, self.foot), self.length, text, of="finished length")
        edge = frame.x(0)
        beside = (edge + (4.6 if self.mirrored else -2.4), self.foot)
        yield Text(beside, "leading edge", FIGURE, turned=90, of="leading edge word")
        words = "Closed, the return drawn straight on" if self.returned else "Closed"
        yield Text((left, sheet.HEAD + 2.0), words, NOTE, face="note", of="closed view")

    def _carrying(self) -> list[tuple[int, str]]:
        """Return the points from which folds fall: not the pins at the flat ends."""
        return [(at, of) for at, of in self.points if of.split()[0] not in ("overlap", "return")]

    def _heading(self) -> Iterator[Shape]:
        """Yield the hanging points with their places; where there are too many, every second, fifth or tenth."""
        frame = self.frame
        room = frame.along(self.width)
        each = next((step for step in (1, 2, 5, 10, 20, 50) if len(self.points) / step * APART <= room), 100)
        carried = sorted(self.points, key=lambda point: frame.x(point[0]))
        last = len(carried)
        shown = [
            point
            for point in carried
            if each == 1 or int(point[1].split()[-1]) % each == 0 or point[1].split()[-1] in ("1", str(last))
        ]
        low, high = sorted((frame.x(0), frame.x(self.width)))
        for at, of in carried:
            x = frame.x(at)
            yield Line((x, frame.top), (x, frame.y(self.depth)), Pen.MARK, of=f"{of} finished")
            yield Circle((x, frame.top), 0.6, None, Fill.CHALK, of=of)
        labels = [(frame.x(at), figure(at, self.units), f"{of} at") for at, of in shown]
        yield from upright(labels, frame.top - 0.9, low - 8.0, high + 8.0, above=True)

    def _chain(self) -> Iterator[Shape]:
        """Yield the finished width and what it is made of."""
        frame, units = self.frame, self.units
        y = self.foot + _ROW
        parts = [
            (0, self.lead, "leading return"),
            (*self.overlap, "overlap"),
            (self.overlap[1], self.width - self.returned, "face"),
            (self.width - self.returned, self.width, "return"),
        ]
        for start, end, of in parts:
            if end > start and (of != "face" or end - start < self.width):
                low, high = sorted((frame.x(start), frame.x(end)))
                text = figure(end - start, units)
                words = f"{of} {text}" if width_of(f"{of} {text}", FIGURE) < high - low else ""
                yield Dimension((low, y), (high, y), end - start, words, of=of)
                if not words:
                    # Too narrow for its figure: that stands below, at the side where there is room.
                    side: Anchor = "start" if self.mirrored != (of == "return") else "end"
                    at = (low if side == "start" else high, y + 3.6)
                    yield Text(at, f"{of} {text}", FIGURE, side, of=f"{of} at")
        low, high = sorted((frame.x(0), frame.x(self.width)))
        y += 2 * _ROW
        words = f"finished {figure(self.width, units)}"
        yield Dimension((low, y), (high, y), self.width, words, of="finished width")

    def open(self) -> Iterator[Shape]:
        frame, units = self.frame, self.units
        across = frame.along(self.stack)
        left = max(frame.x(0), frame.x(self.width)) + _BETWEEN
        right = left + max(across, 0.4)
        folded = max(len(self._carrying()), 2)
        # More folds than can be told apart are drawn as so many that can.
        folded = min(folded, int((right - left) / _FOLD_APART))
        folds = [left + (right - left) * number / folded for number in range(1, folded)]
        yield from hanging(left, right, frame.top, frame.y(self.depth), self.foot, folds, "stacked")
        y = self.foot + _ROW
        words = f"stack {figure(self.stack, units)}"
        if width_of(words, FIGURE) < right - left:
            yield Dimension((left, y), (right, y), self.stack, words, of="stack")
        else:
            yield Dimension((left, y), (right, y), self.stack, "", of="stack")
            yield Text((left, y + 3.6), words, FIGURE, of="stack at")
        yield Text((left, sheet.HEAD + 2.0), "Stacked", NOTE, face="note", of="stacked view")
        folds_word = counted(
            len(self._carrying()), self.panel.pleats.points.word if self.panel.pleats.points else "fold"
        )
        if self.panel.pleats.pleat_count:
            folds_word = counted(self.panel.pleats.pleat_count, "pleat")
        if self._carrying():
            yield Text((left, sheet.HEAD + 6.2), folds_word, NOTE, of="folds")
