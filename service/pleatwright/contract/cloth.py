"""What a client may say of cloth: its width, its pattern, and the pieces of it that are there."""

from typing import Annotated, Literal

from msgspec import Meta, Struct

from pleatwright.lengths import Length
from pleatwright.masses import MassPerArea

DropMatch = Annotated[
    str,
    Meta(
        pattern=r"^(straight|1/[2-9]|2/[3579]|3/[4578]|4/[579]|5/[6-9]|6/7|7/[89]|8/9)$",
        description="How the pattern meets across a seam: straight, level; or each width lower by a fraction of the "
        "repeat, in lowest terms, such as 1/2 (half-drop) or 1/3.",
        examples=["straight", "1/2", "1/3"],
    ),
]
OneLot = Annotated[
    Literal["window", "room", "none"],
    Meta(description="Whether the cuts of each window come from one dye lot, or all of them, or whichever is at hand."),
]


class Motif(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A motif of the pattern, and where it is to stand. Give one of the two places."""

    at: Annotated[Length, Meta(description="From where the repeat starts to the top of the motif, along the bolt.")]
    height: Annotated[Length | None, Meta(description="Height of the motif. Null: none, a point.")] = None
    below_heading: Annotated[
        Length | None, Meta(description="From the top of the finished heading down to the top of the motif.")
    ] = None
    above_hem: Annotated[
        Length | None, Meta(description="From the bottom of the finished hem up to the foot of the motif.")
    ] = None


class Flaw(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A flaw in a piece: a point, or a stretch."""

    start: Annotated[Length, Meta(description="From the start of the piece.")]
    end: Annotated[Length | None, Meta(description="Where the stretch ends, from the start. Null: a point.")] = None


class Bolt(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A piece of cloth on the shelf."""

    label: Annotated[
        Annotated[str, Meta(max_length=40)] | None, Meta(description="Its name. Null: its place in the list.")
    ] = None
    length: Annotated[Length, Meta(description="Its whole length, flaws included.")]
    lot: Annotated[
        Annotated[str, Meta(max_length=40)] | None, Meta(description="Its dye lot. Null: all such pieces are of one.")
    ] = None
    phase: Annotated[Length | None, Meta(description="How far into the repeat it starts. Null: at its start.")] = None
    flaws: Annotated[list[Flaw], Meta(max_length=40, description="Where it cannot be used.")] = []


Percentage = Annotated[float, Meta(ge=0, le=25, description="A percentage, as the cloth's maker states it.")]


class Shrinkage(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a cloth loses of its length and its width, in percent."""

    length: Percentage = 0
    width: Percentage = 0


class Fabric(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The face cloth as it comes off the bolt."""

    width: Annotated[Length, Meta(description="Width of the bolt, selvages included.")]
    selvage: Annotated[
        Length | None, Meta(description="Selvage that cannot be sewn into, at each edge. Null: none.")
    ] = None
    vertical_repeat: Annotated[
        Length | None, Meta(description="The pattern's period along the bolt. Null or 0: plain cloth.")
    ] = None
    horizontal_repeat: Annotated[
        Length | None, Meta(description="The pattern's period across the bolt. Null or 0: not to be matched.")
    ] = None
    drop_match: DropMatch = "straight"
    motif: Annotated[Motif | None, Meta(description="Null: the pattern starts as the first window's cuts do.")] = None
    level: Annotated[
        Literal["room", "window"],
        Meta(
            description="Whether the pattern stands at one height above the floor on all windows, the first window's; "
            "or at the same distance below the heading on each."
        ),
    ] = "room"
    railroaded: Annotated[
        bool, Meta(description="Whether the cloth is turned, so that its width runs down the window without a seam.")
    ] = False
    one_way: Annotated[
        bool, Meta(description="Whether it has a nap or a design with an up and a down, and so cannot be turned.")
    ] = False
    bolt_length: Annotated[
        Length | None,
        Meta(description="Railroaded only: length of a whole bolt; a longer panel is seamed there. Null: long enough."),
    ] = None
    shrinkage: Annotated[
        Shrinkage | None, Meta(description="What it loses when it is shrunk before making up. Null: nothing.")
    ] = None
    increment: Annotated[
        Length | None, Meta(description="The seller cuts whole numbers of this. Null: 1/8 yd, or 0.1 m.")
    ] = None
    bolts: Annotated[
        list[Bolt],
        Meta(max_length=40, description="Pieces on the shelf, to take the cuts from, if there are any."),
    ] = []
    one_lot: OneLot = "window"
    mass_per_area: Annotated[
        MassPerArea | None, Meta(description="With its unit. Null: not known, and no weight is worked out.")
    ] = None
    thickness: Annotated[Length | None, Meta(description="For the stack. Null: 1/32 in or 0.8 mm.")] = None
    customers_own: Annotated[
        bool, Meta(description="Whether the customer brings this cloth, so that it is not charged for.")
    ] = False
