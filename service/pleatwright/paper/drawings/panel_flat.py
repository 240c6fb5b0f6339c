"""The panel flat on the table, face up: the whole of it with hems and seams, then its heading, strip by strip."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from pleatwright.contract.estimates import EstimatedPanel, EstimatedWindow
from pleatwright.lengths import MILLIMETRE, Units, from_units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.heading_strips import HeadingStrips
from pleatwright.paper.drawings.hems import hem
from pleatwright.paper.drawings.marks import Marked, heading_in_words, marked, marks_in_words
from pleatwright.paper.drawings.placing import Frame, scale_for, scale_text
from pleatwright.paper.drawings.shapes import FIGURE, NOTE, Dimension, Drawing, Fill, Line, Pen, Rectangle, Shape, Text
from pleatwright.paper.drawings.words import counted, figure, shortened, width_of

_TALL: Final = 74.0
"""Millimetres that the whole panel may be tall."""
_SIDE: Final = 26.0
"""Left free beside the whole panel, for its length and its hems."""


def panel_flat(window: EstimatedWindow, panel: EstimatedPanel, units: Units) -> Drawing:
    """Return one panel of a window flat, before pleating, with every mark measured from its leading edge.

    A right panel has its leading edge at the left as it lies face up, a left panel at the right.
    """
    marks = marked(panel.pleats, units)
    whole = scale_for(from_units(panel.flat_width, units), sheet.ROOM - 2 * _SIDE)
    whole = max(whole, scale_for(from_units(panel.finished_length, units), _TALL))
    flat = _Whole(panel, units, marks, heading_depth(window, units), whole)
    mirrored = panel.side == "left"
    strips = HeadingStrips(marks, units, flat.bottom + 4.0, flat.depth, _side_hem(panel, units), mirrored=mirrored)
    side = "right" if mirrored else "left"
    description = (
        f"{panel.side.capitalize()} panel, face up, its leading edge at your {side}. Flat {flat.width_text} wide and "
        f"{flat.length_text} long, of {counted(panel.widths, 'width')}; {heading_in_words(panel.pleats, units)}. "
        f"From the leading edge, {marks_in_words(marks, units)}."
    )
    names = [window.label, window.style, window.fabric]
    heading = f"{panel.side.capitalize()} panel, flat"
    shapes = [*flat.shapes(), *strips.shapes]
    return sheet.finished(heading, names, description, shapes, strips.foot, strips.scale, units, strips.breaks)


def heading_depth(window: EstimatedWindow, units: Units) -> int:
    """Return the depth of a window's heading on the flat, before a rod through it draws it up."""
    heights = {each.point: from_units(each.height, units) for each in window.hang.heights}
    drawn_up = from_units(window.hang.finished_length, units) - from_units(window.hang.hung_length, units)
    return heights["heading-top"] - heights["heading-foot"] + drawn_up


def _side_hem(panel: EstimatedPanel, units: Units) -> int:
    return hem(panel.sewn.side_hem, panel.sewn.side_hem_depth, units).depth


class _Whole:
    """The whole panel, to scale."""

    def __init__(self, panel: EstimatedPanel, units: Units, marks: Marked, depth: int, scale: float) -> None:
        self.panel, self.units, self.marks, self.depth = panel, units, marks, depth
        self.length = from_units(panel.finished_length, units)
        self.length_text, self.width_text = figure(self.length, units), figure(marks.flat_width, units)
        across = marks.flat_width / MILLIMETRE / scale
        self.mirrored = panel.side == "left"
        left = sheet.MARGIN + (sheet.ROOM - across) / 2
        self.frame = Frame(left + across if self.mirrored else left, sheet.HEAD + 13.0, scale, 0, self.mirrored)
        self.left, self.right = left, left + across
        self.bottom = self.frame.y(self.length) + 12.0

    def shapes(self) -> Iterator[Shape]:
        frame, units = self.frame, self.units
        top, foot = frame.top, frame.y(self.length)
        yield Rectangle((self.left, top), self.right - self.left, foot - top, Pen.EDGE, Fill.CLOTH, of="panel")
        depth = frame.y(self.depth)
        yield Line((self.left, depth), (self.right, depth), Pen.FOLD, of="whole heading foot")
        for piece in self.marks.pieces:
            if piece.kind == "pleat":
                start, end = sorted((frame.x(piece.start), frame.x(piece.end)))
                yield Rectangle((start, top), end - start, depth - top, Pen.THIN, of=f"whole pleat {piece.number}")
        yield from self._hems(foot)
        yield from self._widths(foot)
        yield Dimension(
            (self.left, foot + 6.5),
            (self.right, foot + 6.5),
            self.marks.flat_width,
            f"flat {self.width_text}",
            of="flat width",
        )
        yield Dimension(
            (self.left - 14.0, top), (self.left - 14.0, foot), self.length, self.length_text, of="finished length"
        )
        for at, of in ((0, "leading edge"), (self.marks.flat_width, "return edge")):
            x = frame.x(at)
            yield Text(
                (x, foot + 3.6), of, FIGURE, "end" if x < (self.left + self.right) / 2 else "start", of=f"{of} word"
            )
        scale = scale_text(frame.scale)
        yield Text(
            (sheet.MARGIN + sheet.ROOM, sheet.HEAD), f"The whole panel, {scale}", NOTE, "end", "note", of="whole"
        )
        line = shortened(heading_in_words(self.panel.pleats, units), sheet.ROOM - 60, NOTE)
        yield Text((sheet.MARGIN, sheet.HEAD), line, NOTE, of="layout")

    def _hems(self, foot: float) -> Iterator[Shape]:
        frame, sewn, units = self.frame, self.panel.sewn, self.units
        side = _side_hem(self.panel, units)
        for at, of in ((side, "leading"), (self.marks.flat_width - side, "return")):
            if side:
                x = frame.x(at)
                yield Line((x, frame.y(self.depth)), (x, foot), Pen.STITCH, of=f"whole {of} side hem")
        bottom = hem(sewn.bottom_hem, sewn.bottom_hem_depth, units)
        if bottom.depth:
            y = frame.y(self.length - bottom.depth)
            yield Line((self.left, y), (self.right, y), Pen.STITCH, of="bottom hem")
            x = self.right + 20.0
            yield Dimension(
                (x, y),
                (x, foot),
                bottom.depth,
                f"hem {figure(bottom.depth, units)}{bottom.proviso}",
                beyond=True,
                of="hem depth",
            )
        takes = [
            f"{word} takes {figure(from_units(value, units), units)}"
            for word, value in (
                ("top turning", sewn.top_turning),
                ("bottom hem", sewn.bottom_hem),
                ("each side hem", sewn.side_hem),
                ("each side of a seam", sewn.seam_allowance if self.marks.seams else 0),
            )
            if value
        ]
        yield Text((sheet.MARGIN, sheet.HEAD + 4.2), "; ".join(takes), NOTE, of="takes")

    def _widths(self, foot: float) -> Iterator[Shape]:
        frame = self.frame
        places = [0, *(seam.at for seam in self.marks.seams), self.marks.flat_width]
        for seam in self.marks.seams:
            yield Line((frame.x(seam.at), frame.top), (frame.x(seam.at), foot), Pen.SEAM, of=f"whole {seam.of}")
        half = self.panel.widths % 1 != 0
        for number, (start, end) in enumerate(pairwise(places), 1):
            middle, room = (frame.x(start) + frame.x(end)) / 2, abs(frame.x(end) - frame.x(start))
            word = f"{'half ' if half and end == places[-1] else ''}width {number}"
            shown = next((each for each in (word, str(number)) if width_of(each, FIGURE) < room - 1), "")
            yield Text((middle, (frame.top + foot) / 2), shown, FIGURE, "middle", "note", of=f"width {number}")
            flat = figure(end - start, self.units)
            if width_of(flat, FIGURE) < room - 1 and len(places) > 2:
                at = (middle, (frame.top + foot) / 2 + 3.6)
                yield Text(at, flat, FIGURE, "middle", of=f"width {number} flat")
