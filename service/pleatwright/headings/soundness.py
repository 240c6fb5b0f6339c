"""Whether a heading keeps the contract: its options, its limits, and geometry that neither makes nor loses cloth."""

import math
import re
from typing import Final, get_args

import msgspec

from pleatwright.headings.contract import (
    CONTRACT,
    Heading,
    Pleat,
    PleatOptions,
    Stitched,
    Tacked,
    limits_faults,
)
from pleatwright.headings.outline import ROUNDING
from pleatwright.lengths import Length, Limits

STYLE_NAME: Final = re.compile(r"[a-z][a-z0-9]*(?:-[a-z0-9]+)*")
LONGEST_STYLE_NAME: Final = 40


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
    if not (heading.label.strip() and heading.summary.strip() and heading.making.strip()):
        raise UnsoundError(f"style {heading.style!r} has no label, no summary or no line on its making")
    _check_pleat(heading.style, heading.pleat(heading.options(), _usual_only))


def _check_options(options: type[PleatOptions]) -> None:
    if not (isinstance(options, type) and issubclass(options, PleatOptions)):
        raise UnsoundError("its options are not a subclass of PleatOptions")
    config = options.__struct_config__
    # msgspec takes the class's own name where no tag is given.
    untagged = config.tag == options.__name__ and not STYLE_NAME.fullmatch(options.__name__)
    if untagged or not isinstance(config.tag, str) or config.tag_field != "style":
        raise UnsoundError(
            f'options type {options.__name__!r} has no tag: write class {options.__name__}(PleatOptions, tag="…")'
        )
    if not (config.frozen and config.forbid_unknown_fields):
        raise UnsoundError(f"options type {options.__name__!r} must stay frozen and refuse unknown fields")
    if required := [each.name for each in msgspec.structs.fields(options) if each.required]:
        raise UnsoundError(f"options {', '.join(required)} have no default; a style's name alone must be enough")
    msgspec.json.schema(options)


def _check_pleat(style: str, pleat: Pleat) -> None:
    check_figures(style, pleat)
    for take_up in (pleat.take_up.least, pleat.take_up.usual, pleat.take_up.most):
        check_shape(style, pleat, float(take_up))


def check_shape(style: str, pleat: Pleat, take_up: float) -> None:
    """Check that a pleat of this take-up conserves cloth, and has folds within it. Raises UnsoundError."""
    shape = pleat.shape(take_up)
    length = shape.outline.developed_length
    if not math.isclose(length, take_up, rel_tol=ROUNDING):
        gained = "loses" if length < take_up else "makes"
        raise UnsoundError(f"style {style!r} {gained} cloth: a take-up of {take_up:g} has an outline {length:g} long")
    if not 0 < shape.depth_of_fold <= take_up:
        raise UnsoundError(f"style {style!r} has a fold of depth {shape.depth_of_fold:g} in a take-up of {take_up:g}")
    if shape.thicknesses < 1 or not 0 <= shape.lies_wide <= take_up or not 0 <= (shape.filler or 0) <= take_up:
        raise UnsoundError(f"style {style!r} has no thickness, or lies or is filled wider than its take-up")


def check_figures(style: str, pleat: object) -> None:
    """Check that what a style made of its options is a pleat whose figures can be used. Raises UnsoundError."""
    if not isinstance(pleat, Pleat):
        raise UnsoundError(f"style {style!r} makes a {type(pleat).__name__}, not a Pleat")
    for word, allowed in ((pleat.stitched, get_args(Stitched)), (pleat.tacked, get_args(Tacked))):
        if word not in allowed:
            raise UnsoundError(
                f"style {style!r} is stitched or tacked at {word!r}, which is none of {', '.join(allowed)}"
            )
    for name, limits in (("take_up", pleat.take_up), ("space", pleat.space)):
        if not isinstance(limits, Limits):
            raise UnsoundError(f"style {style!r} has no Limits of {name}")
        for fault in limits_faults(limits, name):
            raise UnsoundError(f"style {style!r}, {name}: {fault.detail}")
    if pleat.folds < 1 or pleat.buckram_depth < 1 or pleat.hand_tacks < 0:
        raise UnsoundError(f"style {style!r} has no folds, no depth of buckram, or fewer tacks than none")


def _usual_only(value: Length | None, usual: int, *field: str) -> int:
    if value is not None:
        raise UnsoundError(f"option {'.'.join(field)} has a default other than None")
    return usual
