"""Euro pleat in three folds: tacked at the very top, so that the folds open straight down from it."""

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

SPREAD = math.radians(30)


class EuroThreeFold(PleatOptions, frozen=True, tag="euro-three-fold"):
    """Options of the euro pleat in three folds."""


def shape(take_up: float) -> Shape:
    """Return three folds close together, each standing a sixth of the take-up proud [geometry].

    >>> shape(6.0).depth_of_fold
    1.0
    """
    depth = take_up / 6
    return Shape(fan(3, depth, SPREAD), depth)


def pleat(options: EuroThreeFold, measure: Measure) -> Pleat:
    """Return the pleat, on a 2 in buckram [common practice]."""
    own = Pleat(
        folds=3,
        stitched="face",
        tacked="top",
        buckram_depth=inches("2"),
        take_up=Limits(inches("4"), inches("5"), inches("6 1/2")),
        space=Limits(inches("3"), inches("3 3/4"), inches("4 1/2")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Euro, three-fold",
        "Three slender folds tacked at the very top, opening straight down from it.",
        EuroThreeFold,
        pleat,
    )
