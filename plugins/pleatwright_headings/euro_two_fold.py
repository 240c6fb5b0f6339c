"""Euro pleat in two folds: tacked at the very top, so that the folds open straight down from it."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches

SPREAD = math.radians(20)


class EuroTwoFold(PleatOptions, frozen=True, tag="euro-two-fold"):
    """Options of the euro pleat in two folds."""


def shape(take_up: float) -> Shape:
    """Return two folds close together, each standing a quarter of the take-up proud [geometry].

    >>> shape(4.0).depth_of_fold
    1.0
    """
    depth = take_up / 4
    return Shape(fan(2, depth, SPREAD), depth, thicknesses=4)


PLEAT = Pleat(
    folds=2,
    stitched="face",
    tacked="top",
    hand_tacks=1,
    buckram_depth=inches("2"),
    take_up=inch_limits("3", "4", "5"),
    space=inch_limits("2 1/2", "3 1/2", "4 1/2"),
    shape=shape,
)
"""On a 2 in buckram [common practice]."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Euro, two-fold",
        "Two slender folds tacked at the very top, opening straight down from it.",
        "Fold the take-up in two even folds and tack them together at the very top, through both of them.",
        EuroTwoFold,
        PLEAT,
    )
