"""The cross-section of a heading as a path of lines and arcs, seen from above.

The path starts where the piece starts, at (0, 0), and follows the cloth. x runs along the face of the panel, away from
the leading edge; y stands out from the face into the room, so what lies behind the face has a negative y. All in the
unit of the cloth it was drawn for. Cloth is neither made nor lost: the developed length is the cloth [geometry].
"""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import Final, Self

from msgspec import Struct

Point = tuple[float, float]
ROUNDING: Final = 1e-9
"""What floating point may be off by, in parts of the cloth."""


class Line(Struct, frozen=True):
    """Straight on to `end`."""

    end: Point


class Arc(Struct, frozen=True):
    """Round `centre` by `turn` radians, counter-clockwise when positive."""

    centre: Point
    turn: float


class Outline(Struct, frozen=True):
    """A path from (0, 0) through its pieces."""

    pieces: tuple[Line | Arc, ...] = ()

    def line(self, x: float, y: float) -> Self:
        """Return the outline with a straight line to (x, y) added."""
        return type(self)((*self.pieces, Line((x, y))))

    def arc(self, x: float, y: float, turn: float) -> Self:
        """Return the outline with an arc round (x, y) added, `turn` in radians."""
        return type(self)((*self.pieces, Arc((x, y), turn)))

    @property
    def developed_length(self) -> float:
        """Length of cloth along the path: the lines' lengths, and radius times turn for each arc.

        >>> Outline().line(3, 4).arc(3, 0, math.pi).developed_length == 5 + 4 * math.pi
        True
        """
        length, at = 0.0, (0.0, 0.0)
        for piece in self.pieces:
            match piece:
                case Line(end):
                    length += math.dist(at, end)
                    at = end
                case Arc(centre, turn):
                    length += math.dist(at, centre) * abs(turn)
                    at = _turned(at, centre, turn)
        return length

    @property
    def end(self) -> Point:
        """Where the path ends."""
        at = (0.0, 0.0)
        for piece in self.pieces:
            at = piece.end if isinstance(piece, Line) else _turned(at, piece.centre, piece.turn)
        return at

    @property
    def projection(self) -> float:
        """How far the piece stands out from the face of the panel."""
        return max((y for start, _, end in self._parts() for y in (start[1], end[1])), default=0.0)

    @property
    def stands_back(self) -> float:
        """How far the piece stands back from the face of the panel, towards the wall.

        >>> Outline().line(1, -2).line(2, 3).stands_back
        2.0
        """
        return max((-y for start, _, end in self._parts() for y in (start[1], end[1])), default=0.0)

    @property
    def width_shown(self) -> float:
        """How wide the piece is as seen from the room: the extent of what stands in front of the face.

        >>> Outline().line(2, 1).line(0, 0).width_shown
        2.0
        """
        face = ROUNDING * self.developed_length
        shown = [x for start, middle, end in self._parts() if middle[1] > face for x in (start[0], end[0])]
        return max(shown) - min(shown) if shown else 0.0

    def walked(self, steps: int) -> Iterator[Point]:
        """Yield points along each piece, `steps` to a piece, for a drawing in characters."""
        at = (0.0, 0.0)
        for piece in self.pieces:
            start = at
            for step in range(steps + 1):
                match piece:
                    case Line(end):
                        at = _between(start, end, step / steps)
                    case Arc(centre, turn):
                        at = _turned(start, centre, turn * step / steps)
                yield at

    def _parts(self) -> Iterator[tuple[Point, Point, Point]]:
        """Yield start, middle and end of parts so small that none passes through the face, or turns in x or y."""
        at = (0.0, 0.0)
        for piece in self.pieces:
            start = at
            match piece:
                case Line(end):
                    at = end
                    rise = end[1] - start[1]
                    through = [-start[1] / rise] if start[1] * end[1] < 0 else []
                    for low, high in pairwise([0.0, *through, 1.0]):
                        yield (
                            _between(start, end, low),
                            _between(start, end, (low + high) / 2),
                            _between(start, end, high),
                        )
                case Arc(centre, turn):
                    at = _turned(start, centre, turn)
                    for low, high in pairwise(_breaks(start, centre, turn)):
                        yield (
                            _turned(start, centre, low),
                            _turned(start, centre, (low + high) / 2),
                            _turned(start, centre, high),
                        )

    def svg_path(self, scale: float = 1.0) -> str:
        """Return the path in the path grammar of SVG 2, y pointing into the room, multiplied by `scale`.

        >>> Outline().line(0, 2).arc(1, 2, -math.pi).svg_path()
        'M 0 0 L 0 2 A 1 1 0 0 0 1 3 A 1 1 0 0 0 2 2'
        """
        at = (0.0, 0.0)
        words = ["M 0 0"]
        for piece in self.pieces:
            match piece:
                case Line(end):
                    at = end
                    words.append(f"L {_point(at, scale)}")
                case Arc(centre, turn):
                    radius = _number(math.dist(at, centre) * scale)
                    # Quarter turns at most: SVG cannot draw a whole circle as one arc, and half a circle hangs on
                    # the last digit of its ends.
                    steps = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-9))
                    for _ in range(steps):
                        at = _turned(at, centre, turn / steps)
                        words.append(f"A {radius} {radius} 0 0 {int(turn > 0)} {_point(at, scale)}")
        return " ".join(words)


def fan(folds: int, depth: float, spread: float) -> Outline:
    """Return `folds` folds that stand out from one stitching line, each going out and back by `depth`.

    `spread` is the angle in radians between the outer two, or between a single fold and the way straight out: 0.

    >>> outline = fan(3, 1.0, math.radians(60))
    >>> round(outline.developed_length, 9), round(outline.projection, 9)
    (6.0, 1.0)
    """
    outline = Outline()
    for fold in range(folds):
        angle = spread * (fold / (folds - 1) - 0.5) if folds > 1 else 0.0
        outline = outline.line(depth * math.sin(angle), depth * math.cos(angle)).line(0, 0)
    return outline


def wave(cloth: float, shown: float) -> Outline:
    """Return one wave of `cloth`, half of it to the front and half to the back, that goes `shown` along the face.

    Cloth of up to pi / 2 times the width lies in two arcs [geometry: chord and arc]; more of it stands straight out and
    in, between half circles [geometry].

    >>> outline = wave(8.0, 4.0)
    >>> round(outline.developed_length, 9), round(math.dist(outline.end, (4, 0)), 9)
    (8.0, 0.0)
    >>> round(outline.projection, 9) == round((8 - 2 * math.pi) / 4 + 1, 9)
    True
    """
    half = shown / 2
    if cloth <= shown:
        return Outline().line(cloth, 0)
    if cloth >= math.pi * half:
        leg = (cloth - math.pi * half) / 4
        front = Outline().line(0, leg).arc(half / 2, leg, -math.pi)
        return front.line(half, -leg).arc(3 * half / 2, -leg, math.pi).line(shown, 0)
    turn = _turn_of_arc(cloth / shown)
    radius = cloth / 2 / turn
    below = math.sqrt(max(radius * radius - half * half / 4, 0.0))
    return Outline().arc(half / 2, -below, -turn).arc(3 * half / 2, below, turn)


def _turn_of_arc(ratio: float) -> float:
    """Return the turn, up to half a circle, of an arc `ratio` times as long as its chord: turn / (2 sin(turn / 2))."""
    low, high = 0.0, math.pi
    for _ in range(100):
        middle = (low + high) / 2
        if middle < ratio * 2 * math.sin(middle / 2):
            low = middle
        else:
            high = middle
    return high


def _turned(point: Point, centre: Point, turn: float) -> Point:
    x, y = point[0] - centre[0], point[1] - centre[1]
    cosine, sine = math.cos(turn), math.sin(turn)
    return centre[0] + x * cosine - y * sine, centre[1] + x * sine + y * cosine


def _between(start: Point, end: Point, part: float) -> Point:
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part


def _breaks(start: Point, centre: Point, turn: float) -> list[float]:
    """Return the turns at which an arc goes farthest in x or y or passes through y = 0, with its two ends."""
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    radius = math.dist(start, centre)
    angles = [quarter * math.pi / 2 for quarter in range(4)]
    if 0 < abs(centre[1]) < radius:
        rise = math.asin(-centre[1] / radius)
        angles += [rise, math.pi - rise]
    low, high = sorted((0.0, turn))
    passed = {
        angle - first + whole * 2 * math.pi
        for angle in angles
        for whole in range(
            math.ceil((low + first - angle) / (2 * math.pi)), math.floor((high + first - angle) / (2 * math.pi)) + 1
        )
    }
    return sorted({low, high, *passed})


def _point(point: Point, scale: float) -> str:
    return f"{_number(point[0] * scale)} {_number(point[1] * scale)}"


def _number(value: float) -> str:
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
