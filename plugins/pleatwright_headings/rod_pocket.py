"""Rod pocket: the rod goes through a casing, and the cloth gathers on it."""

from collections.abc import Iterator
from math import ceil, floor, pi
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Fault,
    Gather,
    Heading,
    HeadingOptions,
    Impossible,
    Length,
    Measure,
    fullness_limits,
    hookimpl,
    inches,
    loop_drop,
    waved,
)

GIRTH = inches("4 3/8")
"""Of a rod 1 3/8 in across; our choice."""
EASE = inches("1/2")
"""Room for the rod to slide; our choice."""
TURNED_UNDER = inches("1/2")
"""At the raw edge of the casing [common practice]."""
FOLD = inches("2")
"""Flat cloth in one fold on the rod; our choice."""


class RodPocket(HeadingOptions, frozen=True, tag="rod-pocket"):
    """Options of the rod pocket."""

    rod_girth: Annotated[
        Length | None, Meta(description="Once round the rod, by a tape measure; null: 4 3/8 in, of a 1 3/8 in rod.")
    ] = None
    ease: Annotated[
        Length | None, Meta(description="Depth of the pocket beyond half the rod's girth; null: 1/2 in.")
    ] = None
    frill: Annotated[Length | None, Meta(description="Cloth left standing above the pocket; null: none.")] = None


def pocket_depth(girth: int, ease: int) -> int:
    """Return the depth of the pocket: half the rod's girth and some ease [geometry].

    >>> pocket_depth(inches("4 3/8"), inches("1/2")) == inches("2 11/16")
    True
    """
    return ceil(girth / 2) + ease


def drawn_up(girth: int, pocket: int) -> int:
    """Return how much shorter the panel hangs than it lies: the pocket goes round the rod, and not straight down.

    A pocket that just closes round a rod 2 in across is pi in deep, and reaches down 2 in [geometry]:

    >>> round(drawn_up(round(inches("1") * 2 * pi), ceil(inches("1") * pi)) / inches("1"), 2) == round(pi - 2, 2)
    True
    """
    return floor(pocket - loop_drop(girth, 2 * pocket))


def make(options: RodPocket, measure: Measure) -> Gather:
    """Return the gather on the rod."""
    girth = measure(options.rod_girth, GIRTH, "rod_girth")
    ease = measure(options.ease, EASE, "ease", least=0)
    frill = measure(options.frill, 0, "frill", least=0)
    if ease > girth:
        raise Impossible(
            Fault(
                ("ease",),
                "a pocket so loose does not hold its rod: give less ease than the rod's girth of {girth}",
                "{ease}",
                "up to {girth}",
                {"ease": ease, "girth": girth},
            )
        )
    pocket = pocket_depth(girth, ease)
    return Gather(
        depth=frill + pocket,
        top_turning=frill + pocket + TURNED_UNDER,
        fullness=fullness_limits("1.5", "2.25", "3"),
        hook_spacing=None,
        fold=FOLD,
        shape=waved,
        heading_above=frill,
        drawn_up=drawn_up(girth, pocket),
        rod=ceil(girth / pi),
        overlaps=False,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Rod pocket",
        "Cloth gathered on the rod itself, with a frill above it if wished.",
        "Turn the top over, stitch the pocket along its lower edge, and below the frill, and push the rod through.",
        RodPocket,
        make,
    )
