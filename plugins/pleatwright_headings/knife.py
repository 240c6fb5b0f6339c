"""Knife pleat: one fold laid flat to one side on the face."""

from collections.abc import Iterator
from typing import Annotated, Literal

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Heading,
    Measure,
    Outline,
    Pleat,
    PleatOptions,
    Shape,
    hookimpl,
    inch_limits,
    inches,
)


class Knife(PleatOptions, frozen=True, tag="knife"):
    """Options of the knife pleat."""

    turned: Annotated[
        Literal["left", "right", "centre"],
        Meta(description="Side that the folds are laid to, or from both sides to the centre."),
    ] = "right"


def folded(turn: Literal["left", "right", "centre"], take_up: float) -> Shape:
    """Return one fold laid flat to one side, half the take-up wide [geometry].

    Meeting in the centre, the pleats of one half lie as the others do in a mirror; the shape is that of the left half.

    >>> folded("left", 3.0).lies_wide
    1.5
    """
    half = take_up / 2
    return Shape(Outline().line(-half if turn == "left" else half, 0).line(0, 0), half, thicknesses=3, lies_wide=half)


def pleat(options: Knife, measure: Measure) -> Pleat:
    """Return the pleat, which lies flat and so needs room beside it: the space is no narrower than the fold."""

    def shape(take_up: float) -> Shape:
        return folded(options.turned, take_up)

    own = Pleat(
        folds=1,
        stitched="face",
        tacked="top",
        hand_tacks=1,
        buckram_depth=inches("4"),
        take_up=inch_limits("2", "3", "4"),
        space=inch_limits("2", "3", "4"),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Knife",
        "One fold laid flat to one side, its edge on show.",
        "Stitch at the top, press every fold to the same side (or all to the centre), and tack at the top.",
        Knife,
        pleat,
    )
