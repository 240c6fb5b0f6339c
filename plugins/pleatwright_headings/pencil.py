"""Pencil heading: a deep tape draws the cloth into narrow upright folds."""

from collections.abc import Iterator

from pleatwright.headings import (
    CONTRACT,
    Gather,
    Heading,
    Material,
    Measure,
    TapeOptions,
    fullness_limits,
    hookimpl,
    inches,
    waved,
)

FOLD = inches("1 1/4")
"""Flat cloth in one fold of the tape; our choice."""
TURNED_IN = inches("1")
"""Tape turned in at both ends of a panel, together; our choice."""
HOOK_RISE = inches("3/4")
"""From a pocket of the tape to where its hook bears; our choice."""


class Pencil(TapeOptions, frozen=True, tag="pencil"):
    """Options of the pencil heading."""


def make(options: Pencil, measure: Measure) -> Gather:
    """Return the gather on a tape 3 in deep, with hooks up to 3 in apart [common practice]."""
    depth = measure(options.tape_depth, inches("3"), "tape_depth")
    return Gather(
        depth=depth,
        top_turning=inches("1 1/2"),
        fullness=fullness_limits("1.8", "2.25", "3"),
        hook_spacing=measure(options.hook_spacing, inches("3"), "hook_spacing"),
        fold=FOLD,
        shape=waved,
        materials=(Material("tape", "flat-width", depth, extra=TURNED_IN),),
        pin_rise=HOOK_RISE,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Pencil",
        "Narrow upright folds side by side, drawn up by the cords of a deep tape.",
        "Turn the top over, stitch the tape along both its edges, draw the cords to the width and tie them off.",
        Pencil,
        make,
    )
