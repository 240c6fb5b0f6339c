"""Cartridge pleat: a round tube for the depth of the buckram, kept open by a filler and not tacked."""

import math
from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Outline, Pleat, PleatOptions, Shape, hookimpl, inch_limits, inches


class Cartridge(PleatOptions, frozen=True, tag="cartridge"):
    """Options of the cartridge pleat."""


def shape(take_up: float) -> Shape:
    """Return a tube whose circumference is the take-up, and so its diameter take-up / pi [geometry].

    >>> round(shape(math.pi).filler, 12)
    1.0
    """
    diameter = take_up / math.pi
    return Shape(Outline().arc(0, diameter / 2, 2 * math.pi), diameter, thicknesses=2, filler=diameter)


PLEAT = Pleat(
    folds=1,
    stitched="face",
    tacked="none",
    hand_tacks=0,
    buckram_depth=inches("4"),
    take_up=inch_limits("2 1/2", "3 1/2", "4 3/4"),
    space=inch_limits("2 1/2", "3 1/2", "4 1/2"),
    shape=shape,
)
"""Tubes from 3/4 to 1 1/2 in across."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Cartridge",
        "Round tubes stand in a row, filled for the depth of the buckram.",
        "Stitch the buckram's depth and push a filler into each tube; nothing is tacked.",
        Cartridge,
        PLEAT,
    )
