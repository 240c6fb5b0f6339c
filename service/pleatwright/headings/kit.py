"""The conformance kit: everything a heading style must keep to, checked by one call.

In a style's own tests:

    from pleatwright.headings.kit import assert_sound
    import thornfield_headings.tulip

    def test_the_style_keeps_the_contract():
        assert_sound(thornfield_headings.tulip)

`pleatwright headings check PACKAGE` does the same for a package that is installed, and prints the report.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, fields
from typing import Any, Final

import msgspec
from msgspec import inspect

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.contract import Heading
from pleatwright.headings.host import headings_of
from pleatwright.headings.made import Made
from pleatwright.headings.options import HeadingOptions, option_faults
from pleatwright.headings.soundness import UnsoundError, check_figures, check_heading, check_shape
from pleatwright.headings.trial import check_layouts
from pleatwright.lengths import INCH, Length, LengthError, length_text, parse_length

BUDGET: Final = 0.1
"""Seconds that one call of a style may take; an honest one takes microseconds."""
STEPS: Final = 48
"""Steps in which the range of the cloth is gone through."""
HOSTILE: Final[tuple[Any, ...]] = (
    *(None, True, False, 0, -1, 1, 2, 0.5, -0.5, 1e-9, 1e9, 10**30, "", " ", "0", "-3", "1/64 in", "3 in", "60 in"),
    *("1000 m", "1,5", "1/0", "nan", "inf", "9" * 60, "\u0000", "🪡", [], [1], {}, {"least": "0"}, {"most": "1 mm"}),
    *({"least": "9 in", "most": "1 in"}, {"least": "2 in", "usual": "3 in", "most": "4 in"}, {"nonsense": 1}),
)
"""What each option is given in turn, besides what is right."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One property of a style, and what speaks against it; nothing does when `fault` is None."""

    keeps: str
    fault: str | None


@dataclass(frozen=True, slots=True)
class Report:
    """What was found of one style."""

    style: str
    findings: tuple[Finding, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing speaks against the style."""
        return all(finding.fault is None for finding in self.findings)

    def __str__(self) -> str:
        lines = [f"{self.style}: {'sound' if self.sound else 'NOT SOUND'}"]
        for finding in self.findings:
            lines.append(f"  {'no ' if finding.fault else 'ok '} {finding.keeps}")
            if finding.fault:
                lines.append(f"      {finding.fault}")
        return "\n".join(lines)


def assert_sound(plugin: object) -> None:
    """Check every heading that a plugin yields. Raises AssertionError, with the reports, unless each one is sound."""
    reports = [check(heading) for heading in headings_of(plugin)]
    if not all(report.sound for report in reports):
        raise AssertionError("\n" + "\n".join(map(str, reports)))


def check(heading: Heading) -> Report:
    """Return what speaks for and against a heading, property by property."""
    contract = _found("the contract: its types, its tag, its limits and places", check_heading, heading)
    if contract.fault:
        tag = getattr(getattr(heading.options, "__struct_config__", None), "tag", None)
        return Report(str(tag or heading.options), (contract,))
    properties: tuple[tuple[str, Callable[[Heading], None]], ...] = (
        ("a description of every option", _documents_every_option),
        ("cloth, all through its limits and at every scale", _every_choice(_conserves_cloth)),
        (
            "the flat width and its own limits, when it is laid out",
            _every_choice(lambda _, made: check_layouts(made)),
        ),
        ("the same answer to the same options", _is_deterministic),
        ("its options through JSON and back", _round_trips),
        ("a reason ready for options that cannot be, however hostile", _survives_hostile_options),
        (f"its time, under {BUDGET:g} s a call", _is_quick),
    )
    return Report(heading.style, (contract, *(_found(keeps, test, heading) for keeps, test in properties)))


def draw(made: Made, columns: int = 56) -> str:
    """Return the cross-section of a piece of usual size, drawn in characters: the room is below.

    It is `columns` wide at the most, and half as many rows high.
    """
    outline = made.shape(*(side / INCH for side in made.piece())).outline
    points = list(outline.walked(400))
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    back, front = min(y for _, y in points), max(y for _, y in points)
    # A character is about twice as high as it is wide.
    scale = (columns - 1) / max(right - left, 2 * (front - back), 1e-9)
    rows = round((front - back) * scale / 2) + 1
    grid = [[" "] * (round((right - left) * scale) + 1) for _ in range(rows)]
    for x, y in points:
        grid[round((y - back) * scale / 2)][round((x - left) * scale)] = "*"
    return "\n".join("".join(row).rstrip() for row in grid)


def _found(keeps: str, test: Callable[[Heading], object], heading: Heading) -> Finding:
    try:
        test(heading)
    except Exception as error:  # whatever a style does wrong belongs in its report
        return Finding(keeps, _words(error))
    return Finding(keeps, None)


def _words(error: Exception) -> str:
    match error:
        case UnsoundError():
            return str(error)
        case Impossible():
            faults = (
                fault.detail.format_map({name: length_text(each, "in") for name, each in fault.lengths.items()})
                for fault in error.faults
            )
            return f"it refuses: {'; '.join(faults)}"
        case _:
            return f"it raises {type(error).__name__}: {error}"


def usual(heading: Heading) -> Made:
    """Return what a heading makes of its default options."""
    return heading.make(heading.options(), _measure)


def _measure(value: Length | None, usual: int, *field: str, least: int = 1) -> int:
    if value is None:
        return usual
    try:
        length = parse_length(value, "in")
    except LengthError as error:
        raise Impossible(Fault(field, str(error))) from None
    if faults := option_faults(length, least, *field):
        raise Impossible(*faults)
    return length


def _documents_every_option(heading: Heading) -> None:
    schema = msgspec.json.schema_components([heading.options])[1][heading.options.__name__]
    if not schema.get("description"):
        raise UnsoundError(f"class {heading.options.__name__} has no docstring")
    for name, option in schema["properties"].items():
        if name != "style" and not option.get("description"):
            raise UnsoundError(f'option {name} has no description: annotate it with Meta(description="…")')


def _chosen(heading: Heading) -> Iterator[HeadingOptions]:
    """Yield the default options, and each choice of each option that is a choice."""
    yield heading.options()
    described = inspect.type_info(heading.options)
    assert isinstance(described, inspect.StructType), "options are a Struct"
    for option in described.fields:
        match option.type.type if isinstance(option.type, inspect.Metadata) else option.type:
            case inspect.LiteralType(values):
                yield from (heading.options(**{option.name: value}) for value in values)
            case inspect.BoolType():
                yield from (heading.options(**{option.name: value}) for value in (False, True))


def _every_choice(test: Callable[[Heading, Made], None]) -> Callable[[Heading], None]:
    """Return the property, tested for every choice that the options leave."""

    def tested(heading: Heading) -> None:
        for options in _chosen(heading):
            try:
                test(heading, heading.make(options, _measure))
            except Exception as error:
                if options == heading.options():
                    raise
                given = msgspec.json.encode(options).decode()
                raise UnsoundError(f"given {given}, {_words(error)}") from error

    return tested


def _conserves_cloth(heading: Heading, made: Made) -> None:
    for step in range(STEPS + 1):
        piece = made.piece(step / STEPS)
        for scale in (1.0, 1 / INCH):
            check_shape(heading.style, made, tuple(side * scale for side in piece))


def _is_deterministic(heading: Heading) -> None:
    first, second = usual(heading), usual(heading)
    for field in fields(first):
        if field.name != "shape" and getattr(first, field.name) != getattr(second, field.name):
            raise UnsoundError(f"asked twice, it answers with another {field.name}")
    if first.shape(*first.piece()) != second.shape(*first.piece()):
        raise UnsoundError("asked twice, it answers with another shape")


def _round_trips(heading: Heading) -> None:
    options = heading.options()
    again = msgspec.json.decode(msgspec.json.encode(options), type=heading.options)
    if again != options:
        raise UnsoundError(f"its options come back from JSON as {again!r}")


def _hostile(heading: Heading) -> Iterator[HeadingOptions]:
    for option in msgspec.structs.fields(heading.options):
        for value in HOSTILE:
            try:
                given = {"style": heading.style, option.encode_name: value}
                yield msgspec.convert(given, heading.options)
            except (msgspec.ValidationError, OverflowError):
                continue  # refused by the contract before the style sees it


def _survives_hostile_options(heading: Heading) -> None:
    for options in _hostile(heading):
        given = msgspec.json.encode(options).decode()
        try:
            made = heading.make(options, _measure)
            check_figures(heading.style, made)
            check_shape(heading.style, made, made.piece())
        except Impossible as impossible:
            if not all(fault.detail.strip() for fault in impossible.faults):
                raise UnsoundError(f"it refuses {given} without a reason") from None
        except UnsoundError as error:
            raise UnsoundError(f"given {given}, {error}") from None
        except Exception as error:
            raise UnsoundError(f"given {given}, it raises {type(error).__name__}: {error}") from error


def _is_quick(heading: Heading) -> None:
    for options in (heading.options(), *_hostile(heading)):
        began = time.perf_counter()
        with suppress(Exception):  # what it raises is another property's to find
            made = heading.make(options, _measure)
            made.shape(*made.piece()).outline.svg_path()
        taken = time.perf_counter() - began
        if taken > BUDGET:
            raise UnsoundError(f"given {msgspec.json.encode(options).decode()}, it takes {taken:.2f} s")
