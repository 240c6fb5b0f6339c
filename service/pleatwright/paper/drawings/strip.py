"""One strip of a panel's heading, flat on the table, with its marks and their running measurements."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from pleatwright.lengths import Units
from pleatwright.paper.drawings.leaders import LEADER, upright
from pleatwright.paper.drawings.marks import Marked, Piece
from pleatwright.paper.drawings.placing import Frame, spread
from pleatwright.paper.drawings.shapes import (
    FIGURE,
    Circle,
    Fill,
    Line,
    Pen,
    Polyline,
    Shape,
    Text,
    hatched,
)
from pleatwright.paper.drawings.sheet import MARGIN, ROOM
from pleatwright.paper.drawings.words import figure, width_of

SMALL: Final = 2.2
_TOKEN: Final = 1.75
_BELOW: Final = 9.5
"""Of the cloth below the heading, for numbers and the figures of the pieces."""

_FLAT: Final = {"overlap": "overlap", "return": "return", "surplus": "cut off", "edge": "edge"}
_Label = tuple[int, str, str]
"""A place along the cloth, what is written there, and what it is of."""
_UNNUMBERED: Final = frozenset({"overlap", "return"})


@dataclass(frozen=True, slots=True)
class Strip:
    """A strip from `start` to `end` of the flat width, its cloth at `frame`.

    `depth` is that of the heading and `hem` that of the side hem, both to scale.
    """

    marks: Marked
    start: int
    end: int
    frame: Frame
    depth: int
    hem: int
    units: Units

    def holds(self, at: int) -> bool:
        """Tell whether a place is on this strip; one where two strips meet is on the first."""
        return self.start < at <= self.end or at == self.start == 0

    @property
    def foot(self) -> float:
        """Where the cloth of this strip is torn off, on paper."""
        return self.frame.y(self.depth) + _BELOW


def room_above(marks: Marked, units: Units) -> float:
    """Return what the figures above the cloth take, in millimetres."""
    longest = max((width_of(words, FIGURE) for _, words, _ in _above(marks, units)), default=0.0)
    return (longest + LEADER + 1 if longest else 1.0) + (5.0 if marks.seams else 0.0) + 4.5


def room_below(marks: Marked, units: Units) -> float:
    """Return the same for those below it."""
    return max(width_of(figure(mark.at, units), FIGURE) for mark in marks.ends) + LEADER + 1


def _above(marks: Marked, units: Units) -> list[_Label]:
    """Return what stands above the cloth: the middles of pleats, and what the flat pieces are."""
    middles = [(mark.at, figure(mark.at, units), f"{mark.of} at") for mark in marks.middles]
    flat = [
        ((piece.start + piece.end) // 2, f"{_FLAT[piece.kind]} {figure(piece.end - piece.start, units)}", piece.kind)
        for piece in marks.pieces
        if piece.kind in _FLAT
    ]
    return middles + flat


def strip_shapes(strip: Strip) -> Iterator[Shape]:
    """Yield one strip."""
    yield from _cloth(strip)
    for piece in strip.marks.pieces:
        if piece.start < strip.end and piece.end > strip.start:
            yield from _piece(strip, piece)
    yield from _hems(strip)
    yield from _lines(strip)
    top = strip.frame.top
    yield from _figures(strip, _above(strip.marks, strip.units), top - 0.6, above=True)
    below = [(mark.at, figure(mark.at, strip.units), f"{mark.of} at") for mark in strip.marks.ends]
    yield from _figures(strip, below, strip.foot + 0.6, above=False)
    yield from _seams(strip)
    yield from _tokens(strip)


def _cloth(strip: Strip) -> Iterator[Shape]:
    frame, top, foot = strip.frame, strip.frame.top, strip.foot
    left, right = sorted((frame.x(strip.start), frame.x(strip.end)))
    # The cloth goes on below: it is torn off in a shallow wave.
    steps = max(2, round((right - left) / 4))
    torn = [(left + (right - left) * step / steps, foot + (0.5 if step % 2 else -0.5)) for step in range(steps + 1)]
    yield Polyline(((left, top), *torn, (right, top)), None, Fill.CLOTH)
    yield Polyline(tuple(torn), Pen.FAINT)
    yield Line((left, top), (right, top), Pen.EDGE, of="top")
    for at, of in ((strip.start, "leading edge"), (strip.end, "return edge")):
        outer = at in (0, strip.marks.flat_width)
        x = frame.x(at)
        yield Line((x, top), (x, foot), Pen.EDGE if outer else Pen.FAINT, of=of if outer else "strip end")
    depth = frame.y(strip.depth)
    yield Line((left, depth), (right, depth), Pen.FOLD, of="heading foot")


def _piece(strip: Strip, piece: Piece) -> Iterator[Shape]:
    start, end = max(piece.start, strip.start), min(piece.end, strip.end)
    left, right = sorted((strip.frame.x(start), strip.frame.x(end)))
    top, depth = strip.frame.top, strip.frame.y(strip.depth)
    if piece.kind == "pleat":
        yield hatched(left, top, right - left, depth - top, 1.3, of=f"pleat {piece.number} cloth")
    elif piece.kind == "surplus":
        yield hatched(left, top, right - left, strip.foot - top, 1.0, rising=False)
    words = figure(piece.end - piece.start, strip.units)
    whole = start == piece.start and end == piece.end and piece.kind not in ("gather", *_FLAT)
    if whole and width_of(words, SMALL) < right - left - 0.6:
        at = ((left + right) / 2, strip.foot - 1.6)
        yield Text(at, words, SMALL, "middle", "note", of=f"{piece.kind} {piece.number} width")


def _hems(strip: Strip) -> Iterator[Shape]:
    for at, inner, of in (
        (0, strip.hem, "leading"),
        (strip.marks.flat_width, strip.marks.flat_width - strip.hem, "return"),
    ):
        if strip.hem and strip.start <= inner <= strip.end and strip.start <= at <= strip.end:
            x = strip.frame.x(inner)
            yield Line((x, strip.frame.y(strip.depth)), (x, strip.foot), Pen.STITCH, of=f"{of} side hem")


def _lines(strip: Strip) -> Iterator[Shape]:
    frame, depth = strip.frame, strip.frame.y(strip.depth)
    for mark in strip.marks.ends:
        if strip.holds(mark.at):
            x = frame.x(mark.at)
            yield Line((x, frame.top), (x, depth + 0.9), Pen.MARK, of=mark.of)
            yield Line((x, depth + 0.9), (x, strip.foot), Pen.FAINT)
    for mark in strip.marks.middles:
        if strip.holds(mark.at):
            x = frame.x(mark.at)
            yield Line((x, frame.top - 0.6), (x, depth + 1.2), Pen.CENTRE, of=mark.of)


def _figures(strip: Strip, labels: Sequence[_Label], edge: float, *, above: bool) -> Iterator[Shape]:
    """Yield the figures of this strip along one edge of the cloth."""
    held = [(strip.frame.x(at), words, of) for at, words, of in labels if strip.holds(at)]
    yield from upright(held, edge, MARGIN + 1, MARGIN + ROOM - 1, above=above)


def _seams(strip: Strip) -> Iterator[Shape]:
    held = sorted((seam for seam in strip.marks.seams if strip.holds(seam.at)), key=lambda seam: strip.frame.x(seam.at))
    if not held:
        return
    row = strip.frame.top - room_above(strip.marks, strip.units) + 7.0
    words = [f"{seam.of} at {figure(seam.at, strip.units)}" for seam in held]
    widest = max(width_of(each, FIGURE) for each in words) + 2
    places = spread([strip.frame.x(seam.at) for seam in held], widest, MARGIN + widest / 2, MARGIN + ROOM - widest / 2)
    for seam, text, place in zip(held, words, places, strict=True):
        x = strip.frame.x(seam.at)
        yield Line((x, strip.frame.top - 0.6), (x, strip.foot), Pen.SEAM, of=seam.of)
        yield Polyline(((x, strip.frame.top - 0.6), (x, row + 2.2), (place, row + 0.7)), Pen.THIN)
        yield Text((place, row), text, FIGURE, "middle", of=f"{seam.of} at")


def _tokens(strip: Strip) -> Iterator[Shape]:
    """Yield the numbers of pleats and points, each in a ring below the heading; every fifth where they crowd."""
    held = [mark for mark in strip.marks.numbered if strip.holds(mark.at) and mark.of.split()[0] not in _UNNUMBERED]
    places = [strip.frame.x(mark.at) for mark in held]
    nearest = min((abs(after - before) for before, after in pairwise(places)), default=10.0)
    y = strip.frame.y(strip.depth) + 3.0
    for mark, place in zip(held, places, strict=True):
        number = mark.of.split()[-1]
        if nearest < 2 * _TOKEN + 0.2 and int(number) % 5 and number != "1":
            continue
        yield Circle((place, y), _TOKEN, Pen.THIN, Fill.PAPER)
        yield Text((place, y + SMALL * 0.36), number, SMALL, "middle", "bold", of=f"{mark.of} number")
