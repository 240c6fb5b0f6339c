"""What a client is told of cloth: the cuts, the pieces they come from, and what to order."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, Struct, UnsetType

Number = int | float
Side = Literal["left", "right"]


class PieceServed(Struct, frozen=True, kw_only=True):
    """A width of a panel that a cut serves."""

    window: Annotated[str | UnsetType, Meta(description="Label of its window, in the list of a whole job.")] = UNSET
    panel: Side
    width: Annotated[int, Meta(description="Counted from 1 at the leading edge.")]
    half: Annotated[bool, Meta(description="Whether half of the cut serves it.")]
    half_of_cut: Annotated[
        Literal["left", "right", "either"] | UnsetType,
        Meta(description="Which half, as the cut lies face up with its top away from you; of plain cloth, either."),
    ] = UNSET


class CutPlace(Struct, frozen=True, kw_only=True):
    """One cut along the bolt."""

    cut: int
    start: Number
    end: Number
    phase: Annotated[Number, Meta(description="How far into the repeat the cut starts.")]
    pieces: Annotated[list[PieceServed] | UnsetType, Meta(description="What it serves, in an estimate.")] = UNSET


class Order(Struct, frozen=True, kw_only=True):
    """What to ask the seller for."""

    length: Number
    quantity: Annotated[str, Meta(description="The same in yards or metres, to be read aloud.", examples=["13 3/4 yd"])]


class Shortfall(Order, frozen=True, kw_only=True):
    """The shortest further piece with which the cuts could be made."""

    lot: Annotated[str | None, Meta(description="The lot it must be of; null for a lot of its own.")]
    proved: Annotated[bool, Meta(description="Whether no shorter piece would do.")]


class FlawPlace(Struct, frozen=True, kw_only=True):
    """A flaw in a piece of cloth; a point where it starts and ends at one place."""

    start: Annotated[Number, Meta(description="From the start of the piece.")]
    end: Number


class BoltCuts(Struct, frozen=True, kw_only=True):
    """What comes from one piece, in order along it."""

    bolt: Annotated[str, Meta(description="Its label, or its place in the list.")]
    lot: str | None
    length: Annotated[Number, Meta(description="Its whole length, flaws included.")]
    phase: Annotated[Number, Meta(description="How far into the repeat it starts.")]
    flaws: Annotated[list[FlawPlace], Meta(description="In order along it.")]
    cuts: Annotated[
        list[CutPlace], Meta(description="Start and end as the tape shows them, on the divisions of the rule.")
    ]
    left_over: Annotated[Number, Meta(description="From the end of the last cut to the end of the piece.")]
    lost: Annotated[Number, Meta(description="Between the cuts and before them: to the pattern and to flaws.")]


class ShelfFigures(Struct, frozen=True, kw_only=True):
    """The cuts taken from the pieces on the shelf: the fewest pieces, and then the least cloth."""

    outcome: Annotated[
        Literal["proved", "best-found", "short", "undecided"],
        Meta(
            description="The best plan there is; the best found in the work allowed, with the gaps to what could still "
            "be; not possible, with what is missing; or none found in the work allowed, and none ruled out."
        ),
    ]
    bolts: Annotated[list[BoltCuts], Meta(description="The pieces that are used.")]
    bolts_gap: Annotated[int, Meta(description="Fewer pieces that a better plan might take.")]
    cloth_gap: Annotated[Number, Meta(description="Less cloth that a better plan might take.")]
    shortfall: Shortfall | None


class RunFigures(Struct, frozen=True, kw_only=True):
    """The shortest run of cuts."""

    raised_cut_length: Annotated[Number, Meta(description="The cut raised to whole repeats.")]
    run_length: Annotated[Number, Meta(description="Length of cloth that the run takes.")]
    order_quantity: Annotated[Number, Meta(description="The run raised to the seller's increment.")]
    order: Order
    rule_of_thumb_length: Annotated[
        Number, Meta(description="What the usual reckoning would take: each cut raised, and the drop added to each.")
    ]
    rule_of_thumb_waste: Annotated[
        Number, Meta(description="What the run does without; less than nothing where that reckoning falls short.")
    ]
    sequence: Annotated[list[CutPlace], Meta(description="The cuts in the order of cutting.")]


class FabricOrder(Order, frozen=True, kw_only=True):
    """Cloth to order for the whole job, and how to cut it: all its windows in one run."""

    fabric: str
    width: Annotated[Number, Meta(description="Width of its bolt, selvages included.")]
    vertical_repeat: Annotated[Number, Meta(description="The pattern's period along the bolt; 0 for plain cloth.")]
    cuts: int
    run_length: Number
    rule_of_thumb_length: Annotated[Number, Meta(description="Each cut raised, and the drop added to each.")]
    rule_of_thumb_waste: Annotated[
        Number, Meta(description="What the run does without; less than nothing where that reckoning falls short.")
    ]
    sequence: list[CutPlace]
    shelf: Annotated[ShelfFigures | None, Meta(description="The cuts from the pieces on the shelf, if there are any.")]


class LayerCuts(Struct, frozen=True, kw_only=True):
    """What one window takes of one layer."""

    layer: Literal["lining", "interlining", "blackout"]
    widths: Annotated[list[float], Meta(description="Of each panel, in the order of the panels.")]
    cut_length: Number
    cuts: int
    length: Annotated[Number, Meta(description="All the cuts, end to end.")]


class LayerOrder(Order, frozen=True, kw_only=True):
    """One layer to order for the whole job, and how to cut it."""

    layer: Literal["lining", "interlining", "blackout"]
    cloth: Annotated[str | None, Meta(description="Its name, where the job gives one.")]
    width: Annotated[Number | None, Meta(description="Width of its bolt; null where it is not given.")]
    cuts: int
    sequence: list[CutPlace]
