"""Box pleat: the cloth lies as a flat box on the face, folded under on both sides."""

from collections.abc import Iterator
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Fault,
    Heading,
    Impossible,
    Length,
    Limits,
    Measure,
    Outline,
    Pleat,
    PleatOptions,
    Shape,
    hookimpl,
    inch_limits,
    inches,
)

SPACED = (
    inch_limits("4", "6", "8"),
    inch_limits("4", "4 1/2", "6 1/2"),
)
BESIDE = (
    inch_limits("5 1/2", "6", "6"),
    inch_limits("3", "3", "3 1/4"),
)
"""A box is half its take-up wide: in a space that is no narrower, boxes touch and never overlap."""
LEAST_CENTRES = inches("1 7/8")
"""Closer boxes leave no cloth between them; our choice."""


class Box(PleatOptions, frozen=True, tag="box"):
    """Options of the box pleat."""

    spaced: Annotated[
        bool, Meta(description="Whether there is room between the boxes; if not, box stands beside box.")
    ] = True
    centres: Annotated[
        Length | None,
        Meta(
            description="Distance from the middle of one box to the next, finished, as for stage work; null: not fixed."
        ),
    ] = None


def shape(take_up: float) -> Shape:
    """Return a box half the take-up wide on the face [geometry].

    12 in centres with 6 in more cloth make a 3 in box [common practice, stage curtains]:

    >>> shape(6.0).width_shown
    3.0
    """
    quarter = take_up / 4
    outline = Outline().line(-quarter, 0).line(quarter, 0).line(0, 0)
    return Shape(outline, quarter, thicknesses=4, lies_wide=2 * quarter)


def pleat(options: Box, measure: Measure) -> Pleat:
    """Return the pleat: spaced, box beside box, or at fixed centres for stage work, where fullness settles the box."""
    take_up, space = SPACED if options.spaced else BESIDE
    if options.centres is not None:
        if not options.spaced:
            raise Impossible(Fault(("spaced",), "boxes at fixed centres are spaced by them: leave one of the two out"))
        if options.space is not None:
            raise Impossible(Fault(("space",), "the centres of the boxes settle the space: leave one of the two out"))
        centres = measure(options.centres, 0, "centres", least=LEAST_CENTRES)
        # The last space of a row seldom comes out even; an eighth to either side shares the difference out.
        space = Limits(centres - centres // 8, centres, centres + centres // 8)
        take_up = Limits(centres // 4, centres // 2, 2 * space.least)
    own = Pleat(
        folds=1,
        stitched="face",
        tacked="top",
        hand_tacks=2,
        buckram_depth=inches("4"),
        take_up=take_up,
        space=space,
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Box",
        "Flat boxes on the face, folded under on both sides.",
        "Stitch behind the box, press it flat to both sides of the stitching, and tack both sides at the top.",
        Box,
        pleat,
    )
