"""What the service says of itself: its heading styles, its health, and the problems that a request ends in."""

from typing import Annotated, Any, Literal

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.replies import Number
from pleatwright.lengths import Units


class LengthLimits(Struct, frozen=True, kw_only=True):
    """The least, the usual and the most of a length."""

    least: Number
    usual: Number
    most: Number


class CrossSection(Struct, frozen=True, kw_only=True):
    """A pleat of the usual take-up, seen from above."""

    path: Annotated[str, Meta(description="In SVG's path grammar: x along the face, y out into the room.")]
    developed_length: Annotated[Number, Meta(description="Cloth along the path: the take-up.")]
    depth_of_fold: Number
    width_shown: Number
    projection: Number


class MaterialNeeded(Struct, frozen=True, kw_only=True):
    """Something a heading takes besides cloth."""

    kind: Literal["buckram", "filler"]
    per: Annotated[Literal["flat-width", "pleat"], Meta(description="A length as long as the panel, or one a pleat.")]
    size: Annotated[Number, Meta(description="Depth of buckram; diameter of a filler, for the usual take-up.")]


class HeadingFigures(Struct, frozen=True, kw_only=True):
    """One heading style with its usual figures."""

    style: str
    label: str
    summary: str
    making: Annotated[str, Meta(description="How it is made, in a line.")]
    folds: int
    stitched: Literal["face", "back"]
    tacked: Literal["top", "under-buckram", "cup-base", "none"]
    hand_tacks: Annotated[int, Meta(description="Tacks sewn by hand in each pleat.")]
    units: Units
    buckram_depth: Number
    stitching_length: Annotated[Number, Meta(description="Of each pleat: from the top to the bottom of the buckram.")]
    take_up: LengthLimits
    space: LengthLimits
    cross_section: CrossSection
    cloth_thickness: Annotated[Number, Meta(description="Of the face cloth, that the stack is reckoned for.")]
    stack_per_pleat: Annotated[Number, Meta(description="Rod that one pleat and its space take when stacked.")]
    materials: list[MaterialNeeded]
    package: str
    version: str
    options: Annotated[dict[str, Any], Meta(description="JSON Schema of the options, for the request's `heading`.")]


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


class Health(Struct, frozen=True, kw_only=True):
    """Whether the service is well."""

    status: Literal["live", "ready"]
    refused: list[RefusedPlugin] | UnsetType = UNSET


class ProblemFault(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One thing that is wrong with the request, and what would put it right."""

    pointer: Annotated[str, Meta(description="JSON Pointer to the figure at fault.", examples=["/rod/width"])]
    detail: str
    seen: str | None = None
    allowed: str | None = None


class Problem(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A problem (RFC 9457)."""

    type: str
    title: str
    status: Annotated[int, Meta(ge=400, le=599)]
    detail: str
    instance: str | None = None
    errors: list[ProblemFault] = field(default_factory=list)
