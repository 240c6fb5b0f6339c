"""Butterfly pleat: two folds tacked under the buckram, which open away from each other above and below."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches

SPREAD = math.radians(120)


class Butterfly(PleatOptions, frozen=True, tag="butterfly"):
    """Options of the butterfly pleat."""


def shape(take_up: float) -> Shape:
    """Return two folds a quarter of the take-up deep, spread like wings [geometry].

    >>> shape(4.0).depth_of_fold, round(shape(4.0).outline.projection, 9)
    (1.0, 0.5)
    """
    depth = take_up / 4
    return Shape(fan(2, depth, SPREAD), depth, thicknesses=4)


PLEAT = Pleat(
    folds=2,
    stitched="face",
    tacked="under-buckram",
    hand_tacks=1,
    buckram_depth=inches("2"),
    take_up=inch_limits("3 1/2", "4 1/2", "6"),
    space=inch_limits("3", "3 3/4", "4 1/2"),
    shape=shape,
)
"""On a 2 in buckram [common practice]."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Butterfly",
        "Two folds tacked under the buckram, which fan open to either side.",
        "Fold the take-up in two, tack under the buckram, and spread the two folds apart above and below.",
        Butterfly,
        PLEAT,
    )
