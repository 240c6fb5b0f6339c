"""Goblet pleat: a round cup above a tack at its base, kept open by a filler."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Outline, Pleat, PleatOptions, Shape, hookimpl, inch_limits, inches


class Goblet(PleatOptions, frozen=True, tag="goblet"):
    """Options of the goblet pleat."""


def shape(take_up: float) -> Shape:
    """Return a cup whose circumference is the take-up, and so its diameter take-up / pi [geometry].

    >>> round(shape(math.pi).depth_of_fold, 12)
    1.0
    """
    diameter = take_up / math.pi
    return Shape(Outline().arc(0, diameter / 2, 2 * math.pi), diameter, thicknesses=2, filler=diameter)


PLEAT = Pleat(
    folds=1,
    stitched="face",
    tacked="cup-base",
    hand_tacks=1,
    buckram_depth=inches("4"),
    take_up=inch_limits("4", "5 1/2", "7"),
    space=inch_limits("3", "4", "5"),
    shape=shape,
)
"""Cups from 1 1/4 to 2 1/4 in across."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Goblet",
        "A round cup stands out above a tack at its base; a filler keeps it open.",
        "Stitch the buckram's depth, pinch and tack the base of the cup, and put a filler in the cup.",
        Goblet,
        PLEAT,
    )
