"""Single-fold pinch pleat: one fold stands straight out from the stitching, tacked under the buckram."""

from collections.abc import Iterator

from pleatwright.headings import CONTRACT, Heading, Pleat, PleatOptions, Shape, fan, hookimpl, inch_limits, inches


class SingleFoldPinch(PleatOptions, frozen=True, tag="single-fold-pinch"):
    """Options of the single-fold pinch pleat."""


def shape(take_up: float) -> Shape:
    """Return one fold, half the take-up proud [geometry].

    >>> shape(3.0).depth_of_fold
    1.5
    """
    depth = take_up / 2
    return Shape(fan(1, depth, 0.0), depth, thicknesses=2)


PLEAT = Pleat(
    folds=1,
    stitched="face",
    tacked="under-buckram",
    hand_tacks=1,
    buckram_depth=inches("4"),
    take_up=inch_limits("1 1/2", "2 1/2", "3 1/2"),
    space=inch_limits("2 1/2", "3 1/2", "4 1/2"),
    shape=shape,
)
"""Its one fold is about as deep as the others' folds are."""


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading.of_pleat(
        CONTRACT,
        "Single-fold pinch",
        "One fold stands straight out from the stitching line, tacked under the buckram.",
        "Fold the take-up in one, stitch the buckram's depth, and tack about 1/4 in in from the fold.",
        SingleFoldPinch,
        PLEAT,
    )
