"""Two-fold pinch pleat: two folds stand out from the stitching, tacked under the buckram."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches

SPREAD = math.radians(40)


class TwoFoldPinch(PleatOptions, frozen=True, tag="two-fold-pinch"):
    """Options of the two-fold pinch pleat."""


def shape(take_up: float) -> Shape:
    """Return two folds, each standing a quarter of the take-up proud [geometry].

    >>> shape(4.0).depth_of_fold
    1.0
    """
    depth = take_up / 4
    return Shape(fan(2, depth, SPREAD), depth, thicknesses=4)


PLEAT = Pleat(
    folds=2,
    stitched="face",
    tacked="under-buckram",
    hand_tacks=1,
    buckram_depth=inches("4"),
    take_up=inch_limits("3", "4", "5 1/2"),
    space=inch_limits("2 1/2", "3 1/2", "4 1/2"),
    shape=shape,
)
"""Folds as deep as a three-fold's ask for two thirds of its cloth."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Two-fold pinch",
        "Two folds stand out from the stitching line, tacked together under the buckram.",
        "Fold the take-up in two even folds, stitch the buckram's depth, and tack the folds about 1/4 in in.",
        TwoFoldPinch,
        PLEAT,
    )
