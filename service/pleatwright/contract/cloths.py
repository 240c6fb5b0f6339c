"""What a client is told of the cloths in the rate book: what to call them by, and how they come off the bolt."""

from typing import Annotated

from msgspec import Meta, Struct

from pleatwright.contract.cloth import DropMatch
from pleatwright.contract.cut_lists import Number
from pleatwright.lengths import Units


class ClothFigures(Struct, frozen=True, kw_only=True):
    """One cloth."""

    name: Annotated[str, Meta(description="What a window's `fabric`, or a layer's `cloth`, calls it by.")]
    width: Annotated[
        Number | None, Meta(description="Of the bolt, selvages included; null where the job is to give it.")
    ]
    vertical_repeat: Annotated[Number, Meta(description="The pattern's period along the bolt; 0 for plain cloth.")]
    horizontal_repeat: Annotated[Number, Meta(description="The same across it; 0 where it need not be matched.")]
    drop_match: DropMatch


class ClothsReply(Struct, frozen=True, kw_only=True):
    """Every cloth in the rate book, in its order."""

    units: Units
    edition: Annotated[str | None, Meta(description="Of the rate book; null when there is none.")]
    cloths: list[ClothFigures]
