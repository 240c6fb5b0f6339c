"""What a client is told. Every length is a number in the units of the request.

Every reply carries its cautions, what was assumed, the versions it was made with and, when asked for, a worksheet.
"""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.cut_lists import Number, RunFigures, ShelfFigures, Side
from pleatwright.contract.notes import Assumed, Caution, MadeWith, Step
from pleatwright.lengths import Units


class PanelSeam(Struct, frozen=True, kw_only=True):
    """A seam as the panel is sewn together, before pleating."""

    at: Annotated[Number, Meta(description="From the leading edge, on the flat.")]


class SewnFigures(Struct, frozen=True, kw_only=True):
    """What sewing takes of a panel: the flat cloth used up, hems and turnings counted with all their layers."""

    side_hem: Annotated[Number, Meta(description="At each edge.")]
    side_hem_depth: Annotated[
        Number | None, Meta(description="Finished, where its type is given; null too for a faced one.")
    ]
    bottom_hem: Number
    bottom_hem_depth: Annotated[
        Number | None, Meta(description="Finished, where its type is given; null too for a faced one.")
    ]
    top_turning: Number
    seam_allowance: Annotated[Number, Meta(description="At each side of a seam.")]


class PanelFigures(Struct, frozen=True, kw_only=True):
    """One panel as it is cut and sewn together."""

    side: Side
    finished_width: Annotated[Number, Meta(description="Edge to edge after pleating: overlap + spaces + return.")]
    finished_length: Annotated[Number, Meta(description="Top of the heading to the bottom of the hem.")]
    widths: Annotated[
        float, Meta(description="Widths of cloth, a half width at the return side; lengths, of railroaded cloth.")
    ]
    flat_width: Annotated[Number, Meta(description="Edge to edge after side hems and seams, before pleating.")]
    fullness: Annotated[float, Meta(description="The fullness that results: flat width divided by finished width.")]
    cut_length: Annotated[
        Number,
        Meta(
            description="Along the bolt: finished length + top turning + bottom hem + ease; of railroaded cloth the "
            "flat width and both side hems, or the first length of them."
        ),
    ]
    raised_cut_length: Annotated[Number, Meta(description="The cut raised to whole vertical repeats.")]
    seams: list[PanelSeam]
    leading_return: Annotated[Number, Meta(description="Flat piece before the overlap, at the leading end.")]
    overlap: Annotated[Number, Meta(description="Flat piece at the leading edge.")]
    return_: Annotated[Number, Meta(description="From the face of the rod back to the wall.")] = field(name="return")
    sewn: SewnFigures


class PanelReply(Struct, frozen=True, kw_only=True):
    """The panels of one window, left before right."""

    units: Units

    panels: list[PanelFigures]
    tolerance: Annotated[Number, Meta(description="Finished sizes hold within this, either way (UFGS 12 22 00).")]
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET


class Range(Struct, frozen=True, kw_only=True):
    """The smallest and the largest of a figure, exact to three decimals, before rounding to marks."""

    least: Number
    most: Number


class Station(Struct, frozen=True, kw_only=True):
    """One piece of the flat panel. Stations cover the flat width from the leading edge without a gap."""

    kind: Annotated[
        Literal["overlap", "pleat", "space", "return", "gather", "edge", "point", "gap", "surplus"],
        Meta(
            description="A pleated panel has pleats and spaces; a gathered one a gather from edge to edge; one that "
            "hangs from points gaps, with points if they have a width, and an edge beyond the outer two. An overlap "
            "and a return stay flat. A surplus is to be taken off at the return edge."
        ),
    ]
    number: Annotated[int | UnsetType, Meta(description="Of a pleat, space, point or gap, from the leading edge.")] = (
        UNSET
    )
    start: Number
    centre: Annotated[Number | UnsetType, Meta(description="Middle of a pleat.")] = UNSET
    end: Number


class PlacedSeam(Struct, frozen=True, kw_only=True):
    """Where a seam ends up in the heading."""

    at: Annotated[Number, Meta(description="From the leading edge, on the flat.")]
    place: Annotated[
        Literal[
            "beside-pleat",
            "inside-pleat",
            "in-space",
            "in-gathers",
            "in-back-fold",
            "in-front-fold",
            "at-point",
            "between-points",
            "in-surplus",
        ],
        Meta(
            description="Hidden beside a pleat, or inside one; among gathers; in a fold to the back, or one to the "
            "front where it shows; in the way of a point, or between two; in cloth that comes off; in a space or a "
            "flat piece where it shows."
        ),
    ]
    pleat: Annotated[int | None, Meta(description="The pleat it touches or, in a space, the last pleat before it.")]
    side: Annotated[
        Literal["leading", "return"] | None, Meta(description="Side of that pleat on which a hidden seam lies.")
    ]
    point: Annotated[
        int | UnsetType, Meta(description="The point that it is at, or the last point before it, if there is one.")
    ] = UNSET


class HangingPoint(Struct, frozen=True, kw_only=True):
    """A point that carries the panel, from the leading edge."""

    on: Annotated[
        str,
        Meta(
            description="overlap, pleat, return or gather for a pin or hook in it; else the style's word for a point.",
            examples=["pleat", "eyelet"],
        ),
    ]
    number: int
    flat: Annotated[Number, Meta(description="On the flat; a pleat's at the mark where the pleat starts.")]
    finished: Annotated[Number, Meta(description="On the finished panel.")]


class EvenPoints(Struct, frozen=True, kw_only=True):
    """Points at even distances."""

    word: Annotated[str, Meta(description="The style's word for a point.", examples=["eyelet"])]
    count: int
    gap: Annotated[Number, Meta(description="Flat cloth from one point to the next, exact to three decimals.")]
    finished_gap: Annotated[Number, Meta(description="The same on the finished panel.")]


class Cure(Struct, frozen=True, kw_only=True):
    """A change with which every seam would be hidden."""

    change: Literal["pleat-count", "trim-return-edge", "trim-leading-edge", "half-width-more", "half-width-less"]
    amount: Annotated[Number | UnsetType, Meta(description="Strip to trim off that edge.")] = UNSET
    count: Annotated[int, Meta(description="The count of pleats or points that results.")]
    detail: str


class PleatFigures(Struct, frozen=True, kw_only=True):
    """The heading of one panel, laid out."""

    layout: Annotated[
        Literal["pleats", "gathers", "points"],
        Meta(description="Pleats with spaces, cloth gathered from edge to edge, or points that carry the panel."),
    ]
    pleat_count: int
    space_count: int
    space: Annotated[
        Number | None,
        Meta(description="The equal space, exact to three decimals, before rounding to marks; null without pleats."),
    ]
    take_up: Annotated[Range | None, Meta(description="Of all the pleats; null without pleats.")]
    points: Annotated[EvenPoints | None, Meta(description="Null unless the panel hangs from points.")]
    stations: list[Station]
    seams: list[PlacedSeam]
    hanging_points: Annotated[
        list[HangingPoint],
        Meta(description="Pins, hooks, or the points themselves; none where a rod carries the cloth all along."),
    ]
    cures: Annotated[list[Cure], Meta(description="When a seam is not hidden: what would hide them all.")]


class Moved(Struct, frozen=True, kw_only=True):
    """A piece of the flat panel whose end is elsewhere than planned."""

    kind: Annotated[str, Meta(description="As of a station.")]
    number: int | UnsetType = UNSET
    planned: Annotated[Number, Meta(description="Where it was to end, from the leading edge.")]
    end: Annotated[Number, Meta(description="Where it ends now.")]
    by: Annotated[Number, Meta(description="How far it moved; less than nothing towards the leading edge.")]


class AsSewn(Struct, frozen=True, kw_only=True):
    """A panel as sewn beside its plan."""

    flat_width_off: Annotated[Number, Meta(description="As sewn less as planned.")]
    seams_off: Annotated[list[Number], Meta(description="The same for each seam.")]
    tolerance: Annotated[Number, Meta(description="Sizes hold within this, either way (UFGS 12 22 00).")]
    within_tolerance: bool
    planned_count: Annotated[int, Meta(description="Pleats or points as planned; the reply has them as they are now.")]
    moved: Annotated[list[Moved], Meta(description="In order from the leading edge; pieces that the plan had, too.")]


class PatternChoice(Struct, frozen=True, kw_only=True):
    """One way to pleat to the pattern."""

    parts: Annotated[int, Meta(description="From pleat to pleat is the horizontal repeat divided by this.")]
    pleat_count: int
    space: Number
    take_up: Number
    fullness: Annotated[float, Meta(description="That results, of the cloth that is kept.")]
    leading_trim: Annotated[Number, Meta(description="Cloth to take off at the leading edge.")]
    return_trim: Annotated[Number, Meta(description="Cloth to take off at the return edge.")]
    seams_in_space: int
    seams_in_take_up: int


class PleatsReply(PleatFigures, frozen=True, kw_only=True):
    """Where the pleats and spaces go on a flat panel."""

    units: Units
    as_sewn: Annotated[AsSewn | None, Meta(description="What moved, when the request has the plan.")]
    pattern: Annotated[
        list[PatternChoice] | None,
        Meta(description="Every way to pleat to the pattern, best first, if that is asked; the reply has the first."),
    ]
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET


class PinFigures(Struct, frozen=True, kw_only=True):
    """The pins or hooks of one panel."""

    pin_depth: Annotated[
        Number | None,
        Meta(description="From the top of the heading down to where the pin goes in; null where nothing is pinned."),
    ]
    pin_count: int
    pins: Annotated[list[HangingPoint], Meta(description="Where they go; none where nothing is pinned.")]


class PinsReply(PinFigures, frozen=True, kw_only=True):
    """Where the pins go on a panel."""

    units: Units
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET


class RepeatReply(RunFigures, frozen=True, kw_only=True):
    """The shortest run of cuts from patterned cloth, and what to order."""

    units: Units
    shelf: Annotated[ShelfFigures | None, Meta(description="The cuts from the pieces on the shelf, if there are any.")]
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
    worksheet: list[Step] | UnsetType = UNSET
