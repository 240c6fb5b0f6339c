"""What a client may say of how a window hangs: rods and tracks, the glass, a sheer behind an over-drapery."""

from typing import Annotated

from msgspec import Meta, Struct

from pleatwright.lengths import Length
from pleatwright.masses import Mass

Sliders = Annotated[
    Annotated[int, Meta(ge=2, le=1000)] | None,
    Meta(description="Carriers or rings on it for each panel, if their count is fixed. Null: as many as are needed."),
]
LoadLimit = Annotated[
    Mass | None, Meta(description="What all of it may carry, as its maker states it, with its unit. Null: not known.")
]
SliderLoadLimit = Annotated[
    Mass | None, Meta(description="What one carrier or ring may carry, with its unit. Null: not known.")
]
RodTop = Annotated[
    Length | None,
    Meta(description="From the floor to the top of the rod. Null: what the carrying height or the drop comes to."),
]
Ceiling = Annotated[Length | None, Meta(description="From the floor to the ceiling. Null: out of the way.")]
RodDiameter = Annotated[Length | None, Meta(description="Null: 1 3/8 in or 35 mm.")]


class Mount(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind"):
    """What a panel hangs from. Measure your own: usual figures are no more than that."""

    supplied: Annotated[
        bool, Meta(description="Whether the workroom supplies it, so that it is among the materials and charged for.")
    ] = False


class Sliding(Mount, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A mount on which carriers or rings slide."""

    carriers: Sliders = None
    load_limit: LoadLimit = None
    carrier_load_limit: SliderLoadLimit = None


class TraverseRod(Sliding, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="traverse-rod"):
    """A traverse rod or a track on the wall, with carriers."""

    height: RodTop = None
    ceiling: Ceiling = None
    depth: Annotated[Length | None, Meta(description="From its top to its underside. Null: 1 in or 25 mm.")] = None
    carrier_below: Annotated[
        Length | None, Meta(description="From its top down to the eye of a carrier. Null: 3/4 in or 20 mm.")
    ] = None
    carrier_length: Annotated[
        Length | None, Meta(description="Rod that one carrier takes up. Null: 1/2 in or 12 mm.")
    ] = None


class CeilingTrack(Sliding, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="ceiling-track"):
    """A track fixed to the ceiling, with carriers."""

    height: Annotated[
        Length | None,
        Meta(description="From the floor to the ceiling. Null: what the carrying height or the drop comes to."),
    ] = None
    depth: Annotated[Length | None, Meta(description="From the ceiling to its underside. Null: 5/8 in or 15 mm.")] = (
        None
    )
    carrier_below: Annotated[
        Length | None, Meta(description="From the ceiling down to the eye of a carrier. Null: 3/4 in or 20 mm.")
    ] = None
    carrier_length: Annotated[
        Length | None, Meta(description="Track that one carrier takes up. Null: 1/2 in or 12 mm.")
    ] = None


class Rings(Sliding, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="rings"):
    """A rod with rings, each with an eye for a hook."""

    height: RodTop = None
    ceiling: Ceiling = None
    rod_diameter: RodDiameter = None
    ring: Annotated[Length | None, Meta(description="Inside diameter of a ring. Null: 2 in or 50 mm.")] = None
    eye: Annotated[
        Length | None,
        Meta(description="From a ring's inside, at its bottom, down to where the hook bears. Null: 1/2 in or 12 mm."),
    ] = None
    carrier_length: Annotated[Length | None, Meta(description="Rod that one ring takes up. Null: 1/4 in or 6 mm.")] = (
        None
    )


class ClipRings(Sliding, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="clip-rings"):
    """A rod with rings and clips, which grip the top of the heading: nothing is pinned.

    How much of the heading is in the jaws is what stands above the carrying point.
    """

    height: RodTop = None
    ceiling: Ceiling = None
    rod_diameter: RodDiameter = None
    ring: Annotated[Length | None, Meta(description="Inside diameter of a ring. Null: 2 in or 50 mm.")] = None
    eye: Annotated[
        Length | None,
        Meta(description="From a ring's inside, at its bottom, to the foot of the jaws. Null: 1 1/4 in or 32 mm."),
    ] = None
    carrier_length: Annotated[Length | None, Meta(description="Rod that one ring takes up. Null: 1/4 in or 6 mm.")] = (
        None
    )


class ThroughHeading(Mount, frozen=True, kw_only=True, forbid_unknown_fields=True, tag="through-heading"):
    """A rod through the heading: its pocket, its tabs or its eyelets."""

    height: RodTop = None
    ceiling: Ceiling = None
    rod_diameter: Annotated[
        Length | None, Meta(description="Null: that of the rod whose girth the heading is made for.")
    ] = None
    load_limit: LoadLimit = None


AnyMount = TraverseRod | CeilingTrack | Rings | ClipRings | ThroughHeading


class Glass(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The glass of the window, which open panels should leave clear."""

    width: Annotated[Length, Meta(description="Of the glass, or of all that is to be cleared.")]
    from_left: Annotated[
        Length | None, Meta(description="From the left end of the rod to the glass. Null: it is in the middle.")
    ] = None


class Behind(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """That this window's panels are a sheer that hangs behind the over-drapery of another window of the job."""

    window: Annotated[
        Annotated[str, Meta(min_length=1, max_length=80)],
        Meta(description="Label of the window with the over-drapery."),
    ]
    lower_at_heading: Annotated[
        Length | None,
        Meta(description="From the top of the over-drapery down to the top of the sheer. Null: 1/2 in or 12 mm."),
    ] = None
    shorter_at_hem: Annotated[
        Length | None,
        Meta(description="From the hem of the over-drapery up to the hem of the sheer. Null: 1/2 in or 12 mm."),
    ] = None
