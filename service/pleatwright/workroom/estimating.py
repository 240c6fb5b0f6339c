"""A whole job: windows in; panels, pleats, pins, cuts and materials out."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import Any, Final

import msgspec
from msgspec import UNSET

from pleatwright.contract.replies import (
    BuckramOrder,
    Cure,
    EstimatedPanel,
    EstimatedWindow,
    EstimateReply,
    FabricOrder,
    JobMaterials,
    LiningOrder,
    Step,
    TakeUpRange,
    WindowMaterials,
)
from pleatwright.contract.requests import EstimateRequest
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.contract import PleatOptions
from pleatwright.headings.host import Headings
from pleatwright.lengths import GRID, in_units
from pleatwright.trade.cures import hiding_count
from pleatwright.trade.layout import MOST_WORK
from pleatwright.trade.panel import MOST_WIDTHS, Panel
from pleatwright.trade.repeat import Run
from pleatwright.workroom import cautions, usual, worksheet
from pleatwright.workroom.cutting import order, run_figures
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.panelling import panel_figures, read_fabric
from pleatwright.workroom.pleating import hides_every_seam, pin_figures, pleat_figures
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.windows import MadeWindow, ReadWindow, cloth_of, make_window, panels_of, read_window

MOST_PIECES: Final = 1500
"""Widths of cloth in one job: room for a small hotel, and a bound on the work one request can ask for."""


def estimate(request: EstimateRequest[PleatOptions], headings: Headings) -> EstimateReply:
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
    return EstimateReply(
        units=request.units,
        job=request.job,
        tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
        windows=[_window(each, headings) for each in made],
        materials=_materials(reader, fabrics, made),
        cautions=list(cautions.STANDING),
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=[step for each in made for step in _steps(each)] if request.worksheet else UNSET,
    )


def _window(made: MadeWindow, headings: Headings) -> EstimatedWindow:
    read, reader = made.read, made.read.reader
    units = reader.units
    found = cautions.of_panels(reader, read.rod, read.fabric, read.make_up, made.panels)
    panels = []
    for panel, pleated, pins in zip(made.panels, made.pleated, made.pins, strict=True):
        found += cautions.of_layout(reader, pleated.layout, pleated.seams, f"{panel.side.capitalize()} panel: ")
        pleats = pleat_figures(reader, pleated)
        if not hides_every_seam(pleated):
            pleats = msgspec.structs.replace(pleats, cures=[*_width_cures(read, panel), *pleats.cures])
        panels.append(
            EstimatedPanel(
                **msgspec.structs.asdict(panel_figures(panel, read.fabric, units)),
                pleats=pleats,
                pins=pin_figures(made.pin_depth, pins, units),
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
            buckram_length=in_units(sum(panel.flat_width for panel in made.panels), units),
            buckram_depth=in_units(read.pleat.buckram_depth, units),
            **_fillers(made, headings),
            pins=sum(map(len, made.pins)),
        ),
        cautions=found,
    )


def _fillers(made: MadeWindow, headings: Headings) -> dict[str, Any]:
    """Return the fillers that keep round pleats open, if the style has any."""
    read, units = made.read, made.read.reader.units
    take_ups = [take_up for pleated in made.pleated for take_up in pleated.layout.take_ups]
    options = read.request.heading
    least, most = (
        read.reader.shape(headings, options, read.pleat, float(take_up / GRID[units])).filler
        for take_up in (min(take_ups), max(take_ups))
    )
    if least is None or most is None:
        return {}
    return {
        "fillers": sum(pleated.layout.pleat_count for pleated in made.pleated),
        "filler_diameter": TakeUpRange(least=round(least, 3), most=round(most, 3)),
    }


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
        if pleats := hiding_count(cloth_of(read, other), read.reader.budget):
            found.append(
                Cure(
                    change="half-width-more" if change == "more" else "half-width-less",
                    pleat_count=pleats,
                    detail=f"Use {halves / 2:g} widths in this panel, fullness {float(other.fullness):.2f}: "
                    f"{pleats} pleats then hide every seam.",
                )
            )
    return found


def _materials(reader: Reader, fabrics: dict[str, FaceCloth], made: Sequence[MadeWindow]) -> JobMaterials:
    lined = [each for each in made if each.read.lining]
    buckram: dict[int, int] = {}
    for each in made:
        depth = each.read.pleat.buckram_depth
        buckram[depth] = buckram.get(depth, 0) + sum(panel.flat_width for panel in each.panels)
    increment = reader.usual(usual.INCREMENT)
    return JobMaterials(
        fabrics=[
            _fabric_order(reader, name, fabric, [each.run for each in made if each.read.request.fabric == name])
            for name, fabric in fabrics.items()
            if any(each.read.request.fabric == name for each in made)
        ],
        lining=_lining_order(reader, lined) if lined else None,
        buckram=[
            BuckramOrder(
                **msgspec.structs.asdict(order(reader, length, increment)), depth=in_units(depth, reader.units)
            )
            for depth, length in sorted(buckram.items())
        ],
        pins=sum(len(pins) for each in made for pins in each.pins),
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
        read.rod, read.hang, read.fabric, read.make_up, read.request.fullness, made.panels, units
    )
    for panel, pleated, pins in zip(made.panels, made.pleated, made.pins, strict=True):
        prefix = f"{panel.side} panel: "
        steps += worksheet.pleat_steps(pleated.cloth, pleated.layout, units, prefix)
        steps += worksheet.pin_steps(
            read.hang.heading_above, read.rise, made.pin_depth, pleated.layout, len(pins), units, prefix
        )
    fabric = read.fabric
    cut_length = made.panels[0].cut_length
    steps += worksheet.run_steps(cut_length, fabric.vertical_repeat, fabric.drop, fabric.increment, made.run, units)
    return [msgspec.structs.replace(step, name=f"{read.request.label}, {step.name}") for step in steps]
