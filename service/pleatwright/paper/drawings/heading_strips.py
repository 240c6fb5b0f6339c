"""The heading of one panel flat, strip by strip, with every mark measured from its leading edge."""

from typing import Final

from pleatwright.lengths import MILLIMETRE, Units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.leaders import APART
from pleatwright.paper.drawings.marks import Marked, heading_in_words, marked, marks_in_words, strips
from pleatwright.paper.drawings.placing import SCALES, Frame, scale_for
from pleatwright.paper.drawings.shapes import NOTE, Drawing, Shape, Text
from pleatwright.paper.drawings.strip import Strip, room_above, room_below, strip_shapes
from pleatwright.paper.drawings.words import shortened
from pleatwright.paper.flat import FlatPaper

_LIGHT: Final = 0.86
"""How full of figures a strip may be."""


class HeadingStrips:
    """The strips of one panel, the first at `top` on the paper: `shapes`, where they may be parted, and their foot."""

    def __init__(self, marks: Marked, units: Units, top: float, depth: int, hem: int, *, mirrored: bool) -> None:
        self.scale = _strip_scale(marks)
        self.shapes: list[Shape] = []
        self.breaks: list[float] = []
        parts = strips(marks, int(sheet.ROOM * self.scale * MILLIMETRE))
        above, below = room_above(marks, units), room_below(marks, units)
        left = sheet.MARGIN + (sheet.ROOM if mirrored else 0.0)
        for number, (start, end) in enumerate(parts, 1):
            if number > 1:
                self.breaks.append(top - 4.5)
            title = "Heading, measured from the leading edge"
            title += f", strip {number} of {len(parts)}" if len(parts) > 1 else ""
            self.shapes.append(Text((left, top), title, NOTE, "end" if mirrored else "start", "note", of="strip"))
            strip = Strip(marks, start, end, Frame(left, top + above, self.scale, start, mirrored), depth, hem, units)
            self.shapes += strip_shapes(strip)
            top = strip.foot + below + 7.0
        self.foot = top - 5.0


def _strip_scale(marks: Marked) -> float:
    """Return the scale with the fewest strips on which the figures stand apart."""
    one = scale_for(marks.flat_width, sheet.ROOM)
    for scale in sorted((each for each in SCALES if each <= one), reverse=True):
        most = max(
            sum(start < mark.at <= end for mark in marks.ends)
            for start, end in strips(marks, int(sheet.ROOM * scale * MILLIMETRE))
        )
        if most * APART <= sheet.ROOM * _LIGHT:
            return scale
    return SCALES[0]


def heading_strips(panel: FlatPaper) -> Drawing:
    """Return the heading of a panel of which no more is known than how it lies flat."""
    units, mirrored = panel.units, panel.side == "left"
    marks = marked(panel.pleats, units)
    strips = HeadingStrips(marks, units, sheet.HEAD + 9.0, panel.depth, 0, mirrored=mirrored)
    words = heading_in_words(panel.pleats, units)
    lies = f"face up, its leading edge at your {'right' if mirrored else 'left'}"
    line = Text((sheet.MARGIN, sheet.HEAD), shortened(f"{words}; {lies}", sheet.ROOM, NOTE), NOTE, of="layout")
    description = (
        f"{panel.side.capitalize()} panel, {lies}; {words}. From the leading edge, {marks_in_words(marks, units)}."
    )
    heading = f"{panel.side.capitalize()} panel, heading flat"
    shapes = [line, *strips.shapes]
    return sheet.finished(heading, [panel.style], description, shapes, strips.foot, strips.scale, units, strips.breaks)
