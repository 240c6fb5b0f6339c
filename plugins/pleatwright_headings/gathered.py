"""Gathered heading: a narrow tape draws the cloth up below a frill."""

from collections.abc import Iterator
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Gather,
    Heading,
    Length,
    Material,
    Measure,
    TapeOptions,
    fullness_limits,
    hookimpl,
    inches,
    waved,
)

FOLD = inches("1 1/2")
"""Flat cloth in one fold of the tape; our choice."""
TURNED_IN = inches("1")
"""Tape turned in at both ends of a panel, together; our choice."""
HOOK_RISE = inches("1/2")
"""From the middle of the tape to where its hook bears; our choice."""


class Gathered(TapeOptions, frozen=True, tag="gathered"):
    """Options of the gathered heading."""

    frill: Annotated[Length | None, Meta(description="Cloth left standing above the tape; null: 1 in.")] = None


def make(options: Gathered, measure: Measure) -> Gather:
    """Return the gather on a tape 1 in deep below a frill, with hooks up to 3 in apart [common practice]."""
    tape = measure(options.tape_depth, inches("1"), "tape_depth")
    frill = measure(options.frill, inches("1"), "frill", least=0)
    return Gather(
        depth=frill + tape,
        top_turning=frill + tape,
        fullness=fullness_limits("1.5", "2", "2.5"),
        hook_spacing=measure(options.hook_spacing, inches("3"), "hook_spacing"),
        fold=FOLD,
        shape=waved,
        materials=(Material("tape", "flat-width", tape, extra=TURNED_IN),),
        heading_above=frill,
        pin_rise=HOOK_RISE,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Gathered",
        "Soft uneven folds below a frill, drawn up by the cords of a narrow tape.",
        "Turn the top over, stitch the tape below the frill, draw the cords to the width and tie them off.",
        Gathered,
        make,
    )
