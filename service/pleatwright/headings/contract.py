"""What a heading style is: one hook that yields typed values.

A style is a package of its own, or a module, that an entry point in the group `pleatwright.headings` names. It
implements `pleatwright_headings`, which yields one `Heading` or several.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any, Final

import pluggy

from pleatwright.headings.made import Made, Pleat
from pleatwright.headings.options import HeadingOptions, Measure, PleatOptions

PROJECT: Final = "pleatwright"
ENTRY_POINT_GROUP: Final = "pleatwright.headings"
CONTRACT: Final = 1
"""Version of this contract; a heading states the one it was written for."""

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@dataclass(frozen=True, slots=True)
class Heading:
    """One heading style.

    `contract` is the version of this contract that the style was written for. `summary` says what it looks like and
    `making` how it is made, a line each. `options` is a subclass of `HeadingOptions` whose tag is the style's name.
    `make` turns given options into a `Pleat`, a `Gather` or `Points`, and may raise Impossible.
    """

    contract: int
    label: str
    summary: str
    making: str
    options: type[HeadingOptions]
    make: Callable[[Any, Measure], Made]

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
        raise NotImplementedError  # pluggy calls what implements this, and never this
