"""Figures that stand upright along an edge, each at the place that it is of; the crowded ones on leaders."""

from collections.abc import Iterator, Sequence
from typing import Final

from pleatwright.paper.drawings.placing import spread
from pleatwright.paper.drawings.shapes import FIGURE, Line, Pen, Shape, Text

APART: Final = 3.3
"""The least from one upright figure to the next."""
LEADER: Final = 4.0
"""From the edge to the foot of a figure, in millimetres."""

Label = tuple[float, str, str]
"""A place on paper, what is written there, and what it is of."""


def upright(labels: Sequence[Label], edge: float, low: float, high: float, *, above: bool) -> Iterator[Shape]:
    """Yield figures above an edge or below it, in the order of their places, between `low` and `high` if they fit."""
    way = -1 if above else 1
    held = sorted(labels, key=lambda label: label[0])
    places = spread([x for x, _, _ in held], APART, low, high)
    for (x, words, of), place in zip(held, places, strict=True):
        yield Line((x, edge), (place, edge + way * (LEADER - 1)), Pen.THIN)
        foot = (place + FIGURE * 0.36, edge + way * (LEADER - 0.4))
        yield Text(foot, words, FIGURE, "start" if above else "end", turned=90, of=of)
