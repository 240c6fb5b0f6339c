"""The heading styles that are installed, with their usual figures."""

from pleatwright.contract.openapi import options_schema
from pleatwright.contract.replies import CrossSection, HeadingFigures, HeadingsReply, LengthLimits, RefusedPlugin
from pleatwright.headings.contract import Pleat
from pleatwright.headings.host import Headings, InstalledHeading
from pleatwright.lengths import GRID, Limits, Units, in_units
from pleatwright.workroom.reader import Reader


def headings(installed: Headings, units: Units) -> HeadingsReply:
    """Return every style in use and every plugin refused."""
    return HeadingsReply(
        headings=[_figures(each, installed, units) for each in installed.installed.values()],
        refused=refused(installed),
    )


def heading(style: str, installed: Headings, units: Units) -> HeadingFigures | None:
    """Return one style's figures, or None when there is no such style."""
    each = installed.installed.get(style)
    return _figures(each, installed, units) if each else None


def refused(installed: Headings) -> list[RefusedPlugin]:
    """Return every plugin that is installed and not in use."""
    return [
        RefusedPlugin(plugin=each.plugin, package=each.package, version=each.version, reason=each.reason)
        for each in installed.refused
    ]


def _figures(each: InstalledHeading, installed: Headings, units: Units) -> HeadingFigures:
    pleat = Reader(units).pleat(installed, each.heading.options())
    assert pleat is not None, "the host has drafted the style with its default options"
    return HeadingFigures(
        style=each.style,
        label=each.heading.label,
        summary=each.heading.summary,
        folds=pleat.folds,
        stitched=pleat.stitched,
        tacked=pleat.tacked,
        units=units,
        buckram_depth=in_units(pleat.buckram_depth, units),
        take_up=_limits(pleat.take_up, units),
        space=_limits(pleat.space, units),
        cross_section=_cross_section(pleat, units),
        package=each.package,
        version=each.version,
        options=options_schema(each.heading.options),
    )


def _limits(limits: Limits, units: Units) -> LengthLimits:
    return LengthLimits(
        least=in_units(limits.least, units), usual=in_units(limits.usual, units), most=in_units(limits.most, units)
    )


def _cross_section(pleat: Pleat, units: Units) -> CrossSection:
    shape = pleat.shape(pleat.take_up.usual / GRID[units])
    return CrossSection(
        path=shape.outline.svg_path(),
        developed_length=round(shape.outline.developed_length, 6),
        depth_of_fold=round(shape.depth_of_fold, 3),
        width_shown=round(shape.outline.width_shown, 3),
        projection=round(shape.outline.projection, 3),
    )
