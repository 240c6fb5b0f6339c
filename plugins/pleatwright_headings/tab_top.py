"""Tab top: loops of cloth carry the panel below the rod."""

from collections.abc import Iterator
from math import ceil, pi
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Heading,
    HeadingOptions,
    Impossible,
    Length,
    LimitsGiven,
    Material,
    Measure,
    Points,
    fullness_limits,
    hookimpl,
    inch_limits,
    inches,
    limits_asked,
    limits_faults,
    loop_length,
    waved,
)

GIRTH = inches("4 3/8")
"""Of a rod 1 3/8 in across; our choice."""
WIDTH = inches("2")
BELOW = inches("1")
"""Our choice."""
SEWN_IN = inches("1")
"""Half an inch of a tab at either end, sewn into the panel's top; our choice."""
FACING = inches("3")
"""Turned over at the top, to face the ends of the tabs; our choice."""
GAP = inch_limits("3", "5", "7")
"""Flat cloth between two tabs; our choice."""


class TabTop(HeadingOptions, frozen=True, tag="tab-top"):
    """Options of the tab top."""

    rod_girth: Annotated[
        Length | None, Meta(description="Once round the rod, by a tape measure; null: 4 3/8 in, of a 1 3/8 in rod.")
    ] = None
    tab_width: Annotated[Length | None, Meta(description="Width of a tab, finished; null: 2 in.")] = None
    below: Annotated[
        Length | None, Meta(description="From the underside of the rod to the top of the panel; null: 1 in.")
    ] = None
    gap: Annotated[LimitsGiven | None, Meta(description="Limits of the flat cloth between two tabs; null: ours.")] = (
        None
    )


def tab_length(girth: int, below: int) -> int:
    """Return the cut length of a tab: its loop round the rod, and what is sewn in at both its ends [geometry].

    Straight under the rod, the loop is as long as the rod's girth:

    >>> tab_length(inches("4 3/8"), 0) == inches("4 3/8") + SEWN_IN
    True
    """
    return ceil(loop_length(girth, below) - 1e-6) + SEWN_IN


def make(options: TabTop, measure: Measure) -> Points:
    """Return the tabs: any count of them, the outer two at the panel's edges."""
    girth = measure(options.rod_girth, GIRTH, "rod_girth")
    width = measure(options.tab_width, WIDTH, "tab_width")
    below = measure(options.below, BELOW, "below", least=0)
    gap = limits_asked(options.gap, GAP, measure, "gap")
    if faults := limits_faults(gap, "gap"):
        raise Impossible(*faults)
    return Points(
        word="tab",
        depth=FACING,
        top_turning=FACING,
        fullness=fullness_limits("1.25", "1.5", "2"),
        gap=gap,
        parity="any",
        waves=False,
        shape=waved,
        point_width=width,
        clear=width // 2,
        stacked=width,
        materials=(Material("tab", "point", tab_length(girth, below)),),
        heading_above=-round(girth / pi + below),
        rod=ceil(girth / pi),
        overlaps=False,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Tab top",
        "Loops of cloth over the rod, with the panel in soft folds below it.",
        "Sew the tabs, fold each in half, and sew their ends into the top between the cloth and its facing.",
        TabTop,
        make,
    )
