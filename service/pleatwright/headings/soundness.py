"""Whether a heading keeps the contract: its options, its limits, and geometry that neither makes nor loses cloth."""

import math
import re
from typing import Final, get_args

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
from pleatwright.headings.options import HeadingOptions
from pleatwright.headings.outline import ROUNDING
from pleatwright.lengths import LONGEST, Length, Limits

STYLE_NAME: Final = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_STYLE_NAME: Final = 40
MATERIAL_NAME: Final = re.compile(r"[a-z](?:[a-z0-9 -]{0,38}[a-z0-9])?")
MOST_FULLNESS: Final = 6
"""What a request may ask for, too."""


class UnsoundError(ValueError):
    """A heading that does not keep the contract; the message is the reason."""


def check_heading(heading: Heading) -> None:
    """Check a heading by itself, with its default options.

    Raises UnsoundError with the first reason it cannot be used, or whatever the style itself raises.
    """
    if heading.contract != CONTRACT:
        raise UnsoundError(f"it was written for contract {heading.contract!r}; this service speaks {CONTRACT}")
    _check_options(heading.options)
    if not STYLE_NAME.fullmatch(heading.style) or len(heading.style) > LONGEST_STYLE_NAME:
        raise UnsoundError(f"style name {heading.style!r} is not small letters and digits joined by hyphens")
    if not all(isinstance(text, str) and text.strip() for text in (heading.label, heading.summary, heading.making)):
        raise UnsoundError(f"style {heading.style!r} has no label, no summary or no line on its making")
    made = heading.make(heading.options(), _usual_only)
    check_figures(heading.style, made)
    for part in (0.0, None, 1.0):
        check_shape(heading.style, made, made.piece(part))


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
    if not all(isinstance(each, Material) and _is_sound(each) for each in made.materials):
        raise UnsoundError(f"style {style!r} has a material without a name, a count or a size that can be used")
    for notice in made.notices:
        if not (isinstance(notice, Notice) and STYLE_NAME.fullmatch(notice.kind) and notice.detail.strip()):
            raise UnsoundError(f"style {style!r} has a notice without a kind or a detail")
        try:
            notice.detail.format_map(dict.fromkeys(notice.lengths, ""))
        except (KeyError, ValueError, IndexError):
            raise UnsoundError(f"style {style!r} has a notice that speaks of a length it does not give") from None
    if made.heading_above is not None:
        _whole(style, "heading_above", made.heading_above, -LONGEST)
    _whole(style, "drawn_up", made.drawn_up)
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
    if not (isinstance(points.word, str) and STYLE_NAME.fullmatch(points.word)):
        raise UnsoundError(f"style {style!r} has no word for its points, in small letters")
    _fullness(style, points.fullness)
    _limits(style, "gap", points.gap)
    if points.finished_gap is not None:
        _limits(style, "finished_gap", points.finished_gap)
    _one_of(style, "parity", points.parity, Parity)
    for name in ("depth", "top_turning", "point_width", "clear", "stacked"):
        _whole(style, name, getattr(points, name))
    if not 0 <= points.edge < 1:
        raise UnsoundError(f"style {style!r} has an edge of {points.edge} gaps: from 0 to less than 1")
    if points.count is not None:
        _whole(style, "count", points.count, 2)
        if points.parity != "any" and points.count % 2 != (points.parity == "odd"):
            raise UnsoundError(f"style {style!r} asks for {points.count} points, no {points.parity} count")


def _is_sound(material: Material) -> bool:
    return (
        isinstance(material.kind, str)
        and MATERIAL_NAME.fullmatch(material.kind) is not None
        and material.per in get_args(Per)
        and (material.size is None or (isinstance(material.size, int) and material.size > 0))
        and isinstance(material.extra, int)
        and material.extra >= 0
    )


def _one_of(style: str, name: str, word: str, choice: object) -> None:
    if word not in get_args(choice):
        raise UnsoundError(f"style {style!r} has {name} {word!r}, which is none of {', '.join(get_args(choice))}")


def _whole(style: str, name: str, value: object, least: int = 0) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= LONGEST:
        raise UnsoundError(f"style {style!r} has {name} {value!r}: a whole number of {least} or more")


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


def _usual_only(value: Length | None, usual: int, *field: str, least: int = 1) -> int:  # noqa: ARG001
    if value is not None:
        raise UnsoundError(f"option {'.'.join(field)} has a default other than None")
    return usual
