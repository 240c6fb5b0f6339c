"""Inverted pleat: the cloth lies folded behind the face, and the two edges meet in front."""

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


class Inverted(PleatOptions, frozen=True, tag="inverted"):
    """Options of the inverted pleat."""


def shape(take_up: float) -> Shape:
    """Return an underlay half the take-up wide behind the face, folded back to where the edges meet [geometry].

    >>> shape(8.0).depth_of_fold, shape(8.0).outline.width_shown
    (2.0, 0.0)
    """
    quarter = take_up / 4
    return Shape(Outline().line(-quarter, 0).line(quarter, 0).line(0, 0), quarter)


def pleat(options: Inverted, measure: Measure) -> Pleat:
    """Return the pleat, flat at the face and so spaced wider than a pinch."""
    own = Pleat(
        folds=1,
        stitched="back",
        tacked="top",
        buckram_depth=inches("4"),
        take_up=Limits(inches("4"), inches("6"), inches("8")),
        space=Limits(inches("3"), inches("4"), inches("6")),
        shape=shape,
    )
    return own.with_options(options, measure)


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Inverted",
        "The cloth lies folded behind the face and its two edges meet in front, tacked at the top on both sides.",
        Inverted,
        pleat,
    )
