"""Euro pleat in three folds: tacked at the very top, so that the folds open straight down from it."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches

SPREAD = math.radians(30)


class EuroThreeFold(PleatOptions, frozen=True, tag="euro-three-fold"):
    """Options of the euro pleat in three folds."""


def shape(take_up: float) -> Shape:
    """Return three folds close together, each standing a sixth of the take-up proud [geometry].

    >>> shape(6.0).depth_of_fold
    1.0
    """
    depth = take_up / 6
    return Shape(fan(3, depth, SPREAD), depth, thicknesses=6)


PLEAT = Pleat(
    folds=3,
    stitched="face",
    tacked="top",
    hand_tacks=1,
    buckram_depth=inches("2"),
    take_up=inch_limits("4", "5", "6 1/2"),
    space=inch_limits("3", "3 3/4", "4 1/2"),
    shape=shape,
)
"""On a 2 in buckram [common practice]."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Euro, three-fold",
        "Three slender folds tacked at the very top, opening straight down from it.",
        "Fold the take-up in three even folds and tack them together at the very top, through all of them.",
        EuroThreeFold,
        PLEAT,
    )
