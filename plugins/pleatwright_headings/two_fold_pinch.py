"""Two-fold pinch pleat: two folds stand out from the stitching, tacked under the buckram."""

import math
from collections.abc import Iterator

from pleatwright.headings import (
    CONTRACT,
    Heading,
    Limits,
    Measure,
    Pleat,
    PleatOptions,
    Shape,
    fan,
    hookimpl,
    inches,
)

SPREAD = math.radians(40)


class TwoFoldPinch(PleatOptions, frozen=True, tag="two-fold-pinch"):
    """Options of the two-fold pinch pleat."""


def shape(take_up: float) -> Shape:
    """Return two folds, each standing a quarter of the take-up proud [geometry].

    >>> shape(4.0).depth_of_fold
    1.0
    """
    depth = take_up / 4
    return Shape(fan(2, depth, SPREAD), depth)


def pleat(options: TwoFoldPinch, measure: Measure) -> Pleat:
    """Return the pleat: folds as deep as a three-fold's ask for two thirds of its cloth."""
    own = Pleat(
        folds=2,
        stitched="face",
        tacked="under-buckram",
        buckram_depth=inches("4"),
        take_up=Limits(inches("3"), inches("4"), inches("5 1/2")),
        space=Limits(inches("2 1/2"), inches("3 1/2"), inches("4 1/2")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Two-fold pinch",
        "Two folds stand out from the stitching line, tacked together under the buckram.",
        TwoFoldPinch,
        pleat,
    )
