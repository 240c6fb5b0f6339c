"""Three-fold pinch pleat: three folds stand out from the stitching, tacked under the buckram."""

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

SPREAD = math.radians(60)


class ThreeFoldPinch(PleatOptions, frozen=True, tag="three-fold-pinch"):
    """Options of the three-fold pinch pleat."""


def shape(take_up: float) -> Shape:
    """Return three folds, each standing a sixth of the take-up proud [geometry].

    >>> shape(6.0).depth_of_fold
    1.0
    """
    depth = take_up / 6
    return Shape(fan(3, depth, SPREAD), depth)


def pleat(options: ThreeFoldPinch, measure: Measure) -> Pleat:
    """Return the pleat: take-up 4 to 6 1/2 in and space 3 1/2 to 4 in are usual [common practice]."""
    own = Pleat(
        folds=3,
        stitched="face",
        tacked="under-buckram",
        buckram_depth=inches("4"),
        take_up=Limits(inches("4"), inches("5 1/2"), inches("7")),
        space=Limits(inches("3"), inches("3 3/4"), inches("4 1/2")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Three-fold pinch",
        "Three folds stand out from the stitching line, tacked together under the buckram.",
        ThreeFoldPinch,
        pleat,
    )
