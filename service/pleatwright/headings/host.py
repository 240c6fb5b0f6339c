"""Finds the heading styles that are installed, and lets in the sound ones.

Each plugin is loaded and checked by itself. One that cannot be used is refused with a reason that names it, and the
rest go on; in strict mode a refusal stops the service before it starts.
"""

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from importlib.metadata import EntryPoint, entry_points
from typing import Any, Final, Union

import msgspec
import pluggy

from pleatwright.faults import Impossible
from pleatwright.headings.contract import (
    CONTRACT,
    ENTRY_POINT_GROUP,
    PROJECT,
    Heading,
    Hooks,
    Pleat,
    PleatOptions,
    limits_faults,
)
from pleatwright.headings.outline import ROUNDING
from pleatwright.lengths import Length, Limits

STYLE_NAME: Final = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_STYLE_NAME: Final = 40


@dataclass(frozen=True, slots=True)
class InstalledHeading:
    """A style in use, and the plugin that brought it."""

    heading: Heading
    plugin: str
    package: str
    version: str

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
        return Union[tuple(self.installed[style].heading.options for style in sorted(self.installed))]  # noqa: UP007

    def of(self, options: PleatOptions) -> InstalledHeading:
        """Return the style that these options are of."""
        return self.installed[str(options.__struct_config__.tag)]


def find_headings(*, strict: bool = False, found: Iterable[EntryPoint] | None = None) -> Headings:
    """Return the styles of every installed plugin that is sound, and the refusal of every one that is not.

    `found` stands in for the entry points of this environment. Plugins are taken in the order of package and name, so
    that the first of two with the same style is always the same.

    Raises RefusedError when no style is left, or when strict and any was refused.
    """
    points = entry_points(group=ENTRY_POINT_GROUP) if found is None else found
    installed: dict[str, InstalledHeading] = {}
    refused: list[Refusal] = []
    for point in sorted(points, key=lambda point: (_package(point), point.name)):
        package, version = _package(point)
        try:
            new = [InstalledHeading(heading, point.name, package, version) for heading in _load(point)]
            for each in new:
                _check(each.heading, installed.values())
                installed[each.style] = each
        except (Exception, SystemExit) as error:  # a plugin may fail in any way, and must not take the rest along
            installed = {
                style: each for style, each in installed.items() if each.plugin != point.name or each.package != package
            }
            refused.append(Refusal(point.name, package, version, _reason(error)))
    if not installed or (strict and refused):
        listed = "; ".join(map(str, refused)) or f"no package brings an entry point in the group {ENTRY_POINT_GROUP}"
        raise RefusedError(f"heading styles refused: {listed}")
    return Headings(dict(sorted(installed.items())), tuple(refused))


class _UnsoundError(ValueError):
    """A heading that does not keep the contract; the message is the reason."""


def _package(point: EntryPoint) -> tuple[str, str]:
    return (point.dist.name, point.dist.version) if point.dist else ("unknown", "unknown")


def _load(point: EntryPoint) -> list[Heading]:
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(Hooks)
    manager.register(point.load(), name=point.name)
    manager.check_pending()
    yielded = manager.hook.pleatwright_headings()
    if not yielded:
        raise _UnsoundError("it has no hook named pleatwright_headings marked with hookimpl")
    headings = list(yielded[0])
    if not headings:
        raise _UnsoundError("its hook yields no heading")
    for heading in headings:
        if not isinstance(heading, Heading):
            raise _UnsoundError(f"its hook yields a {type(heading).__name__}, not a Heading")
    return headings


def _check(heading: Heading, others: Iterable[InstalledHeading]) -> None:
    if heading.contract != CONTRACT:
        raise _UnsoundError(f"it was written for contract {heading.contract!r}; this service speaks {CONTRACT}")
    _check_options(heading.options)
    if not STYLE_NAME.fullmatch(heading.style) or len(heading.style) > LONGEST_STYLE_NAME:
        raise _UnsoundError(f"style name {heading.style!r} is not small letters and digits joined by hyphens")
    for other in others:
        owner = f"plugin {other.plugin} of {other.package} {other.version}"
        if other.style == heading.style:
            raise _UnsoundError(f"style {heading.style!r} is already brought by {owner}")
        if other.heading.options.__name__ == heading.options.__name__:
            raise _UnsoundError(f"options type {heading.options.__name__!r} has the same name as one of {owner}")
    if not (heading.label.strip() and heading.summary.strip()):
        raise _UnsoundError(f"style {heading.style!r} has no label or no summary")
    _check_pleat(heading.style, heading.pleat(heading.options(), _usual_only))


def _check_options(options: type[PleatOptions]) -> None:
    if not (isinstance(options, type) and issubclass(options, PleatOptions)):
        raise _UnsoundError("its options are not a subclass of PleatOptions")
    config = options.__struct_config__
    # msgspec takes the class's own name where no tag is given.
    if config.tag in (None, options.__name__) or not isinstance(config.tag, str) or config.tag_field != "style":
        raise _UnsoundError(
            f'options type {options.__name__!r} has no tag: write class {options.__name__}(PleatOptions, tag="…")'
        )
    if not (config.frozen and config.forbid_unknown_fields):
        raise _UnsoundError(f"options type {options.__name__!r} must stay frozen and refuse unknown fields")
    if required := [each.name for each in msgspec.structs.fields(options) if each.required]:
        raise _UnsoundError(f"options {', '.join(required)} have no default; a style's name alone must be enough")
    msgspec.json.schema(options)


def _check_pleat(style: str, pleat: Pleat) -> None:
    if not isinstance(pleat, Pleat):
        raise _UnsoundError(f"style {style!r} makes a {type(pleat).__name__}, not a Pleat")
    for name, limits in (("take_up", pleat.take_up), ("space", pleat.space)):
        if not isinstance(limits, Limits):
            raise _UnsoundError(f"style {style!r} has no Limits of {name}")
        for fault in limits_faults(limits, name):
            raise _UnsoundError(f"style {style!r}, {name}: {fault.detail}")
    if pleat.folds < 1 or pleat.buckram_depth < 1:
        raise _UnsoundError(f"style {style!r} has no folds or no depth of buckram")
    for take_up in (pleat.take_up.least, pleat.take_up.usual, pleat.take_up.most):
        shape = pleat.shape(float(take_up))
        length = shape.outline.developed_length
        if not math.isclose(length, take_up, rel_tol=ROUNDING):
            gained = "loses" if length < take_up else "makes"
            raise _UnsoundError(
                f"style {style!r} {gained} cloth: a take-up of {take_up} grid units has an outline {length:.3f} long"
            )
        if not 0 < shape.depth_of_fold <= take_up:
            raise _UnsoundError(f"style {style!r} has a fold of depth {shape.depth_of_fold} in a take-up of {take_up}")


def _usual_only(value: Length | None, usual: int, *field: str) -> int:
    if value is not None:
        raise _UnsoundError(f"option {'.'.join(field)} has a default other than None")
    return usual


def _reason(error: BaseException) -> str:
    match error:
        case _UnsoundError() | pluggy.PluginValidationError():
            return str(error)
        case Impossible():
            return f"its default options are refused: {error}"
        case _:
            return f"it raises {type(error).__name__}: {error}" if str(error) else f"it raises {type(error).__name__}"
