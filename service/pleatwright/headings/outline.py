"""The cross-section of a pleat as a path of lines and arcs, seen from above.

The path starts where the pleat starts, at (0, 0), and follows the cloth. x runs along the face of the panel, away from
the leading edge; y stands out from the face into the room, so what lies behind the face has a negative y. All in the
unit of the take-up it was drawn for. Cloth is neither made nor lost: the developed length is the take-up [geometry].
"""

import math
from dataclasses import dataclass
from typing import Self

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Line:
    """Straight on to `end`."""

    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """Round `centre` by `turn` radians, counter-clockwise when positive."""

    centre: Point
    turn: float


@dataclass(frozen=True, slots=True)
class Outline:
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
    def points(self) -> list[Point]:
        """Points along the path: the ends of its pieces, and where an arc goes farthest in x or y."""
        at = (0.0, 0.0)
        found = [at]
        for piece in self.pieces:
            match piece:
                case Line(end):
                    at = end
                case Arc(centre, turn):
                    found += _extremes(at, centre, turn)
                    at = _turned(at, centre, turn)
            found.append(at)
        return found

    @property
    def projection(self) -> float:
        """How far the pleat stands out from the face of the panel."""
        return max(y for _, y in self.points)

    @property
    def width_shown(self) -> float:
        """How wide the pleat is as seen from the room: the extent of what stands in front of the face."""
        shown = [x for x, y in self.points if y > 0]
        return max(shown) - min(shown) if shown else 0.0

    def svg_path(self, scale: float = 1.0) -> str:
        """Return the path in the path grammar of SVG 2, y pointing into the room, multiplied by `scale`.

        >>> Outline().line(0, 2).arc(1, 2, -math.pi).svg_path()
        'M 0 0 L 0 2 A 1 1 0 0 0 2 2'
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
                    # SVG cannot draw a whole circle as one arc, so each arc goes in steps of half a turn at most.
                    steps = max(1, math.ceil(abs(turn) / math.pi - 1e-9))
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


def _turned(point: Point, centre: Point, turn: float) -> Point:
    x, y = point[0] - centre[0], point[1] - centre[1]
    cosine, sine = math.cos(turn), math.sin(turn)
    return centre[0] + x * cosine - y * sine, centre[1] + x * sine + y * cosine


def _extremes(start: Point, centre: Point, turn: float) -> list[Point]:
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    radius = math.dist(start, centre)
    low, high = sorted((first, first + turn))
    quarters = range(math.ceil(low / (math.pi / 2)), math.floor(high / (math.pi / 2)) + 1)
    return [
        (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
        for angle in (quarter * math.pi / 2 for quarter in quarters)
    ]


def _point(point: Point, scale: float) -> str:
    return f"{_number(point[0] * scale)} {_number(point[1] * scale)}"


def _number(value: float) -> str:
    return (
        f"{value:.6f}".rstrip("0").rstrip(".").replace("-0", "0", 1)
        if abs(value) < 5e-7
        else f"{value:.6f}".rstrip("0").rstrip(".")
    )
