"""Whether a heading keeps the contract: its options, its limits, and geometry that neither makes nor loses cloth."""

import math
import re
from dataclasses import dataclass
from typing import Final, assert_never, get_args

import msgspec

from pleatwright.headings.contract import CONTRACT, Heading
from pleatwright.headings.made import (
    FullnessLimits,
    Gather,
    Made,
    Material,
    Notice,
    Parity,
    Per,
    Pleat,
    Points,
    Stitched,
    Tacked,
    limits_faults,
)
from pleatwright.headings.options import HeadingOptions, Measure
from pleatwright.headings.outline import ROUNDING
from pleatwright.lengths import INCH, LONGEST, Length, Limits

STYLE_NAME: Final = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_STYLE_NAME: Final = 40
NAME: Final = re.compile(r"[a-z](?:[a-z0-9 -]{0,38}[a-z0-9])?")
NAME_RULE: Final = "write it in small letters, with spaces or hyphens between words"
LEAST_LENGTH: Final = INCH // 64
"""No figure of a heading as it comes is smaller; one that is was not given in grid units."""
MOST_FULLNESS: Final = 6
"""What a request may ask for, too."""


class UnsoundError(ValueError):
    """A heading that does not keep the contract; the message is the reason."""


@dataclass(frozen=True, slots=True)
class AsItComes:
    """What a style makes of its options left as they are: its options, the heading, and what it assumed for them.

    `assumed` are the lengths in grid units that it took for options left out, in turn, each with the path to it.
    """

    options: HeadingOptions
    made: Made
    assumed: tuple[tuple[tuple[str, ...], int], ...]


def check_heading(heading: Heading) -> AsItComes:
    """Check a heading by itself, with its default options; return what it makes of them.

    Raises UnsoundError with the first reason it cannot be used, or whatever the style itself raises.
    """
    if heading.contract != CONTRACT:
        raise UnsoundError(f"it was written for contract {heading.contract!r}; this service speaks {CONTRACT}")
    _check_options(heading.options)
    if not STYLE_NAME.fullmatch(heading.style) or len(heading.style) > LONGEST_STYLE_NAME:
        raise UnsoundError(f"style name {heading.style!r} is not small letters and digits joined by hyphens")
    if not all(isinstance(text, str) and text.strip() for text in (heading.label, heading.summary, heading.making)):
        raise UnsoundError(f"style {heading.style!r} has no label, no summary or no line on its making")
    options = heading.options()
    assumed: list[tuple[tuple[str, ...], int]] = []
    made = heading.make(options, _usual_only(heading.options, assumed))
    check_figures(heading.style, made)
    for name, length in _lengths(made):
        if 0 < length < LEAST_LENGTH:
            raise UnsoundError(f'style {heading.style!r} has {name} {length} grid units: write inches("{length}")')
    for part in (0.0, None, 1.0):
        check_shape(heading.style, made, made.piece(part))
    return AsItComes(options, made, tuple(assumed))


def _check_options(options: type[HeadingOptions]) -> None:
    if not (isinstance(options, type) and issubclass(options, HeadingOptions)):
        raise UnsoundError("its options are not a subclass of HeadingOptions")
    config = options.__struct_config__
    # msgspec takes the class's own name where no tag is given.
    untagged = config.tag == options.__name__ and not STYLE_NAME.fullmatch(options.__name__)
    if untagged or not isinstance(config.tag, str) or config.tag_field != "style":
        raise UnsoundError(
            f'options type {options.__name__!r} has no tag: write class {options.__name__}(HeadingOptions, tag="…")'
        )
    if not (config.frozen and config.forbid_unknown_fields):
        raise UnsoundError(f"options type {options.__name__!r} must stay frozen and refuse unknown fields")
    if required := [each.name for each in msgspec.structs.fields(options) if each.required]:
        raise UnsoundError(f"options {', '.join(required)} have no default; a style's name alone must be enough")
    msgspec.json.schema(options)


def check_shape(style: str, made: Made, piece: tuple[float, ...]) -> None:
    """Check that a piece drawn for its cloth conserves it, ends where it should, and has folds within it.

    Raises UnsoundError.
    """
    shape = made.shape(*piece)
    cloth = piece[0]
    length = shape.outline.developed_length
    if not math.isclose(length, cloth, rel_tol=ROUNDING):
        gained = "loses" if length < cloth else "makes"
        raise UnsoundError(f"style {style!r} {gained} cloth: {cloth:g} of it has an outline {length:g} long")
    shown = piece[1] if len(piece) > 1 else 0.0
    if math.dist(shape.outline.end, (shown, 0.0)) > ROUNDING * cloth:
        raise UnsoundError(f"style {style!r} has an outline that does not end {shown:g} along the face: it must")
    if not 0 <= shape.depth_of_fold <= cloth or not (isinstance(made, Points) or shape.depth_of_fold):
        raise UnsoundError(f"style {style!r} has a fold of depth {shape.depth_of_fold:g} in {cloth:g} of cloth")
    if shape.thicknesses < 1 or not 0 <= shape.lies_wide <= cloth or not 0 <= (shape.filler or 0) <= cloth:
        raise UnsoundError(f"style {style!r} has no thickness, or lies or is filled wider than its cloth")


def check_figures(style: str, made: object) -> None:
    """Check that what a style made of its options is a heading whose figures can be used. Raises UnsoundError."""
    match made:
        case Pleat():
            _check_pleat(style, made)
        case Gather():
            _check_gather(style, made)
        case Points():
            _check_points(style, made)
        case _:
            raise UnsoundError(f"style {style!r} makes a {type(made).__name__}, not a Pleat, a Gather or Points")
    _check_common(style, made)


def _check_common(style: str, made: Made) -> None:
    for name, found, kind in (("materials", made.materials, Material), ("notices", made.notices, Notice)):
        if not isinstance(found, tuple) or not all(isinstance(each, kind) for each in found):
            raise UnsoundError(f"style {style!r} has {name} that are no tuple of {kind.__name__}: mind the comma")
    for material in made.materials:
        _check_material(style, material)
    for notice in made.notices:
        _check_notice(style, notice)
    if made.heading_above is not None:
        _whole(style, "heading_above", made.heading_above, -LONGEST)
    elif not made.is_pinned:
        raise UnsoundError(f"style {style!r} has no heading_above, which no pin settles for it")
    _whole(style, "drawn_up", made.drawn_up)
    if made.rod is not None:
        _whole(style, "rod", made.rod, 1)
    if made.pin_rise is not None:
        _whole(style, "pin_rise", made.pin_rise, 1)


def _check_pleat(style: str, pleat: Pleat) -> None:
    _one_of(style, "stitched", pleat.stitched, Stitched)
    _one_of(style, "tacked", pleat.tacked, Tacked)
    _limits(style, "take_up", pleat.take_up)
    _limits(style, "space", pleat.space)
    _whole(style, "folds", pleat.folds, 1)
    _whole(style, "buckram_depth", pleat.buckram_depth, 1)
    _whole(style, "hand_tacks", pleat.hand_tacks)


def _check_gather(style: str, gather: Gather) -> None:
    _fullness(style, gather.fullness)
    _whole(style, "depth", gather.depth, 1)
    _whole(style, "top_turning", gather.top_turning)
    _whole(style, "fold", gather.fold, 1)
    if gather.hook_spacing is not None:
        _whole(style, "hook_spacing", gather.hook_spacing, 1)


def _check_points(style: str, points: Points) -> None:
    if not _is_name(points.word):
        raise UnsoundError(f"style {style!r} has the word {points.word!r} for its points: {NAME_RULE}")
    _fullness(style, points.fullness)
    _limits(style, "gap", points.gap)
    if points.finished_gap is not None:
        _limits(style, "finished_gap", points.finished_gap)
    _one_of(style, "parity", points.parity, Parity)
    for name in ("depth", "top_turning", "point_width", "clear", "stacked"):
        _whole(style, name, getattr(points, name))
    if 2 * points.clear > points.gap.least + points.point_width:
        raise UnsoundError(f"style {style!r} has points so near one another that no seam can be clear of them")
    if not 0 <= points.edge < 1:
        raise UnsoundError(f"style {style!r} has an edge of {points.edge} gaps: from 0 to less than 1")
    if points.count is not None:
        _whole(style, "count", points.count, 2)
        if points.parity != "any" and points.count % 2 != (points.parity == "odd"):
            raise UnsoundError(f"style {style!r} asks for {points.count} points, no {points.parity} count")


def _check_material(style: str, material: Material) -> None:
    if not _is_name(material.kind):
        raise UnsoundError(f"style {style!r} has a material of kind {material.kind!r}: {NAME_RULE}")
    _one_of(style, f"material {material.kind} per", material.per, Per)
    if material.size is not None:
        _whole(style, f"material {material.kind} of size", material.size, 1)
    _whole(style, f"material {material.kind} with extra", material.extra)


def _check_notice(style: str, notice: Notice) -> None:
    if not (isinstance(notice.kind, str) and STYLE_NAME.fullmatch(notice.kind)):
        raise UnsoundError(f"style {style!r} has a notice of kind {notice.kind!r}: write it as a style's name")
    if not (isinstance(notice.detail, str) and notice.detail.strip()):
        raise UnsoundError(f"style {style!r} has a notice {notice.kind} without a detail")
    try:
        notice.detail.format_map(dict.fromkeys(notice.lengths, ""))
    except (KeyError, ValueError, IndexError):
        raise UnsoundError(
            f"style {style!r} has a notice {notice.kind} that speaks of a length it does not give"
        ) from None


def _is_name(text: object) -> bool:
    return isinstance(text, str) and NAME.fullmatch(text) is not None


def _one_of(style: str, name: str, word: str, choice: object) -> None:
    if word not in get_args(choice):
        raise UnsoundError(f"style {style!r} has {name} {word!r}, which is none of {', '.join(get_args(choice))}")


def _whole(style: str, name: str, value: object, least: int = 0) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= LONGEST:
        units = ', in grid units as inches("3") gives' if isinstance(value, float) else ""
        raise UnsoundError(f"style {style!r} has {name} {value!r}: a whole number of {least} or more{units}")


def _limits(style: str, name: str, limits: Limits) -> None:
    if not isinstance(limits, Limits):
        raise UnsoundError(f"style {style!r} has no Limits of {name}")
    for value in (limits.least, limits.usual, limits.most):
        _whole(style, name, value)
    for fault in limits_faults(limits, name):
        raise UnsoundError(f"style {style!r}, {name}: {fault.detail}")


def _fullness(style: str, limits: FullnessLimits) -> None:
    if not (isinstance(limits, FullnessLimits) and 1 <= limits.least <= limits.usual <= limits.most <= MOST_FULLNESS):
        raise UnsoundError(
            f"style {style!r} has no FullnessLimits that go up from 1, the flat width, to {MOST_FULLNESS} times it"
        )


def _lengths(made: Made) -> list[tuple[str, int]]:
    match made:
        case Pleat():
            return [
                ("buckram_depth", made.buckram_depth),
                ("take_up", made.take_up.least),
                ("space", made.space.least),
            ]
        case Gather():
            return [("depth", made.depth), ("fold", made.fold), ("hook_spacing", made.hook_spacing or 0)]
        case Points():
            return [("depth", made.depth), ("gap", made.gap.least), ("point_width", made.point_width)]
        case _:
            assert_never(made)


def _usual_only(options: type[HeadingOptions], assumed: list[tuple[tuple[str, ...], int]]) -> Measure:
    known = {each.name for each in msgspec.structs.fields(options)}

    def measure(value: Length | None, usual: int, *field: str, least: int = 1) -> int:  # noqa: ARG001 - as in Measure
        if not field or field[0] not in known:
            raise UnsoundError(
                f"it reads an option {'.'.join(field)!r} that it does not have: name the field of options"
            )
        if value is not None:
            raise UnsoundError(f"option {'.'.join(field)} has a default other than None")
        assumed.append((field, usual))
        return usual

    return measure
