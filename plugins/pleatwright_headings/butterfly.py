"""Butterfly pleat: two folds tacked under the buckram, which open away from each other above and below."""

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

SPREAD = math.radians(120)


class Butterfly(PleatOptions, frozen=True, tag="butterfly"):
    """Options of the butterfly pleat."""


def shape(take_up: float) -> Shape:
    """Return two folds a quarter of the take-up deep, spread like wings [geometry].

    >>> shape(4.0).depth_of_fold, round(shape(4.0).outline.projection, 9)
    (1.0, 0.5)
    """
    depth = take_up / 4
    return Shape(fan(2, depth, SPREAD), depth)


def pleat(options: Butterfly, measure: Measure) -> Pleat:
    """Return the pleat, on a 2 in buckram [common practice]."""
    own = Pleat(
        folds=2,
        stitched="face",
        tacked="under-buckram",
        buckram_depth=inches("2"),
        take_up=Limits(inches("3 1/2"), inches("4 1/2"), inches("6")),
        space=Limits(inches("3"), inches("3 3/4"), inches("4 1/2")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Butterfly",
        "Two folds tacked under the buckram, which fan open to either side.",
        Butterfly,
        pleat,
    )
