"""Eyelet heading: the rod goes through eyelets, and the cloth stands in deep even waves."""

from collections.abc import Iterator
from fractions import Fraction
from math import ceil, pi
from typing import Annotated

from msgspec import Meta

from pleatwright.headings import (
    CONTRACT,
    Fault,
    Heading,
    HeadingOptions,
    Impossible,
    Length,
    Limits,
    LimitsGiven,
    Material,
    Measure,
    Notice,
    Points,
    fullness_limits,
    hookimpl,
    inches,
    limits_asked,
    limits_faults,
    waved,
)

BUCKRAM = inches("4")
GIRTH = inches("3 1/2")
"""Of a rod 1 1/8 in across; our choice."""
HOLE = inches("1 9/16")
RIM = inches("1")
"""How much wider an eyelet is than its hole; our choice."""
PLAY = inches("1/4")
"""How much wider the hole must be than the rod, for the panel to run; our choice."""
ABOVE = inches("3/4")
"""From the top of the panel to the rims; our choice."""
RING = inches("1/4")
"""Length of rod that an eyelet takes when stacked; our choice."""


class Eyelet(HeadingOptions, frozen=True, tag="eyelet"):
    """Options of the eyelet heading."""

    rod_girth: Annotated[
        Length | None, Meta(description="Once round the rod, by a tape measure; null: 3 1/2 in, of a 1 1/8 in rod.")
    ] = None
    hole: Annotated[Length | None, Meta(description="Diameter of an eyelet's hole; null: 1 9/16 in.")] = None
    rim: Annotated[
        Length | None, Meta(description="Diameter of an eyelet over its rim; null: 1 in more than the hole.")
    ] = None
    set_down: Annotated[
        Length | None,
        Meta(description="From the top of the panel to the middle of the eyelets; null: 3/4 in above the rims."),
    ] = None
    buckram_depth: Annotated[Length | None, Meta(description="Depth of the buckram; null: 4 in.")] = None
    gap: Annotated[
        LimitsGiven | None,
        Meta(description="Limits of the flat cloth from one eyelet to the next; null: by the eyelets and the rod."),
    ] = None
    count: Annotated[
        Annotated[int, Meta(ge=2, le=1000, multiple_of=2)] | None,
        Meta(description="The count of eyelets wanted, an even number; null to have the best one chosen."),
    ] = None


def gap_limits(rim: int, rod: int) -> Limits:
    """Return the limits of the cloth from one eyelet to the next: the rim, and 1 to 5 times the rod; our choice.

    An eyelet 2 5/8 in over its rim on a 1 1/8 in rod stands 6 in from the next [common practice: about 6 in].

    >>> gap_limits(inches("2 5/8"), inches("1 1/8")).usual == inches("6")
    True
    """
    return Limits(rim + rod, rim + 3 * rod, rim + 5 * rod)


def make(options: Eyelet, measure: Measure) -> Points:
    """Return the eyelets: an even count, so that both edges turn to the wall [common practice]."""
    rod = ceil(measure(options.rod_girth, GIRTH, "rod_girth") / pi)
    hole = measure(options.hole, HOLE, "hole")
    rim = measure(options.rim, hole + RIM, "rim")
    buckram = measure(options.buckram_depth, BUCKRAM, "buckram_depth")
    half_rim = -(-rim // 2)
    set_down = measure(options.set_down, half_rim + ABOVE, "set_down")
    gap = limits_asked(options.gap, gap_limits(rim, rod), measure, "gap")
    lengths = {"hole": hole, "rim": rim, "rod": rod, "room": rod + PLAY, "down": set_down, "least": half_rim}
    lengths |= {"most": buckram - half_rim, "buckram": buckram}
    faults = limits_faults(gap, "gap")
    if hole < rod + PLAY:
        detail = "a rod {rod} across does not run in a hole of {hole}: use eyelets with a hole of {room} or more"
        faults.append(Fault(("hole",), detail, "{hole}", "{room} or more", lengths))
    if rim <= hole:
        detail = "an eyelet is wider over its rim than its hole of {hole}: measure both"
        faults.append(Fault(("rim",), detail, "{rim}", "more than {hole}", lengths))
    elif not half_rim <= set_down <= buckram - half_rim:
        detail = "the eyelets must lie within the buckram of {buckram}, their middles {least} to {most} down"
        faults.append(Fault(("set_down",), detail, "{down}", "{least} to {most}", lengths))
    if gap.least < rim and not faults:
        detail = "eyelets {rim} wide would lie over one another: set them farther apart"
        faults.append(Fault(("gap",), detail, None, "{rim} or more", lengths))
    if faults:
        raise Impossible(*faults)
    return Points(
        word="eyelet",
        depth=buckram,
        top_turning=2 * buckram,
        fullness=fullness_limits("1.5", "2", "2.5"),
        gap=gap,
        parity="even",
        waves=True,
        shape=waved,
        clear=half_rim,
        edge=Fraction(1, 2),
        count=options.count,
        stacked=RING,
        materials=(Material("buckram", "flat-width", buckram), Material("eyelet", "point", hole)),
        notices=(
            Notice(
                "room-behind-the-rod",
                "Stacked, the folds stand up to {depth} behind the middle of the rod: brackets must hold it farther "
                "from the wall than that.",
                {"depth": -(-gap.most // 2)},
            ),
        ),
        heading_above=set_down - hole // 2,
        rod=rod,
        overlaps=False,
    )


@hookimpl
def pleatwright_headings() -> Iterator[Heading]:
    """Yield the style."""
    yield Heading(
        CONTRACT,
        "Eyelet",
        "Deep even waves on a rod that goes through eyelets, both edges turned to the wall.",
        "Bond the buckram in, mark the middles, cut the holes, press the eyelets on, and thread the rod to and fro.",
        Eyelet,
        make,
    )
