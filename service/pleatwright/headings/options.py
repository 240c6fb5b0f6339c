"""What a request can ask of a heading, and how a style reads it.

A style's own options are a subclass of one of the three classes here, with a `tag`, the style's name.
"""

from typing import Annotated, Final, Protocol

import msgspec
from msgspec import Meta

from pleatwright.faults import Fault
from pleatwright.lengths import GRID, Length, Limits

LONGEST_OPTION: Final = 10 * GRID["m"]
"""No part of a heading is longer; what styles reckon from their options stays within what a length can be."""


class LimitsGiven(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Limits of a length; what is left out is the style's own."""

    least: Annotated[Length | None, Meta(description="The least it may be.")] = None
    usual: Annotated[Length | None, Meta(description="What to come closest to.")] = None
    most: Annotated[Length | None, Meta(description="The most it may be.")] = None


class HeadingOptions(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="style"):
    """What any heading can be asked: nothing but its style."""


class PleatOptions(HeadingOptions, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What every sewn pleat can be asked."""

    buckram_depth: Annotated[
        Length | None, Meta(description="Depth of the buckram, and so of the pleat's stitching; null: the style's own.")
    ] = None
    take_up: Annotated[
        LimitsGiven | None, Meta(description="Limits of the flat cloth sewn into one pleat; null: the style's own.")
    ] = None
    space: Annotated[
        LimitsGiven | None, Meta(description="Limits of the space left between two pleats; null: the style's own.")
    ] = None


class TapeOptions(HeadingOptions, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What every heading gathered on a tape can be asked."""

    tape_depth: Annotated[Length | None, Meta(description="Depth of the tape; null: the style's own.")] = None
    hook_spacing: Annotated[
        Length | None, Meta(description="The most from one hook to the next, finished; null: the style's own.")
    ] = None


class Measure(Protocol):
    """Reads a length that a client gave as an option."""

    def __call__(self, value: Length | None, usual: int, *field: str, least: int = 1) -> int:
        """Return `value` in grid units, or `usual` for None. `field` is the path to the option, for a fault.

        A value of less than `least` or more than LONGEST_OPTION is a fault; what comes back then is of no account.
        """


def option_faults(length: int, least: int, *field: str) -> list[Fault]:
    """Return what is wrong with the length of an option: less than it can be, or out of all measure."""
    lengths = {"length": length, "least": least, "most": LONGEST_OPTION}
    if length > LONGEST_OPTION:
        detail = "this is more than any heading takes: check the figure and its unit"
        return [Fault(field, detail, "{length}", "up to {most}", lengths)]
    if length >= least:
        return []
    if least == 1:
        return [Fault(field, "this must be more than nothing: check the figure", "0", "more than 0")]
    return [Fault(field, "this must be {least} or more: check the figure", "{length}", "{least} or more", lengths)]


def limits_asked(given: LimitsGiven | None, own: Limits, measure: Measure, field: str) -> Limits:
    """Return a style's own limits with what a request overrides."""
    if given is None:
        return own
    least = measure(given.least, own.least, field, "least")
    most = measure(given.most, own.most, field, "most")
    # A style's own usual need not lie within limits that a request narrows; the nearest that does is meant.
    return Limits(least, measure(given.usual, min(max(own.usual, least), most), field, "usual"), most)
