"""What a heading style is: one hook that yields typed values.

A style is a package of its own, or a module, that an entry point in the group `pleatwright.headings` names. It
implements `pleatwright_headings`, which yields one `Heading` or several.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Annotated, Any, Final, Literal, Protocol

import msgspec
import pluggy
from msgspec import Meta

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.outline import Outline
from pleatwright.lengths import Length, Limits

PROJECT: Final = "pleatwright"
ENTRY_POINT_GROUP: Final = "pleatwright.headings"
CONTRACT: Final = 1
"""Version of this contract; a heading states the one it was written for."""

WIDEST_LIMITS: Final = 10
"""How many times the least the most may be: room for any pleat there is, and a bound on the layouts to look at."""

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)

Stitched = Literal["face", "back"]
Tacked = Literal["top", "under-buckram", "cup-base", "none"]


class LimitsGiven(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Limits of a length; what is left out is the style's own."""

    least: Annotated[Length | None, Meta(description="The least it may be.")] = None
    usual: Annotated[Length | None, Meta(description="What to come closest to.")] = None
    most: Annotated[Length | None, Meta(description="The most it may be.")] = None


class PleatOptions(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="style"):
    """What every sewn pleat can be asked; a style's own options are a subclass with a `tag`, the style's name."""

    buckram_depth: Annotated[
        Length | None, Meta(description="Depth of the buckram, and so of the pleat's stitching; null: the style's own.")
    ] = None
    take_up: Annotated[
        LimitsGiven | None, Meta(description="Limits of the flat cloth sewn into one pleat; null: the style's own.")
    ] = None
    space: Annotated[
        LimitsGiven | None, Meta(description="Limits of the space left between two pleats; null: the style's own.")
    ] = None


class Measure(Protocol):
    """Reads a length that a client gave as an option."""

    def __call__(self, value: Length | None, usual: int, *field: str) -> int:
        """Return `value` in grid units, or `usual` for None; `field` is the path to the option, for a fault."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A pleat seen from above, for one take-up, with all its figures in the take-up's own unit.

    `depth_of_fold` is how deep each fold is. `lies_wide` is the width of cloth that lies flat on the face, which no
    outline can show. `filler` is the diameter of the roll that keeps a round pleat open. `thicknesses` are those of
    the cloth side by side along the rod when the panel is stacked.
    """

    outline: Outline
    depth_of_fold: float
    thicknesses: int
    lies_wide: float = 0.0
    filler: float | None = None

    @property
    def width_shown(self) -> float:
        """How wide the pleat is as seen from the room."""
        return max(self.outline.width_shown, self.lies_wide)

    def stack(self, cloth_thickness: float) -> float:
        """Return the length of rod that one pleat and the space after it take when the panel is stacked.

        The pleat is as thick as its thicknesses of cloth, or as wide as its filler; the space folds in two behind it
        [geometry, with cloth that presses flat].
        """
        return max(self.filler or 0.0, self.thicknesses * cloth_thickness) + 2 * cloth_thickness


@dataclass(frozen=True, slots=True)
class Pleat:
    """What a style with its options asks of a panel, and what it makes of the cloth. Lengths in grid units.

    `hand_tacks` are the tacks sewn by hand in each pleat, at the place `tacked`. `shape` takes a take-up in any unit
    and gives the pleat's shape in that same unit; the developed length of its outline equals the take-up.
    """

    folds: int
    stitched: Stitched
    tacked: Tacked
    hand_tacks: int
    buckram_depth: int
    take_up: Limits
    space: Limits
    shape: Callable[[float], Shape]

    def with_options(self, options: PleatOptions, measure: Measure) -> "Pleat":
        """Return the pleat with what the options override.

        Raises Impossible when limits are out of order or the buckram has no depth.
        """
        changed = replace(
            self,
            buckram_depth=measure(options.buckram_depth, self.buckram_depth, "buckram_depth"),
            take_up=_limits(options.take_up, self.take_up, measure, "take_up"),
            space=_limits(options.space, self.space, measure, "space"),
        )
        faults = [*limits_faults(changed.take_up, "take_up"), *limits_faults(changed.space, "space")]
        if changed.buckram_depth <= 0:
            faults.append(Fault(("buckram_depth",), "buckram has a depth: give more than nothing", "0", "more than 0"))
        if faults:
            raise Impossible(*faults)
        return changed


@dataclass(frozen=True, slots=True)
class Heading:
    """One heading style.

    `contract` is the version of this contract that the style was written for. `summary` says what it looks like and
    `making` how it is made, a line each. `options` is a `PleatOptions` subclass whose tag is the style's name. `pleat`
    turns given options into a `Pleat`, and may raise Impossible.
    """

    contract: int
    label: str
    summary: str
    making: str
    options: type[PleatOptions]
    pleat: Callable[[Any, Measure], Pleat]

    @classmethod
    def of_pleat(
        cls, contract: int, label: str, summary: str, making: str, options: type[PleatOptions], own: Pleat
    ) -> "Heading":
        """Return the heading of a style whose pleat is always the same but for what any sewn pleat can be asked."""
        return cls(contract, label, summary, making, options, own.with_options)

    @property
    def style(self) -> str:
        """The style's name: the tag of its options."""
        return str(self.options.__struct_config__.tag)


class Hooks:
    """The one hook."""

    @staticmethod
    @hookspec
    def pleatwright_headings() -> Iterable[Heading]:
        """Yield each heading style that this plugin brings."""
        raise NotImplementedError


def _limits(given: LimitsGiven | None, own: Limits, measure: Measure, field: str) -> Limits:
    if given is None:
        return own
    least = measure(given.least, own.least, field, "least")
    most = measure(given.most, own.most, field, "most")
    # A style's own usual need not lie within limits that a request narrows; the nearest that does is meant.
    return Limits(least, measure(given.usual, min(max(own.usual, least), most), field, "usual"), most)


def limits_faults(limits: Limits, field: str) -> list[Fault]:
    """Return what is wrong with limits that a style or a request gives: their order, or how far apart they are."""
    lengths = {"least": limits.least, "usual": limits.usual, "most": limits.most}
    if not 0 < limits.least <= limits.usual <= limits.most:
        detail = "limits go up from more than nothing: the least, the usual, the most"
        allowed = "more than 0, and each no less than the one before"
    elif limits.most > WIDEST_LIMITS * limits.least:
        detail = f"the most is over {WIDEST_LIMITS} times the least: check the figures and their units"
        allowed = f"a most of up to {WIDEST_LIMITS} times the least"
    else:
        return []
    return [Fault((field,), detail, "{least}, {usual}, {most}", allowed, lengths)]
