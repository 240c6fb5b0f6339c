"""The heading styles that are installed, with their usual figures."""

from pleatwright.contract.about import (
    CrossSection,
    HeadingFigures,
    HeadingsReply,
    LengthLimits,
    MaterialNeeded,
    RefusedPlugin,
)
from pleatwright.contract.openapi import options_schema
from pleatwright.headings.contract import Pleat, Shape
from pleatwright.headings.host import Headings, InstalledHeading
from pleatwright.lengths import GRID, Limits, Units, in_units
from pleatwright.workroom import usual
from pleatwright.workroom.reader import Reader


def headings(installed: Headings, units: Units, cloth_thickness: int | None = None) -> HeadingsReply:
    """Return every style in use and every plugin refused; stacks are for a cloth of this thickness, or a usual one."""
    return HeadingsReply(
        headings=[_figures(each, installed, units, cloth_thickness) for each in installed.installed.values()],
        refused=refused(installed),
    )


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
    pleat = reader.pleat(installed, each.heading.options())
    assert pleat is not None, "the host has drafted the style with its default options"
    thickness = reader.usual(usual.CLOTH_THICKNESS) if cloth_thickness is None else cloth_thickness
    shape = reader.shape(installed, each.heading.options(), pleat, pleat.take_up.usual / GRID[units])
    return HeadingFigures(
        style=each.style,
        label=each.heading.label,
        summary=each.heading.summary,
        making=each.heading.making,
        folds=pleat.folds,
        stitched=pleat.stitched,
        tacked=pleat.tacked,
        hand_tacks=pleat.hand_tacks,
        units=units,
        buckram_depth=in_units(pleat.buckram_depth, units),
        stitching_length=in_units(pleat.buckram_depth, units),
        take_up=_limits(pleat.take_up, units),
        space=_limits(pleat.space, units),
        cross_section=_cross_section(shape),
        cloth_thickness=in_units(thickness, units),
        stack_per_pleat=round(shape.stack(thickness / GRID[units]), 3),
        materials=_materials(pleat, shape, units),
        package=each.package,
        version=each.version,
        options=options_schema(each.heading.options),
    )


def _materials(pleat: Pleat, shape: Shape, units: Units) -> list[MaterialNeeded]:
    found = [MaterialNeeded(kind="buckram", per="flat-width", size=in_units(pleat.buckram_depth, units))]
    if shape.filler is not None:
        found.append(MaterialNeeded(kind="filler", per="pleat", size=round(shape.filler, 3)))
    return found


def _limits(limits: Limits, units: Units) -> LengthLimits:
    return LengthLimits(
        least=in_units(limits.least, units), usual=in_units(limits.usual, units), most=in_units(limits.most, units)
    )


def _cross_section(shape: Shape) -> CrossSection:
    return CrossSection(
        path=shape.outline.svg_path(),
        developed_length=round(shape.outline.developed_length, 6),
        depth_of_fold=round(shape.depth_of_fold, 3),
        width_shown=round(shape.width_shown, 3),
        projection=round(shape.outline.projection, 3),
    )
