"""The heading styles that are installed, with their usual figures."""

from fractions import Fraction
from typing import Any, assert_never

from pleatwright.contract.about import (
    CrossSection,
    HeadingFigures,
    HeadingsReply,
    LengthLimits,
    MaterialNeeded,
    RatioLimits,
    RefusedPlugin,
)
from pleatwright.contract.openapi import options_schema
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings, InstalledHeading
from pleatwright.headings.made import Gather, Made, Pleat, Points, Shape
from pleatwright.lengths import GRID, Limits, Units, in_units, rounded_in_units
from pleatwright.trade.stack import heading_thickness
from pleatwright.workroom import cautions, usual
from pleatwright.workroom.reader import Reader, StyleFailedError
from pleatwright.workroom.sundries import FILLER

ABSENT: dict[str, Any] = dict.fromkeys(
    (
        *("folds", "stitched", "tacked", "hand_tacks", "buckram_depth", "stitching_length", "take_up", "space"),
        *("gap", "finished_gap", "point_counts", "hook_spacing"),
    )
)
"""Figures that some layouts have and others do not."""


def headings(installed: Headings, units: Units, cloth_thickness: int | None = None) -> HeadingsReply:
    """Return every style in use and every plugin refused; stacks are for a cloth of this thickness, or a usual one.

    A style that was let in and breaks now is among the refused.
    """
    found, broken = [], []
    for each in installed.installed.values():
        try:
            found.append(_figures(each, installed, units, cloth_thickness))
        except (StyleFailedError, Impossible) as error:
            broken.append(
                RefusedPlugin(plugin=each.plugin, package=each.package, version=each.version, reason=str(error))
            )
    return HeadingsReply(headings=found, refused=refused(installed) + broken)


def heading(style: str, installed: Headings, units: Units, cloth_thickness: int | None = None) -> HeadingFigures:
    """Return one style's figures. Raises KeyError when there is no such style."""
    return _figures(installed.installed[style], installed, units, cloth_thickness)


def refused(installed: Headings) -> list[RefusedPlugin]:
    """Return every plugin that is installed and not in use."""
    return [
        RefusedPlugin(plugin=each.plugin, package=each.package, version=each.version, reason=each.reason)
        for each in installed.refused
    ]


def _figures(each: InstalledHeading, installed: Headings, units: Units, cloth_thickness: int | None) -> HeadingFigures:
    reader = Reader(units)
    options = each.heading.options()
    made = reader.settled(reader.made(installed, options))
    thickness = reader.usual(usual.CLOTH_THICKNESS) if cloth_thickness is None else cloth_thickness
    in_heading = heading_thickness(thickness, made.depth, made.top_turning, reader.usual(usual.STIFFENING), layers=0)
    piece = made.piece()
    shape = reader.shape(installed, options, made, *piece)
    return HeadingFigures(
        style=each.style,
        label=each.heading.label,
        summary=each.heading.summary,
        making=each.heading.making,
        layout=made.layout,
        word=made.word,
        units=units,
        depth=in_units(made.depth, units),
        top_turning=in_units(made.top_turning, units),
        fullness=RatioLimits(
            least=_ratio(made.fullness.least), usual=_ratio(made.fullness.usual), most=_ratio(made.fullness.most)
        ),
        **ABSENT | _own_figures(made, units),
        cross_section=_cross_section(reader.shape(installed, options, made, *(side / GRID[units] for side in piece))),
        cloth_thickness=in_units(thickness, units),
        stack_each=rounded_in_units(Fraction(made.stack_each(shape, in_heading)), units),
        materials=_materials(made, shape, units),
        cautions=cautions.of_heading(reader, made),
        package=each.package,
        version=each.version,
        options=options_schema(each.heading.options),
    )


def _own_figures(made: Made, units: Units) -> dict[str, Any]:
    match made:
        case Pleat():
            return {
                "folds": made.folds,
                "stitched": made.stitched,
                "tacked": made.tacked,
                "hand_tacks": made.hand_tacks,
                "buckram_depth": in_units(made.buckram_depth, units),
                "stitching_length": in_units(made.buckram_depth, units),
                "take_up": _limits(made.take_up, units),
                "space": _limits(made.space, units),
            }
        case Gather():
            return {"hook_spacing": None if made.hook_spacing is None else in_units(made.hook_spacing, units)}
        case Points():
            return {
                "gap": _limits(made.gap, units),
                "finished_gap": _limits(made.finished_gap, units) if made.finished_gap else None,
                "point_counts": made.parity,
            }
        case _:
            assert_never(made)


def _materials(made: Made, shape: Shape, units: Units) -> list[MaterialNeeded]:
    found = []
    if isinstance(made, Pleat):
        found.append(MaterialNeeded(kind="buckram", per="flat-width", size=in_units(made.buckram_depth, units)))
    if shape.filler is not None:
        found.append(MaterialNeeded(kind=FILLER, per="pleat", size=rounded_in_units(Fraction(shape.filler), units)))
    return found + [
        MaterialNeeded(kind=each.kind, per=each.per, size=None if each.size is None else in_units(each.size, units))
        for each in made.materials
    ]


def _limits(limits: Limits, units: Units) -> LengthLimits:
    return LengthLimits(
        least=in_units(limits.least, units), usual=in_units(limits.usual, units), most=in_units(limits.most, units)
    )


def _ratio(ratio: Fraction) -> float:
    return round(float(ratio), 3)


def _cross_section(shape: Shape) -> CrossSection:
    return CrossSection(
        path=shape.outline.svg_path(),
        developed_length=round(shape.outline.developed_length, 6),
        depth_of_fold=round(shape.depth_of_fold, 3),
        width_shown=round(shape.width_shown, 3),
        projection=round(shape.outline.projection, 3),
    )
