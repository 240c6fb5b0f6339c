"""Where things go on paper: scales, the way from cloth to paper, and labels that must not collide."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from pleatwright.lengths import MILLIMETRE

SCALES: Final = (
    *(1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 120, 150, 200, 250, 300),
    *(400, 500, 600, 800, 1000, 1200, 1500, 2000, 2500, 3000, 5000, 10_000, 20_000, 50_000, 100_000, 1_000_000),
)
"""How many times smaller than the cloth a drawing may be."""
ENLARGED: Final = (0.05, 0.1, 0.2, 0.25, 0.5)
"""The same, for what is so small that it is drawn larger."""


def scale_for(length: int, room: float, *, enlarged: bool = False) -> float:
    """Return the largest scale at which a length in grid units goes into so many millimetres.

    >>> scale_for(3912 * MILLIMETRE, 273.0), scale_for(1, 100.0), scale_for(10 * MILLIMETRE, 100.0, enlarged=True)
    (15, 1, 0.1)
    """
    scales = (*ENLARGED, *SCALES) if enlarged else SCALES
    return next((scale for scale in scales if length <= room * scale * MILLIMETRE), scales[-1])


def scale_text(scale: float) -> str:
    """Write a scale.

    >>> scale_text(15), scale_text(0.2)
    ('1 : 15', '5 : 1')
    """
    return f"1 : {scale:g}" if scale >= 1 else f"{1 / scale:g} : 1"


@dataclass(frozen=True, slots=True)
class Frame:
    """The way from cloth to paper: `left` and `top` on paper are where `start` and height 0 of the cloth are.

    A mirrored frame runs from its `left` to the left.
    """

    left: float
    top: float
    scale: float
    start: int = 0
    mirrored: bool = False

    def along(self, length: float) -> float:
        """Return a length on paper."""
        return length / MILLIMETRE / self.scale

    def x(self, at: float) -> float:
        """Return where on paper a place along the cloth is."""
        way = self.along(at - self.start)
        return self.left - way if self.mirrored else self.left + way

    def y(self, down: float) -> float:
        """Return where on paper a place down the cloth is."""
        return self.top + self.along(down)


def spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Return places as near as can be to those wanted, in their order, and `apart` from each other.

    They stay between `low` and `high` while there is room for them there; beyond that they run over `high`. Places
    that would collide are moved by the least sum of squares: the mean of each crowd stays where it was
    [isotonic regression, pool adjacent violators].

    >>> spread([0, 1, 9], 3, -5, 20)
    [-1.0, 2.0, 9.0]
    >>> spread([0, 1], 3, 0.0, 20.0)
    [0.0, 3.0]
    """
    crowds: list[tuple[float, int]] = []
    for number, place in enumerate(wanted):
        mean, count = float(place) - number * apart, 1
        while crowds and crowds[-1][0] > mean:
            before, members = crowds.pop()
            mean, count = (before * members + mean * count) / (members + count), members + count
        crowds.append((mean, count))
    flat = [mean for mean, count in crowds for _ in range(count)]
    most = high - (len(wanted) - 1) * apart
    return [max(low, min(most, place)) + number * apart for number, place in enumerate(flat)]
