"""A whole job: windows in; panels, pleats, pins, cuts and materials out."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import msgspec
from msgspec import UNSET

from pleatwright.contract.cut_lists import FabricOrder
from pleatwright.contract.replies import (
    Cure,
    EstimatedPanel,
    EstimatedWindow,
    EstimateReply,
    JobMaterials,
    Step,
    WindowMaterials,
)
from pleatwright.contract.requests import EstimateRequest
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import in_units
from pleatwright.trade.cuts import cuts_of
from pleatwright.trade.layout import MOST_WORK
from pleatwright.trade.panel import MOST_WIDTHS, Panel
from pleatwright.trade.repeat import shortest_run
from pleatwright.trade.shelf import MOST_WORK as MOST_SHELF_WORK
from pleatwright.workroom import cautions, usual, worksheet, worksheet_panels
from pleatwright.workroom.begun import Begun
from pleatwright.workroom.cut_figures import cut_place, order, run_figures
from pleatwright.workroom.fabrics import read_fabric
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import hiding_count
from pleatwright.workroom.panelling import panel_figures
from pleatwright.workroom.pleating import pin_figures, pleat_figures
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sewing import layer_orders
from pleatwright.workroom.shelving import ServedCuts, Shelf, shelf_figures
from pleatwright.workroom.sundries import Sundries, sundries_of, together
from pleatwright.workroom.windows import (
    MadeWindow,
    ReadWindow,
    first_phases,
    flat_panel,
    make_window,
    panels_of,
    read_window,
)

MOST_PIECES: Final = 1500
"""Widths of cloth in one job: room for a small hotel, and a bound on the work one request can ask for."""


def estimate(request: EstimateRequest[HeadingOptions], headings: Headings) -> EstimateReply:
    """Return everything needed to cut, sew, mark and hang the windows of a job."""
    return begin_estimate(request, headings).finish()


def begin_estimate(request: EstimateRequest[HeadingOptions], headings: Headings) -> Begun[EstimateReply]:
    """Work out the windows of a job; the cloth for all of them is left to be finished."""
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
    phases = first_phases([window for window, _ in measured])
    for number, (window, panels) in enumerate(measured):
        with window.reader.remembering():
            made.append(make_window(window, panels, phases[number], MOST_WORK // len(read)))
    reader.check()
    sundries = [sundries_of(each, headings) for each in made]
    windows = [_window(each, its, headings) for each, its in zip(made, sundries, strict=True)]

    def finish() -> EstimateReply:
        return EstimateReply(
            units=request.units,
            job=request.job,
            tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
            windows=windows,
            materials=_materials(reader, fabrics, made, sundries),
            cautions=list(cautions.STANDING),
            assumed=reader.assumed,
            made_with=reader.made_with,
            worksheet=[step for each in made for step in _steps(each)] if request.worksheet else UNSET,
        )

    return Begun(any(window.read.fabric.pieces for window in made), finish)


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
        cuts=run_figures(
            reader,
            made.run,
            made.panels[0].cut_length,
            read.fabric.vertical_repeat,
            read.fabric.increment,
            made.served,
        ),
        materials=WindowMaterials(
            layers=[layer.figures(reader) for layer in made.layers],
            sundries=sundries.figures(),
            pins=made.pins,
        ),
        cautions=found,
    )


def _width_cures(read: ReadWindow, panel: Panel) -> list[Cure]:
    """Return whether a half width more or less (a whole one, where halves are not allowed) would hide every seam."""
    if read.fabric.turned:
        return []
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
    by_fabric = {
        name: windows for name in fabrics if (windows := [each for each in made if each.read.request.fabric == name])
    }
    shelves = sum(1 for name in by_fabric if fabrics[name].pieces)
    return JobMaterials(
        fabrics=[
            _fabric_order(reader, name, fabrics[name], windows, MOST_SHELF_WORK / max(shelves, 1))
            for name, windows in by_fabric.items()
        ],
        layers=layer_orders(reader, [layer for each in made for layer in each.layers]),
        sundries=together(reader, sundries).orders(),
        pins=sum(each.pins for each in made),
    )


def _fabric_order(
    reader: Reader, name: str, fabric: FaceCloth, made: Sequence[MadeWindow], most_work: float
) -> FabricOrder:
    """Order one fabric for all its windows: every cut in one run, and from the pieces on the shelf if there are any."""
    wanted, served = cuts_of([each.cuts_wanted for each in made], fabric.pattern)
    labels = [each.read.request.label for each in made]
    run = shortest_run(wanted, fabric.vertical_repeat, fabric.drop)
    shelf = None
    if fabric.pieces:
        divisions = [made[pieces[0].window].read.division for pieces in served]
        pieces = Shelf(fabric.pieces, fabric.labels, fabric.one_lot, fabric.vertical_repeat)
        with reader.under("fabrics", name).collecting():
            shelf = shelf_figures(reader, pieces, ServedCuts(wanted, divisions, served, labels), most_work)
    return FabricOrder(
        **msgspec.structs.asdict(order(reader, run.length, fabric.increment)),
        fabric=name,
        cuts=len(wanted),
        run_length=in_units(run.length, reader.units),
        rule_of_thumb_length=in_units(run.rule_of_thumb, reader.units),
        rule_of_thumb_waste=in_units(run.saved, reader.units),
        sequence=[cut_place(reader, cut, served[cut.number - 1], labels) for cut in run.cuts],
        shelf=shelf,
    )


def _steps(made: MadeWindow) -> list[Step]:
    read, units = made.read, made.read.reader.units
    steps = worksheet_panels.panel_steps(
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
