"""The outline of a heading's cross-section, as it is given in SVG's path grammar, as a row of points."""

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from pleatwright.paper.drawings.shapes import Point

_WORD: Final = re.compile(r"[A-Za-z]|-?[0-9.]+(?:e-?[0-9]+)?")
_STEPS: Final = 12
"""Chords to a quarter of a turn: off by a 450th part of the radius at the most."""


def outline_points(path: str) -> list[Point]:
    """Return points along a path of absolute moves, lines and arcs of circles: what `Outline.svg_path` writes.

    Raises ValueError for a path of anything else.

    >>> outline_points("M 0 0 L 3 4 L 3 0")
    [(0.0, 0.0), (3.0, 4.0), (3.0, 0.0)]
    """
    words = _WORD.findall(path)
    found: list[Point] = []
    while words:
        command, words = words[0], words[1:]
        taken = {"M": 2, "L": 2, "A": 7}.get(command)
        if taken is None or len(words) < taken or (not found) != (command == "M"):
            raise ValueError(f"not a path of moves, lines and arcs: {path[:40]!r}")
        figures, words = [float(word) for word in words[:taken]], words[taken:]
        end = (figures[-2], figures[-1])
        if command == "A":
            found += _arc(found[-1], end, figures[0], counter_clockwise=figures[4] > 0)
        found.append(end)
    return found


def _arc(start: Point, end: Point, radius: float, *, counter_clockwise: bool) -> Iterator[Point]:
    """Yield points within an arc of up to half a circle, y pointing up."""
    chord = math.dist(start, end)
    if not chord:
        return
    radius = max(radius, chord / 2)
    away = math.sqrt(radius * radius - chord * chord / 4)
    across = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
    way = 1 if counter_clockwise else -1
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    centre = (middle[0] - way * across[1] * away, middle[1] + way * across[0] * away)
    first = math.atan2(start[1] - centre[1], start[0] - centre[0])
    turn = way * 2 * math.asin(min(1.0, chord / 2 / radius))
    for step in range(1, _STEPS):
        angle = first + turn * step / _STEPS
        yield centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def length_along(points: list[Point]) -> float:
    """Return the length from point to point."""
    return sum(math.dist(start, end) for start, end in pairwise(points))
