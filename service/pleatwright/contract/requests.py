"""What a client may ask.

Each request that names a heading is generic in the styles' options; `pleatwright.contract.messages` fills in the
union of the styles that are installed.
"""

from typing import Annotated, Generic, TypeVar

from msgspec import UNSET, Meta, Struct, UnsetType, field

from pleatwright.contract.cloth import Bolt, DropMatch, Fabric, OneLot
from pleatwright.contract.measured import Hang, Pin, Rod, RodSought
from pleatwright.contract.mounts import AnyMount, Behind, Glass
from pleatwright.contract.prices import Pricing
from pleatwright.contract.sewing import Layer, MakeUp
from pleatwright.lengths import Length, SignedLength, Units

Options = TypeVar("Options")

Fullness = Annotated[
    float,
    Meta(
        title="Fullness",
        ge=1,
        le=6,
        description="Flat width divided by finished width.",
    ),
]
FullnessAsked = Annotated[
    Fullness | None,
    Meta(description="Flat width divided by finished width. Null: the heading's usual one, or what its tape fixes."),
]
RequestUnits = Annotated[
    Units, Meta(description="Units of every bare number in the request and of every length in the reply.")
]
Label = Annotated[str, Meta(min_length=1, max_length=80, description="A name for people to read.")]
Worksheet = Annotated[bool, Meta(description="Whether the reply shows how each figure was reached.")]
PleatCount = Annotated[
    Annotated[int, Meta(ge=2, le=1000)] | None,
    Meta(description="The count of pleats wanted; null to have the best one chosen."),
]
Mark = Annotated[
    Length | None,
    Meta(description="Division of the rule that marks land on; null: 1/16 in, or 1 mm."),
]


class PanelRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One window's measurements, to be turned into panels."""

    units: RequestUnits
    rod: Rod
    hang: Hang
    fabric: Fabric
    heading: Options
    fullness: FullnessAsked = None
    make_up: MakeUp = field(default_factory=MakeUp)
    worksheet: Worksheet = False


class Planned(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a panel was to be, before it was sewn."""

    flat_width: Annotated[Length, Meta(description="Edge to edge after side hems and seams, as planned.")]
    seams: Annotated[
        list[Length], Meta(max_length=200, description="Where the seams were to be, as many as there are now.")
    ] = []


class EnoughRequest(PanelRequest[Options], Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One window's measurements, and a length of cloth that is there."""

    cloth_length: Annotated[Length, Meta(description="Length of cloth in one piece, without a flaw.")]
    mark: Mark = None


class PleatsRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A flat panel, measured, to be pleated, gathered or hung from points."""

    units: RequestUnits
    heading: Options
    flat_width: Annotated[Length, Meta(description="Edge to edge after side hems and seams, before pleating.")]
    finished_width: Annotated[Length, Meta(description="Edge to edge after pleating.")]
    overlap: Annotated[Length | None, Meta(description="Flat piece at the leading edge. Null: none.")] = None
    return_: Annotated[Length | None, Meta(description="Flat piece at the return edge. Null: none.")] = field(
        name="return", default=None
    )
    leading_return: Annotated[
        Length | None, Meta(description="A return before the overlap, at the leading end. Null: none.")
    ] = None
    seams: Annotated[
        list[Length], Meta(max_length=200, description="Where the seams are, from the leading edge, in order.")
    ] = []
    pleat_count: PleatCount = None
    take_up_difference: Annotated[
        Length | None,
        Meta(description="Difference between take-ups that the eye forgives. Null: 3/4 in or 19 mm."),
    ] = None
    mark: Mark = None
    horizontal_repeat: Annotated[
        Length | None,
        Meta(
            description="To pleat to the pattern: its period across the cloth. From pleat to pleat is then a whole "
            "part of it, and the surplus comes off the edges. Null: pleats are set out by the seams alone."
        ),
    ] = None
    planned: Annotated[
        Planned | None,
        Meta(description="For a panel measured as sewn: the plan, to be told what moved."),
    ] = None
    worksheet: Worksheet = False


class PinsRequest(PleatsRequest[Options], Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A flat panel to be laid out, and the pins to hang it by."""

    pin: Pin = field(default_factory=Pin)
    heading_above: Annotated[
        SignedLength | None,
        Meta(
            description="How far the top of the heading stands above the carrying point. Null: what the heading itself "
            "settles, else 1/4 in or 6 mm."
        ),
    ] = None


class HangRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How one panel hangs: one that is to be made for these heights, or one made already and pinned so."""

    units: RequestUnits
    heading: Options
    hang: Hang
    pin: Pin = field(default_factory=Pin)
    finished_length: Annotated[
        Length | None,
        Meta(description="Of a panel that is made: top of the heading to the bottom of the hem. Null: to be found."),
    ] = None
    mark: Mark = None
    worksheet: Worksheet = False


class RodRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A window to be cleared by its panels when they are open."""

    units: RequestUnits
    glass: Glass
    rod: RodSought = field(default_factory=RodSought)
    heading: Options
    fabric: Fabric
    fullness: FullnessAsked = None
    make_up: MakeUp = field(default_factory=MakeUp)
    lining: Annotated[Layer | None, Meta(description="Null: unlined.")] = None
    interlining: Annotated[Layer | None, Meta(description="Null: none.")] = None
    blackout: Annotated[Layer | None, Meta(description="Null: none.")] = None
    mount: Annotated[AnyMount | None, Meta(description="What the panels hang from. Null: not said.")] = None
    worksheet: Worksheet = False


class RepeatRequest(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Cuts of one length to be taken from patterned cloth, perhaps from the pieces on the shelf."""

    units: RequestUnits
    cut_length: Annotated[Length, Meta(description="Length of one cut, before it is raised to suit the repeat.")]
    cuts: Annotated[
        int, Meta(ge=1, le=1000, description="How many cuts; each starts one drop further on than the last.")
    ]
    vertical_repeat: Annotated[
        Length | None, Meta(description="The pattern's period along the bolt. Null or 0: plain cloth.")
    ] = None
    drop_match: DropMatch = "straight"
    increment: Annotated[
        Length | None, Meta(description="The seller cuts whole numbers of this. Null: 1/8 yd, or 0.1 m.")
    ] = None
    bolts: Annotated[
        list[Bolt],
        Meta(max_length=40, description="Pieces on the shelf, to take the cuts from, if there are any."),
    ] = []
    one_lot: OneLot = "window"
    mark: Mark = None
    worksheet: Worksheet = False


class Window(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One window of a job."""

    label: Annotated[Label | None, Meta(description="A name for people to read. Null: its number, as Window 1.")] = None
    rod: Rod
    hang: Annotated[
        Hang | None, Meta(description="Null only for a sheer behind an over-drapery: what that one's hang comes to.")
    ] = None
    behind: Annotated[
        Behind | None, Meta(description="For a sheer behind the over-drapery of another window. Null: it is none.")
    ] = None
    glass: Annotated[Glass | None, Meta(description="Null: not measured.")] = None
    fabric: Annotated[
        str, Meta(max_length=80, description="Name of one of the job's fabrics, or of a cloth in the rate book.")
    ]
    heading: Options
    fullness: FullnessAsked = None
    make_up: MakeUp = field(default_factory=MakeUp)
    lining: Annotated[
        Layer | UnsetType | None,
        Meta(description="Behind all else. Null: unlined; left out, unlined is assumed, and said so."),
    ] = UNSET
    interlining: Annotated[
        Layer | None, Meta(description="Between the face and what is behind it, without a hem. Null: none.")
    ] = None
    blackout: Annotated[
        Layer | None, Meta(description="A layer that lets no light through, without a hem. Null: none.")
    ] = None
    pin: Pin = field(default_factory=Pin)
    pleat_count: PleatCount = None
    mark: Mark = None


class EstimateRequest(Struct, Generic[Options], frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A whole job: its windows and the cloth they are made of."""

    units: RequestUnits
    job: Annotated[
        Annotated[str, Meta(max_length=80)] | None, Meta(description="A name for the job, for people to read.")
    ] = None
    windows: Annotated[list[Window[Options]], Meta(min_length=1, max_length=50)]
    fabrics: Annotated[
        dict[Annotated[str, Meta(max_length=80)], Fabric],
        Meta(max_length=50, description="The job's cloth, by name; what is not here is looked for in the rate book."),
    ] = field(default_factory=dict)
    pricing: Pricing = field(default_factory=Pricing)
    worksheet: Worksheet = False
