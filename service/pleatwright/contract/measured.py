"""What a client measures at the window: rod, heights, and the pins that carry the panel."""

from typing import Annotated, Literal

from msgspec import Meta, Struct, field

from pleatwright.contract.mounts import AnyMount
from pleatwright.lengths import Length, SignedLength

Draw = Annotated[
    Literal["pair", "one-way-left", "one-way-right", "off-centre-pair", "fixed-pair"],
    Meta(description="How the panels draw. A one-way-left panel stacks at the left, a one-way-right at the right."),
]
HangsTo = Annotated[
    Literal["floor", "sill", "apron", "break", "puddle"],
    Meta(description="What the hem hangs to. A break or a puddle lies on the floor."),
]


class Rod(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The rod or track and how the panels draw on it."""

    width: Annotated[
        Length | None,
        Meta(description="Face of the rod, from return to return or end to end. Null: what its runs come to."),
    ] = None
    return_: Annotated[
        Length | None, Meta(description="Depth from the face of the rod back to the wall. Null: 3 1/2 in or 90 mm.")
    ] = field(name="return", default=None)
    runs: Annotated[
        list[Length],
        Meta(max_length=12, description="Straight runs of a bay or angled rod, from left to right, along its face."),
    ] = []
    overlap: Annotated[
        Length | None,
        Meta(
            description="Total distance by which the two leading edges cross; each has a flat piece this wide. "
            "Null: 3 in or 75 mm for panels that draw in a pair and can cross, else none."
        ),
    ] = None
    draw: Annotated[Draw | None, Meta(description="Null: a pair.")] = None
    parting: Annotated[
        Length | None, Meta(description="Off-centre pair only: where it parts, from the left end of the rod.")
    ] = None
    panel_width: Annotated[Length | None, Meta(description="Fixed pair only: face that each panel covers.")] = None
    leading_return: Annotated[
        Length | None, Meta(description="One-way draw only: a return at the leading end too. Null: none.")
    ] = None


class Hang(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Heights, all measured from the floor. Give the carrying height, a mount with its height, or only a drop."""

    carrying_height: Annotated[
        Length | None,
        Meta(
            description="Height above the floor of the point that carries the hook: the eye of ring or carrier. With a "
            "rod through the heading: the top of the rod. Null: what the mount or the drop comes to."
        ),
    ] = None
    drop: Annotated[
        Length | None,
        Meta(
            description="From the carrying point down to what the panel hangs to, where no height above the floor is "
            "known: the sill, the apron's bottom or the floor itself. Null: heights are given."
        ),
    ] = None
    mount: Annotated[AnyMount | None, Meta(description="What the panel hangs from. Null: not said.")] = None
    heading_above: Annotated[
        SignedLength | None,
        Meta(
            description="How far the top of the heading stands above the carrying point; in clips, what the jaws grip. "
            "Null: what the heading itself settles, else 1/4 in or 6 mm; in clips 3/8 in or 10 mm."
        ),
    ] = None
    to: Annotated[HangsTo | None, Meta(description="Null: the floor.")] = None
    to_height: Annotated[
        Length | None,
        Meta(
            description="Sill or apron only, and then needed with heights from the floor: height of the sill or the "
            "apron's bottom."
        ),
    ] = None
    clearance: Annotated[
        SignedLength | None,
        Meta(
            description="How far the hem stays above what it hangs to; negative below it or lying on the floor. "
            "Null: floor 1 in (25 mm), sill 1/2 in (13 mm), apron -1 in (-25 mm), break -1 in (-25 mm), "
            "puddle -6 in (-150 mm)."
        ),
    ] = None


class Pin(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The pin or hook that carries the panel."""

    depth: Annotated[
        Length | None,
        Meta(
            description="From the top of the heading down to where it goes in, when that is settled; the heading then "
            "stands above the carrying point by this less the rise. Null: what the heading above comes to."
        ),
    ] = None

    rise: Annotated[
        Length | None,
        Meta(
            description="From where it enters the cloth to where it bears. Null: the usual rise of the heading's "
            "hooks, else 1 3/8 in or 35 mm."
        ),
    ] = None
    edge_inset: Annotated[
        Length | None, Meta(description="From a panel's edge to the pin nearest it. Null: 1/2 in or 12 mm.")
    ] = None


class RodSought(Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A rod that is to clear the glass, or one that is there already."""

    width: Annotated[
        Length | None, Meta(description="Of a rod that is there. Null: the shortest that clears the glass is found.")
    ] = None
    return_: Annotated[
        Length | None, Meta(description="Depth from the face of the rod back to the wall. Null: 3 1/2 in or 90 mm.")
    ] = field(name="return", default=None)
    overlap: Annotated[Length | None, Meta(description="As of any rod. Null: 3 in or 75 mm for a pair, else none.")] = (
        None
    )
    draw: Annotated[
        Literal["pair", "one-way-left", "one-way-right"],
        Meta(description="A pair stacks on both sides of the glass, a one-way draw on the side that it draws to."),
    ] = "pair"
    spare: Annotated[
        Length | None, Meta(description="Rod wanted at each side beyond the glass or the stack. Null: none.")
    ] = None
    step: Annotated[
        Length | None,
        Meta(
            description="Rods tried are whole numbers of this. Null: 1/2 in or 10 mm, a multiple of it for wide glass."
        ),
    ] = None
