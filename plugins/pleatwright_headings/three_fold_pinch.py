"""Three-fold pinch pleat: three folds stand out from the stitching, tacked under the buckram."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches

SPREAD = math.radians(60)


class ThreeFoldPinch(PleatOptions, frozen=True, tag="three-fold-pinch"):
    """Options of the three-fold pinch pleat."""


def shape(take_up: float) -> Shape:
    """Return three folds, each standing a sixth of the take-up proud [geometry].

    >>> shape(6.0).depth_of_fold
    1.0
    """
    depth = take_up / 6
    return Shape(fan(3, depth, SPREAD), depth, thicknesses=6)


PLEAT = Pleat(
    folds=3,
    stitched="face",
    tacked="under-buckram",
    hand_tacks=1,
    buckram_depth=inches("4"),
    take_up=inch_limits("4", "5 1/2", "7"),
    space=inch_limits("3", "3 3/4", "4 1/2"),
    shape=shape,
)
"""Take-up 4 to 6 1/2 in and space 3 1/2 to 4 in are usual [common practice]."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Three-fold pinch",
        "Three folds stand out from the stitching line, tacked together under the buckram.",
        "Fold the take-up in three even folds, stitch the buckram's depth, and tack the folds about 1/4 in in.",
        ThreeFoldPinch,
        PLEAT,
    )
