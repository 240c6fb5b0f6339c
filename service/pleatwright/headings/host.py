"""Finds the heading styles that are installed, and lets in the sound ones.

Each plugin is loaded and checked by itself. One that cannot be used is refused with a reason that names it, and the
rest go on; in strict mode a refusal stops the service before it starts.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, reduce
from importlib.metadata import Distribution, EntryPoint, entry_points
from operator import or_
from typing import Any

import pluggy

from pleatwright.faults import Impossible
from pleatwright.headings.contract import ENTRY_POINT_GROUP, PROJECT, Heading, Hooks
from pleatwright.headings.options import HeadingOptions
from pleatwright.headings.soundness import AsItComes, UnsoundError, check_heading
from pleatwright.headings.timing import LOADING, Allowance, EndedError, TooSlowError, fenced


@dataclass(frozen=True, slots=True)
class InstalledHeading:
    """A style in use, the plugin that brought it, and what it makes of options left as they are, as most are."""

    heading: Heading
    plugin: str
    package: str
    version: str
    as_it_comes: AsItComes

    @property
    def style(self) -> str:
        """The style's name."""
        return self.heading.style


@dataclass(frozen=True, slots=True)
class Refusal:
    """A plugin that is not in use, and why."""

    plugin: str
    package: str
    version: str
    reason: str

    def __str__(self) -> str:
        return f"{self.plugin} of {self.package} {self.version}: {self.reason}"


class RefusedError(RuntimeError):
    """A plugin was refused in strict mode, or no style is left to serve."""


@dataclass(frozen=True, slots=True)
class Headings:
    """Every style in use, by name, and every plugin refused."""

    installed: dict[str, InstalledHeading] = field(default_factory=dict)
    refused: tuple[Refusal, ...] = ()

    @property
    def options(self) -> Any:
        """The union of all styles' options, as a type that msgspec decodes by the style's name."""
        return reduce(or_, (each.heading.options for _, each in sorted(self.installed.items())))

    def of(self, options: HeadingOptions) -> InstalledHeading:
        """Return the style that these options are of."""
        return self.installed[str(options.__struct_config__.tag)]


def find_headings(*, strict: bool = False, found: Iterable[EntryPoint] | None = None) -> Headings:
    """Return the styles of every installed plugin that is sound, and the refusal of every one that is not.

    `found` stands in for the entry points of this environment. Our own plugins come first, then the others by
    package and name, so that the first of two with the same style is always the same.

    Raises RefusedError when no style is left, or when strict and any was refused.
    """
    points = entry_points(group=ENTRY_POINT_GROUP) if found is None else found
    installed: dict[str, InstalledHeading] = {}
    refused: list[Refusal] = []
    packages = [(*_package(point), point) for point in points]
    for package, version, point in sorted(packages, key=lambda each: (each[0] != PROJECT, *each[:2], each[2].name)):
        try:
            headings = fenced(Allowance.of(LOADING), lambda point=point: headings_of(point.load()))
            for heading in headings:
                as_it_comes = fenced(Allowance.of(LOADING), check_heading, heading)
                _check_against(heading, installed.values())
                installed[heading.style] = InstalledHeading(heading, point.name, package, version, as_it_comes)
        except Exception as error:  # a plugin may fail in any way, and must not take the rest along
            installed = {
                style: each for style, each in installed.items() if each.plugin != point.name or each.package != package
            }
            refused.append(Refusal(point.name, package, version, reason(error)))
    if not installed or (strict and refused):
        listed = "; ".join(map(str, refused)) or f"no package brings an entry point in the group {ENTRY_POINT_GROUP}"
        raise RefusedError(f"heading styles refused: {listed}")
    return Headings(dict(sorted(installed.items())), tuple(refused))


def headings_of(plugin: object) -> list[Heading]:
    """Return the headings that a plugin yields.

    Raises UnsoundError when its hook is missing or yields something else, and pluggy's PluginValidationError when the
    hook is misspelt or takes arguments.
    """
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Hooks)
    manager.register(plugin)
    manager.check_pending()
    if not manager.hook.pleatwright_headings.get_hookimpls():
        raise UnsoundError("it has no hook named pleatwright_headings marked with hookimpl")
    yielded = manager.hook.pleatwright_headings()
    if not yielded:
        raise UnsoundError("its hook returns None: yield each Heading")
    if isinstance(yielded[0], Heading):
        raise UnsoundError("its hook returns a Heading: yield it")
    headings = list(yielded[0])
    if not headings:
        raise UnsoundError("its hook yields no heading")
    for heading in headings:
        if not isinstance(heading, Heading):
            raise UnsoundError(f"its hook yields a {type(heading).__name__}, not a Heading")
    return headings


@cache
def _named(dist: Distribution) -> tuple[str, str]:
    # Each look at either of them reads all that the package says of itself.
    return dist.name, dist.version


def _package(point: EntryPoint) -> tuple[str, str]:
    return _named(point.dist) if point.dist else ("unknown", "unknown")


def _check_against(heading: Heading, others: Iterable[InstalledHeading]) -> None:
    for other in others:
        owner = f"plugin {other.plugin} of {other.package} {other.version}"
        if other.style == heading.style:
            raise UnsoundError(f"style {heading.style!r} is already brought by {owner}")
        if other.heading.options.__name__ == heading.options.__name__:
            raise UnsoundError(f"options type {heading.options.__name__!r} has the same name as one of {owner}")


def reason(error: Exception) -> str:
    """Say in words why a plugin cannot be used."""
    match error:
        case UnsoundError() | TooSlowError() | pluggy.PluginValidationError():
            return str(error)
        case EndedError():
            return f"it raises {error}"
        case Impossible():
            return f"its default options are refused: {error}"
        case _:
            return f"it raises {type(error).__name__}: {error}" if str(error) else f"it raises {type(error).__name__}"
