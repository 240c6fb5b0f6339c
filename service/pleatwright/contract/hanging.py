"""What a client is told of how a window hangs: heights, stack, carriers, bends and weight."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.cut_lists import Number, Side
from pleatwright.contract.notes import Assumed, Caution, MadeWith, Step
from pleatwright.lengths import Units

HeightOf = Literal[
    "ceiling",
    "rod-top",
    "heading-top",
    "rod-underside",
    "carrying-point",
    "pin",
    "heading-foot",
    "sill",
    "apron",
    "hem",
    "floor",
]
"""What a height is of; of those at one height, the first here is named first."""


MountKind = Literal["traverse-rod", "ceiling-track", "rings", "clip-rings", "through-heading"]


class HeightOnWall(Struct, frozen=True, kw_only=True):
    """A height on the wall."""

    point: HeightOf
    height: Number


class HangFigures(Struct, frozen=True, kw_only=True):
    """The hang section of a panel."""

    mount: Annotated[MountKind | None, Meta(description="What the panel hangs from; null if that is not known.")]
    measured_from: Annotated[
        Literal["floor", "sill", "apron"],
        Meta(description="What heights are measured from: what the panel hangs to, where only a drop is known."),
    ]
    heights: Annotated[list[HeightOnWall], Meta(description="From the top down.")]
    finished_length: Annotated[Number, Meta(description="Top of the heading to the bottom of the hem, on the table.")]
    hung_length: Annotated[Number, Meta(description="The same as it hangs: less what a rod through the heading takes.")]
    heading_above: Annotated[Number, Meta(description="Of the heading above the carrying point.")]
    clearance: Annotated[Number, Meta(description="From what it hangs to up to the hem; less than nothing below it.")]
    pin_depth: Annotated[Number | None, Meta(description="From the top of the heading; null where nothing is pinned.")]
    to_ceiling: Annotated[
        Number | None, Meta(description="From the top of the heading up to the ceiling; null if that is not known.")
    ]
    below_rod: Annotated[
        Number | None,
        Meta(
            description="From the underside of rod or track down to the top of the heading; less than nothing if the "
            "heading covers it, null if the mount is not known."
        ),
    ]


class HangReply(HangFigures, frozen=True, kw_only=True):
    """How one panel hangs."""

    units: Units
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET


class PanelStack(Struct, frozen=True, kw_only=True):
    """What one panel takes of the rod when it is open."""

    side: Side
    stack: Annotated[
        Number, Meta(description="Length of rod that the open panel occupies; of a fixed panel, its face.")
    ]
    rule_of_thumb: Annotated[Number, Meta(description="A third of its share of the rod, for comparison.")]
    glass_covered: Annotated[
        Number | None, Meta(description="Glass that it still covers; null if the glass was not measured.")
    ]


class SliderCount(Struct, frozen=True, kw_only=True):
    """A count of pleats that suits the carriers or rings on the rod."""

    pleat_count: int
    idle: Annotated[int, Meta(description="Carriers or rings left over.")]
    hides_every_seam: bool


class PanelSliders(Struct, frozen=True, kw_only=True):
    """What one panel hangs on."""

    side: Side
    sliding: Annotated[int, Meta(description="Carriers or rings, one for each hanging point between its flat ends.")]
    overlap: Annotated[int, Meta(description="Pins on the arm of the master carrier.")]
    return_: Annotated[int, Meta(description="Pins in eyes at the bracket or the wall.")] = field(name="return")
    suits: Annotated[
        list[SliderCount] | UnsetType,
        Meta(description="For a fixed count of carriers or rings: counts of pleats that suit it, the most first."),
    ] = UNSET


class BendPlace(Struct, frozen=True, kw_only=True):
    """Where a bend of the rod meets a closed panel."""

    bend: Annotated[int, Meta(description="Counted from the left end of the rod.")]
    at: Annotated[Number, Meta(description="From the left end of the rod, along its face.")]
    side: Side
    finished: Annotated[Number, Meta(description="From the leading edge of the panel.")]
    nearest: Annotated[str | None, Meta(description="The hanging point nearest to it.", examples=["pleat 5"])]
    off: Annotated[Number | None, Meta(description="How far that is from the bend.")]


class RodFigures(Struct, frozen=True, kw_only=True):
    """One window's rod, and how its panels stand on it."""

    width: Annotated[Number, Meta(description="Its face.")]
    length: Annotated[Number, Meta(description="With its returns.")]
    stacks: list[PanelStack]
    sliders: Annotated[list[PanelSliders], Meta(description="None where the rod goes through the heading.")]
    bends: Annotated[list[BendPlace], Meta(description="None of a straight rod.")]


class RodReply(RodFigures, frozen=True, kw_only=True):
    """A rod that clears the glass, or what stays covered by one that is there."""

    units: Units
    left_of_glass: Annotated[Number, Meta(description="Rod beyond the glass at its left.")]
    right_of_glass: Annotated[Number, Meta(description="Rod beyond the glass at its right.")]
    clears: Annotated[bool, Meta(description="Whether the open panels leave all the glass clear.")]
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET


class PanelWeight(Struct, frozen=True, kw_only=True):
    """What one panel weighs."""

    side: Side
    face: float
    layers: Annotated[dict[str, float], Meta(description="Lining, interlining and blackout, those there are.")]
    buckram: Annotated[float, Meta(description="Of pleated headings, at 180 g/m2.")]
    hem_weights: float
    pins: Annotated[float, Meta(description="Pins or hooks, at 2 g each.")]
    total: float
    per_slider: Annotated[float | None, Meta(description="On each carrier or ring; null where there are none.")]


class WeightFigures(Struct, frozen=True, kw_only=True):
    """What the panels of one window weigh: each cloth by its area and its mass per unit area (ISO 3801, ASTM D3776)."""

    units: Literal["kg", "lb"]
    panels: list[PanelWeight]
    total: float
    per_rod_length: Annotated[float, Meta(description="Closed, on each metre of the rod, or each foot.")]
    per_stack_length: Annotated[float, Meta(description="Open, on each metre or foot of the rod that is stacked.")]
    load_limit: Annotated[float | None, Meta(description="As the maker of the rod states it; null if not known.")]
    slider_load_limit: Annotated[float | None, Meta(description="The same of one carrier or ring.")]
