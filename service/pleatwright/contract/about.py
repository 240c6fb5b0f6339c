"""What the service says of itself: its heading styles, its health, and the problems that a request ends in."""

from typing import Annotated, Any, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.cut_lists import Number
from pleatwright.contract.notes import Caution
from pleatwright.lengths import Units


class LengthLimits(Struct, frozen=True, kw_only=True):
    """The least, the usual and the most of a length."""

    least: Number
    usual: Number
    most: Number


class RatioLimits(Struct, frozen=True, kw_only=True):
    """The least, the usual and the most of a ratio."""

    least: Number
    usual: Number
    most: Number


class CrossSection(Struct, frozen=True, kw_only=True):
    """The heading seen from above: one pleat, one fold of a gather, or two gaps with their points, of usual size."""

    path: Annotated[str, Meta(description="In SVG's path grammar: x along the face, y out into the room.")]
    developed_length: Annotated[Number, Meta(description="Cloth along the path: of a pleat, the take-up.")]
    depth_of_fold: Number
    width_shown: Annotated[Number, Meta(description="Width of what stands in front of the face or lies on it.")]
    projection: Annotated[Number, Meta(description="How far it stands out from the face.")]


class MaterialNeeded(Struct, frozen=True, kw_only=True):
    """Something a heading takes besides cloth."""

    kind: Annotated[str, Meta(description="Its name in the trade, in the singular.", examples=["buckram", "eyelet"])]
    per: Annotated[
        Literal["flat-width", "finished-width", "pleat", "point", "panel"],
        Meta(description="A length as long as the panel is wide, or one to each."),
    ]
    size: Annotated[Number | None, Meta(description="Depth, diameter or length; of a filler, for the usual take-up.")]


class HeadingFigures(Struct, frozen=True, kw_only=True):
    """One heading style with its usual figures. What its layout does not have is null."""

    style: str
    label: str
    summary: str
    making: Annotated[str, Meta(description="How it is made, in a line.")]
    layout: Annotated[
        Literal["pleats", "gathers", "points"],
        Meta(description="Pleats with spaces, cloth gathered from edge to edge, or points that carry the panel."),
    ]
    word: Annotated[str, Meta(description="The trade's word for one of them.", examples=["pleat", "eyelet"])]
    units: Units
    depth: Annotated[Number, Meta(description="Depth of the heading: of its buckram, tape or casing.")]
    top_turning: Annotated[Number, Meta(description="Cloth turned over at the top.")]
    fullness: RatioLimits
    folds: int | None
    stitched: Literal["face", "back"] | None
    tacked: Literal["top", "under-buckram", "cup-base", "none"] | None
    hand_tacks: Annotated[int | None, Meta(description="Tacks sewn by hand in each pleat.")]
    buckram_depth: Number | None
    stitching_length: Annotated[
        Number | None, Meta(description="Of each pleat: from the top to the bottom of the buckram.")
    ]
    take_up: LengthLimits | None
    space: LengthLimits | None
    gap: Annotated[LengthLimits | None, Meta(description="Flat cloth from one point to the next.")]
    finished_gap: Annotated[
        LengthLimits | None, Meta(description="The same when the panel hangs closed, where that is limited.")
    ]
    point_counts: Annotated[Literal["any", "even", "odd"] | None, Meta(description="Counts of points there may be.")]
    hook_spacing: Annotated[Number | None, Meta(description="The most from one hook of a gather to the next.")]
    cross_section: CrossSection
    cloth_thickness: Annotated[Number, Meta(description="Of the face cloth, that the stack is reckoned for.")]
    stack_each: Annotated[
        Number,
        Meta(
            description="Rod that one pleat with its space, one fold of a gather or one point takes when stacked, "
            "unlined: as thick as the cloth is in the heading, with its turning and its buckram or tape."
        ),
    ]
    materials: list[MaterialNeeded]
    cautions: Annotated[list[Caution], Meta(description="What results of this style carry.")]
    package: str
    version: str
    options: Annotated[
        dict[str, Any],
        Meta(description="JSON Schema of the options, for the request's `heading`: an object's, with $defs."),
    ]


class RefusedPlugin(Struct, frozen=True, kw_only=True):
    """A plugin that is installed and not in use."""

    plugin: str
    package: str
    version: str
    reason: str


class HeadingsReply(Struct, frozen=True, kw_only=True):
    """Every heading style in use, and every plugin refused."""

    headings: list[HeadingFigures]
    refused: list[RefusedPlugin]


class RatesInForce(Struct, frozen=True, kw_only=True):
    """The rate book that prices are made by."""

    edition: str
    digest: Annotated[str, Meta(description="A mark of the file's content.")]
    trouble: Annotated[str | None, Meta(description="Why the file that is there now is not in force; null when it is.")]


class Health(Struct, frozen=True, kw_only=True):
    """Whether the service is well."""

    status: Literal["live", "ready"]
    refused: list[RefusedPlugin] | UnsetType = UNSET
    rates: Annotated[RatesInForce | UnsetType | None, Meta(description="Null without a rate book.")] = UNSET


class ProblemFault(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One thing that is wrong with the request, and what would put it right."""

    pointer: Annotated[
        str,
        Meta(
            description="JSON Pointer to the figure at fault in the body, or to a parameter by its name.",
            examples=["/rod/width"],
        ),
    ]
    detail: str
    seen: str | None = None
    allowed: str | None = None


class Problem(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A problem (RFC 9457)."""

    type: Annotated[str, Meta(description="Where this kind of problem is described: /problems/ and its name.")]
    title: str
    status: Annotated[int, Meta(ge=400, le=599)]
    detail: Annotated[
        str, Meta(description="What to do about it; where there are faults, that of the first, and how many more.")
    ]
    instance: str | None = None
    errors: list[ProblemFault] = field(default_factory=list)


class ProblemKind(Struct, frozen=True, kw_only=True):
    """A kind of problem: what it means, and what to do about it."""

    type: str
    title: str
    status: Annotated[int, Meta(ge=400, le=599)]
    meaning: str
    remedy: str
