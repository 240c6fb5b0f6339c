"""Goblet pleat: a round cup above a tack at its base, kept open by a filler."""

import math
from collections.abc import Iterator

from pleatwright.headings import (
    CONTRACT,
    Heading,
    Limits,
    Measure,
    Outline,
    Pleat,
    PleatOptions,
    Shape,
    hookimpl,
    inches,
)


class Goblet(PleatOptions, frozen=True, tag="goblet"):
    """Options of the goblet pleat."""


def shape(take_up: float) -> Shape:
    """Return a cup whose circumference is the take-up, and so its diameter take-up / pi [geometry].

    >>> round(shape(math.pi).depth_of_fold, 12)
    1.0
    """
    diameter = take_up / math.pi
    return Shape(Outline().arc(0, diameter / 2, 2 * math.pi), diameter)


def pleat(options: Goblet, measure: Measure) -> Pleat:
    """Return the pleat: cups from 1 1/4 to 2 1/4 in across."""
    own = Pleat(
        folds=1,
        stitched="face",
        tacked="cup-base",
        buckram_depth=inches("4"),
        take_up=Limits(inches("4"), inches("5 1/2"), inches("7")),
        space=Limits(inches("3"), inches("4"), inches("5")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Goblet",
        "A round cup stands out above a tack at its base; a filler keeps it open.",
        Goblet,
        pleat,
    )
