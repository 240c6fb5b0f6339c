"""Wave heading: a tape with snaps on carriers joined by a cord, in even waves to the front and the back."""

from collections.abc import Iterator
from fractions import Fraction
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Fault,
    FullnessLimits,
    Heading,
    HeadingOptions,
    Impossible,
    Length,
    Limits,
    Material,
    Measure,
    Points,
    hookimpl,
    inches,
    waved,
)

SNAPS = inches("4")
CARRIERS = inches("2")
TAPE = inches("1 1/2")
"""Our choice, all three: twice the cloth."""
SNAP = inches("1/2")
"""How near the middle of a snap a seam may come; our choice."""
CARRIER = inches("5/8")
"""Length of track that a carrier takes when stacked; our choice."""
TURNED_IN = inches("1")
"""Tape turned in at both ends of a panel, together; our choice."""
LEAST_FULLNESS, MOST_FULLNESS = 1, 4


class Wave(HeadingOptions, frozen=True, tag="wave"):
    """Options of the wave heading."""

    snap_spacing: Annotated[
        Length | None, Meta(description="From one snap of the tape to the next, flat; null: 4 in.")
    ] = None
    carrier_spacing: Annotated[
        Length | None,
        Meta(description="The most that two carriers can stand apart, by the cord that joins them; null: 2 in."),
    ] = None
    tape_depth: Annotated[Length | None, Meta(description="Depth of the tape; null: 1 1/2 in.")] = None


def make(options: Wave, measure: Measure) -> Points:
    """Return the snaps: their spacing by the carriers' is the fullness, over even gaps in number [common practice]."""
    snaps = measure(options.snap_spacing, SNAPS, "snap_spacing")
    carriers = measure(options.carrier_spacing, CARRIERS, "carrier_spacing")
    tape = measure(options.tape_depth, TAPE, "tape_depth")
    if not LEAST_FULLNESS * carriers <= snaps <= MOST_FULLNESS * carriers:
        raise Impossible(
            Fault(
                ("snap_spacing",),
                "snaps are as far apart as the carriers or farther, up to four times: give {least} to {most}",
                "{snaps}",
                "{least} to {most}",
                {"snaps": snaps, "least": LEAST_FULLNESS * carriers, "most": MOST_FULLNESS * carriers},
            )
        )
    fullness = Fraction(snaps, max(carriers, 1))
    return Points(
        word="snap",
        depth=tape,
        top_turning=tape,
        fullness=FullnessLimits(fullness, fullness, fullness),
        gap=Limits(snaps, snaps, snaps),
        parity="odd",
        waves=True,
        shape=waved,
        finished_gap=Limits(-(-carriers // 2), carriers, carriers),
        clear=min(SNAP, snaps // 2),
        stacked=CARRIER,
        materials=(
            Material("tape", "flat-width", tape, extra=TURNED_IN),
            Material("snap", "point"),
            Material("carrier", "point"),
            Material("cord", "finished-width"),
        ),
        heading_above=tape // 2,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Wave",
        "Even waves to the front and the back, from snaps on carriers that a cord keeps apart.",
        "Turn the top over, stitch the tape with a snap where the overlap ends, and snap it to the carriers in turn.",
        Wave,
        make,
    )
