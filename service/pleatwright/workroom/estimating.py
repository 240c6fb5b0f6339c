"""A whole job: windows in; panels, pleats, pins, cuts and materials out."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Final

import msgspec
from msgspec import UNSET

from pleatwright.contract.replies import (
    Cure,
    EstimatedPanel,
    EstimatedWindow,
    EstimateReply,
    FabricOrder,
    JobMaterials,
    LiningOrder,
    Step,
    WindowMaterials,
)
from pleatwright.contract.requests import EstimateRequest
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import in_units
from pleatwright.trade.layout import MOST_WORK
from pleatwright.trade.panel import MOST_WIDTHS, Panel
from pleatwright.trade.repeat import Run
from pleatwright.workroom import cautions, usual, worksheet
from pleatwright.workroom.cutting import order, run_figures
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import hiding_count
from pleatwright.workroom.panelling import panel_figures, read_fabric
from pleatwright.workroom.pleating import pin_figures, pleat_figures
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sundries import Sundries, sundries_of, together
from pleatwright.workroom.windows import MadeWindow, ReadWindow, flat_panel, make_window, panels_of, read_window

MOST_PIECES: Final = 1500
"""Widths of cloth in one job: room for a small hotel, and a bound on the work one request can ask for."""


def estimate(request: EstimateRequest[HeadingOptions], headings: Headings) -> EstimateReply:
    """Return everything needed to cut, sew, mark and hang the windows of a job."""
    reader = Reader(request.units)
    fabrics = {name: read_fabric(reader.under("fabrics", name), given) for name, given in request.fabrics.items()}
    read = [
        read_window(reader.under("windows", index), window, fabrics, headings)
        for index, window in enumerate(request.windows)
    ]
    reader.check()
    measured = []
    for window in read:
        assert window is not None, "a window that cannot be read has left a fault"
        with window.reader.remembering():
            measured.append((window, panels_of(window, window.make_up)))
    if sum(panel.pieces for _, panels in measured for panel in panels) > MOST_PIECES:
        allowed = f"up to {MOST_PIECES} widths"
        reader.fault(Fault(("windows",), f"the job takes over {MOST_PIECES} widths of cloth: split it", None, allowed))
        reader.check()
    made = []
    for window, panels in measured:
        with window.reader.remembering():
            made.append(make_window(window, panels, MOST_WORK // len(read)))
    reader.check()
    sundries = [sundries_of(each, headings) for each in made]
    return EstimateReply(
        units=request.units,
        job=request.job,
        tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
        windows=[_window(each, its, headings) for each, its in zip(made, sundries, strict=True)],
        materials=_materials(reader, fabrics, made, sundries),
        cautions=list(cautions.STANDING),
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=[step for each in made for step in _steps(each)] if request.worksheet else UNSET,
    )


def _window(made: MadeWindow, sundries: Sundries, headings: Headings) -> EstimatedWindow:
    read, reader = made.read, made.read.reader
    units = reader.units
    found = cautions.of_heading(reader, read.made)
    found += cautions.of_panels(reader, read.made, read.rod, read.fabric, read.make_up, made.panels)
    panels = []
    for panel, laid_out in zip(made.panels, made.laid_out, strict=True):
        largest = reader.largest_pleat(headings, read.request.heading, read.made, laid_out)
        found += cautions.of_layout(reader, read.made, laid_out, largest, f"{panel.side.capitalize()} panel: ")
        pleats = pleat_figures(reader, read.made, flat_panel(read, panel), laid_out)
        if not laid_out.hides_every_seam:
            pleats = msgspec.structs.replace(pleats, cures=[*_width_cures(read, panel), *pleats.cures])
        panels.append(
            EstimatedPanel(
                **msgspec.structs.asdict(panel_figures(panel, read.fabric, units)),
                pleats=pleats,
                pins=pin_figures(reader, made.pin_depth, laid_out),
            )
        )
    return EstimatedWindow(
        label=read.request.label,
        fabric=read.request.fabric,
        style=str(read.request.heading.__struct_config__.tag),
        hang_to=read.hang.to,
        panels=panels,
        cuts=run_figures(reader, made.run, read.fabric.increment, made.served),
        materials=WindowMaterials(
            lining_length=in_units(made.cuts * made.lining_cut, units) if read.lining else UNSET,
            lining_cut_length=in_units(made.lining_cut, units) if read.lining else UNSET,
            sundries=sundries.figures(),
            pins=made.pins,
        ),
        cautions=found,
    )


def _width_cures(read: ReadWindow, panel: Panel) -> list[Cure]:
    """Return whether a half width more or less (a whole one, where halves are not allowed) would hide every seam."""
    step = 1 if read.make_up.half_widths else 2
    found = []
    for change, halves in (("more", panel.halves + step), ("less", panel.halves - step)):
        if not 0 < halves <= 2 * MOST_WIDTHS:
            continue
        try:
            others = panels_of(read, replace(read.make_up, halves=halves))
        except Impossible:
            continue
        other = next(each for each in others if each.side == panel.side)
        if count := hiding_count(read.made, flat_panel(read, other), read.reader.budget):
            found.append(
                Cure(
                    change="half-width-more" if change == "more" else "half-width-less",
                    count=count,
                    detail=f"Use {halves / 2:g} widths in this panel, fullness {float(other.fullness):.2f}: "
                    f"{count} {read.made.word}s then hide every seam.",
                )
            )
    return found


def _materials(
    reader: Reader, fabrics: dict[str, FaceCloth], made: Sequence[MadeWindow], sundries: Sequence[Sundries]
) -> JobMaterials:
    lined = [each for each in made if each.read.lining]
    return JobMaterials(
        fabrics=[
            _fabric_order(reader, name, fabric, [each.run for each in made if each.read.request.fabric == name])
            for name, fabric in fabrics.items()
            if any(each.read.request.fabric == name for each in made)
        ],
        lining=_lining_order(reader, lined) if lined else None,
        sundries=together(reader, sundries).orders(),
        pins=sum(each.pins for each in made),
    )


def _fabric_order(reader: Reader, name: str, fabric: FaceCloth, runs: Sequence[Run]) -> FabricOrder:
    """Order one fabric for the windows in turn, each run starting where its phase next comes round."""
    first_phase = runs[0].cuts[0].phase
    at = Fraction(0)
    for run in runs:
        if fabric.vertical_repeat:
            at += (run.cuts[0].phase - first_phase - at) % fabric.vertical_repeat
        at += run.cuts[-1].end
    return FabricOrder(
        **msgspec.structs.asdict(order(reader, ceil(at), fabric.increment)),
        fabric=name,
        cuts=sum(len(run.cuts) for run in runs),
    )


def _lining_order(reader: Reader, lined: Sequence[MadeWindow]) -> LiningOrder:
    """Order all the lining in the largest increment that any window names."""
    increment = max(each.read.lining.increment for each in lined if each.read.lining)
    length = sum(each.cuts * each.lining_cut for each in lined)
    return LiningOrder(
        **msgspec.structs.asdict(order(reader, length, increment)), cuts=sum(each.cuts for each in lined)
    )


def _steps(made: MadeWindow) -> list[Step]:
    read, units = made.read, made.read.reader.units
    steps = worksheet.panel_steps(
        read.made, read.rod, read.hang, read.fabric, read.make_up, read.asked, made.panels, units
    )
    for panel, laid_out in zip(made.panels, made.laid_out, strict=True):
        prefix = f"{panel.side} panel: "
        steps += worksheet.heading_steps(flat_panel(read, panel), laid_out, units, prefix)
        steps += worksheet.pin_steps(read.hang.heading_above, read.rise, made.pin_depth, laid_out, units, prefix)
    fabric = read.fabric
    cut_length = made.panels[0].cut_length
    steps += worksheet.run_steps(cut_length, fabric.vertical_repeat, fabric.drop, fabric.increment, made.run, units)
    return [msgspec.structs.replace(step, name=f"{read.request.label}, {step.name}") for step in steps]
