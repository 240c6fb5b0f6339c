"""Parts a tall drawing at its breaks, so that each part goes on a sheet of paper."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from pleatwright.paper.drawings.shapes import (
    BARE_ABOVE,
    BARE_BELOW,
    Circle,
    Dimension,
    Drawing,
    Line,
    Point,
    Polyline,
    Rectangle,
    Shape,
    Strokes,
    Text,
)


def parted(drawing: Drawing, tallest: float) -> list[Drawing]:
    """Return a drawing in parts, each as tall as its breaks allow up to `tallest` millimetres.

    A part between two breaks that is taller stays whole. The title tells which part it is. Each part has as much white
    above and below what is drawn as the whole has.
    """
    ends = [0.0]
    for place, following in pairwise([*drawing.breaks, drawing.height]):
        if following - ends[-1] > tallest:
            ends.append(place)
    parts = list(pairwise([*ends, drawing.height]))
    if len(parts) == 1:
        return [drawing]
    found = []
    for number, (start, end) in enumerate(parts, 1):
        above = BARE_ABOVE if start else 0.0
        below = BARE_BELOW if end < drawing.height else 0.0
        found.append(
            replace(
                drawing,
                title=f"{drawing.title}. Part {number} of {len(parts)}",
                height=above + end - start + below,
                shapes=tuple(moved(shape, above - start) for shape in drawing.shapes if start <= _top(shape) < end),
                breaks=(),
            )
        )
    return found


def moved(shape: Shape, down: float) -> Shape:
    """Return a shape further down, or up if that is less than nothing."""

    def at(point: Point) -> Point:
        return point[0], point[1] + down

    match shape:
        case Line() | Dimension():
            return replace(shape, start=at(shape.start), end=at(shape.end))
        case Strokes():
            return replace(shape, lines=tuple((at(start), at(end)) for start, end in shape.lines))
        case Polyline():
            return replace(shape, points=tuple(at(point) for point in shape.points))
        case Rectangle():
            return replace(shape, corner=at(shape.corner))
        case Circle():
            return replace(shape, centre=at(shape.centre))
        case Text():
            return replace(shape, at=at(shape.at))


def _top(shape: Shape) -> float:
    return min(_heights(shape), default=0.0)


def _heights(shape: Shape) -> Iterator[float]:
    match shape:
        case Line() | Dimension():
            yield from (shape.start[1], shape.end[1])
        case Strokes():
            yield from (y for line in shape.lines for _, y in line)
        case Polyline():
            yield from (y for _, y in shape.points)
        case Rectangle():
            yield shape.corner[1]
        case Circle():
            yield shape.centre[1]
        case Text():
            yield shape.at[1]
