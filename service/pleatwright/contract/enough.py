"""What a client is told of a length of cloth: what it is enough for."""

from typing import Annotated

from msgspec import Meta, Struct

from pleatwright.contract.cut_lists import Number
from pleatwright.contract.notes import Assumed, Caution, MadeWith
from pleatwright.lengths import Units


class EnoughAsAsked(Struct, frozen=True, kw_only=True):
    """Whether the cloth is enough for the window as it is asked for."""

    enough: bool
    run_length: Annotated[Number, Meta(description="What the window takes, in the shortest run.")]
    left_over: Annotated[Number, Meta(description="Less than nothing when cloth is missing.")]


class GreatestFullness(Struct, frozen=True, kw_only=True):
    """The most widths that the cloth is enough for, within what the heading can take."""

    widths: Annotated[float, Meta(description="In each panel.")]
    fullness: Annotated[list[float], Meta(description="Of each panel, left before right.")]
    run_length: Number


class LongestDrop(Struct, frozen=True, kw_only=True):
    """The longest panels that the cloth is enough for, at the widths asked for."""

    finished_length: Number
    longer: Annotated[Number, Meta(description="Than asked for; less than nothing when it is shorter.")]
    cut_length: Number
    run_length: Number


class MostWindows(Struct, frozen=True, kw_only=True):
    """How many such windows the cloth is enough for."""

    count: int
    run_length: Number


class EnoughReply(Struct, frozen=True, kw_only=True):
    """What a length of cloth is enough for. What it is not enough for at all is null."""

    units: Units
    as_asked: EnoughAsAsked
    fullness: GreatestFullness | None
    drop: LongestDrop | None
    windows: MostWindows
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
