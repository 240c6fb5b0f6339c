"""Cloth as it hangs, seen from the front: its outline, and the folds that fall from its heading."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from pleatwright.paper.drawings.shapes import Fill, Line, Pen, Rectangle, Shape, Strokes

_SWAY = 0.25
"""How far folds lean out towards the hem, as a part of the way to the next."""


def hanging(
    left: float, right: float, top: float, depth: float, foot: float, folds: Sequence[float], of: str
) -> Iterator[Shape]:
    """Yield a panel from `left` to `right`, its heading down to `depth` and its hem at `foot`, with folds at places."""
    yield Rectangle((left, top), right - left, foot - top, Pen.EDGE, Fill.CLOTH, of=of)
    lines = []
    for place, after in pairwise((*folds, right)):
        sway = (after - place) * _SWAY
        for way in (-1, 1):
            # A fold opens below its heading and falls straight from there; its two sides differ as cloth does.
            elbow = (place + way * sway, depth + (foot - depth) * (0.1 if way < 0 else 0.17))
            lines += [((place, depth), elbow), (elbow, (elbow[0], foot))]
    inside = tuple(line for line in lines if left < line[1][0] < right)
    if inside:
        yield Strokes(inside, Pen.FAINT)
    yield Line((left, depth), (right, depth), Pen.FOLD)
