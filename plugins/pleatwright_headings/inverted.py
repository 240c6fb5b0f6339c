"""Inverted pleat: the cloth lies folded behind the face, and the two edges meet in front."""

from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Outline, Pleat, PleatOptions, Shape, hookimpl, inch_limits, inches


class Inverted(PleatOptions, frozen=True, tag="inverted"):
    """Options of the inverted pleat."""


def shape(take_up: float) -> Shape:
    """Return an underlay half the take-up wide behind the face, folded back to where the edges meet [geometry].

    >>> shape(8.0).depth_of_fold, shape(8.0).outline.width_shown
    (2.0, 0.0)
    """
    quarter = take_up / 4
    return Shape(Outline().line(-quarter, 0).line(quarter, 0).line(0, 0), quarter, thicknesses=4)


PLEAT = Pleat(
    folds=1,
    stitched="back",
    tacked="top",
    hand_tacks=2,
    buckram_depth=inches("4"),
    take_up=inch_limits("4", "6", "8"),
    space=inch_limits("4", "4 1/2", "6"),
    shape=shape,
)
"""Flat at the face and so spaced wider than a pinch."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Inverted",
        "The cloth lies folded behind the face and its two edges meet in front, tacked at the top on both sides.",
        "Stitch at the back, press the take-up flat to both sides of the seam, and tack both sides at the top.",
        Inverted,
        PLEAT,
    )
