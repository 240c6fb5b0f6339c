"""A whole job: windows in; panels, pleats, pins, cuts and materials out."""

import msgspec
from msgspec import UNSET
from msgspec.structs import replace

from pleatwright.contract.cut_lists import FabricOrder
from pleatwright.contract.estimates import EstimatedPanel, EstimatedWindow, EstimateReply, JobMaterials, WindowMaterials
from pleatwright.contract.notes import Progress, Step
from pleatwright.contract.replies import Cure
from pleatwright.contract.requests import EstimateRequest
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import in_units
from pleatwright.pricing.book import RateBook
from pleatwright.trade.panel import MOST_WIDTHS, Panel
from pleatwright.trade.shelf import MOST_WORK as MOST_SHELF_WORK
from pleatwright.workroom import cautions, usual, worksheet, worksheet_panels
from pleatwright.workroom.cut_figures import cut_place, order, run_figures
from pleatwright.workroom.hanging import hang_figures, section_steps
from pleatwright.workroom.hung import hung_window
from pleatwright.workroom.jobs import FabricRun, Job, work_out
from pleatwright.workroom.laying import hiding_count
from pleatwright.workroom.panelling import panel_figures
from pleatwright.workroom.pleating import pin_figures, pleat_figures
from pleatwright.workroom.pricing import price_of
from pleatwright.workroom.ranging import price_range
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sewing import layer_orders
from pleatwright.workroom.shelving import ServedCuts, Shelf, shelf_figures
from pleatwright.workroom.sundries import Sundries, together
from pleatwright.workroom.windows import MadeWindow, ReadWindow, flat_panel, panels_of
from pleatwright.workroom.work import Work, at_once


def estimate(
    request: EstimateRequest[HeadingOptions], headings: Headings, book: RateBook | None = None
) -> EstimateReply:
    """Return everything needed to cut, sew, mark, hang and price the windows of a job."""
    return at_once(estimate_in_parts(request, headings, book))


def estimate_in_parts(
    request: EstimateRequest[HeadingOptions], headings: Headings, book: RateBook | None = None
) -> Work[EstimateReply]:
    """Return `estimate`, cuts from the pieces on the shelf being a part for another thread."""
    reader = Reader(request.units)
    job = yield from work_out(reader, request, headings, book)
    priced = price_of(job, request, book)
    windows = []
    for each, its in zip(job.windows, job.sundries, strict=True):
        windows.append(window_of(each, its, headings))
        yield Progress(doing="windows", done=len(windows), of=len(job.windows))
    price = priced.price
    if price:
        price = msgspec.structs.replace(price, range=(yield from price_range(request, headings, book, job, price)))
    if any(each.fabric.pieces for each in job.fabrics):
        yield Progress(doing="cuts from the pieces on the shelf", done=0, of=None)
        materials = yield lambda: materials_of(job)
    else:
        materials = materials_of(job)
    return EstimateReply(
        units=request.units,
        job=request.job,
        tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
        windows=windows,
        materials=materials,
        price=price,
        workroom=priced.workroom if request.pricing.view == "workroom" and priced.workroom else UNSET,
        cautions=[*cautions.STANDING, *priced.cautions],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=[step for each in job.windows for step in _steps(each)] if request.worksheet else UNSET,
    )


def window_of(made: MadeWindow, sundries: Sundries, headings: Headings) -> EstimatedWindow:
    """Return one window, complete. Raises StyleFailedError when a heading style breaks."""
    read, reader = made.read, made.read.reader
    units = reader.units
    hung = hung_window(made, headings)
    found = cautions.of_heading(reader, read.made)
    found += cautions.of_panels(reader, read.made, read.rod, read.fabric, read.make_up, made.panels)
    found += cautions.of_length(reader, read.hang)
    found += [*hung.cautions, *cautions.of_fullness(read.made, made.panels, unusual=read.has_unusual_fullness)]
    for panel, laid_out in zip(made.panels, made.laid_out, strict=True):
        largest = reader.largest_pleat(headings, read.request.heading, read.made, laid_out)
        found += cautions.of_layout(reader, read.made, laid_out, largest, f"{panel.side.capitalize()} panel: ")
    return EstimatedWindow(
        label=read.label,
        fabric=read.request.fabric,
        style=str(read.request.heading.__struct_config__.tag),
        hang_to=read.hang.to,
        behind=read.behind.label if read.behind else None,
        panels=_estimated_panels(made),
        hang=hang_figures(made.section, read.hang, made.pin, units),
        rod=hung.rod,
        weight=hung.weight,
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


def _estimated_panels(made: MadeWindow) -> list[EstimatedPanel]:
    """Return the window's panels."""
    read, reader = made.read, made.read.reader
    found: list[EstimatedPanel] = []
    for panel, flat, laid_out in zip(made.panels, made.flats, made.laid_out, strict=True):
        if found and made.twins:
            found.append(msgspec.structs.replace(found[0], side=panel.side))
            continue
        pleats = pleat_figures(reader, read.made, flat, laid_out)
        if not laid_out.hides_every_seam:
            pleats = msgspec.structs.replace(pleats, cures=[*_width_cures(read, panel), *pleats.cures])
        found.append(
            EstimatedPanel(
                **msgspec.structs.asdict(panel_figures(panel, read.fabric, read.make_up, reader.units)),
                pleats=pleats,
                pins=pin_figures(reader, made.pin.depth if made.pin else None, pleats.hanging_points),
            )
        )
    return found


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
            others = panels_of(replace(read, halves_by_side=None), replace(read.make_up, halves=halves))
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


def materials_of(job: Job) -> JobMaterials:
    """Return what a job takes; cuts from the pieces on the shelf may take a solver seconds.

    Raises Impossible when the shelf is too much for it.
    """
    shelves = sum(1 for each in job.fabrics if each.fabric.pieces)
    return JobMaterials(
        fabrics=[_fabric_order(job.reader, each, MOST_SHELF_WORK / max(shelves, 1)) for each in job.fabrics],
        layers=layer_orders(job.reader, [layer for each in job.windows for layer in each.layers]),
        sundries=together(job.reader, job.sundries).orders(),
        pins=sum(each.pins for each in job.windows),
    )


def _fabric_order(reader: Reader, each: FabricRun, most_work: float) -> FabricOrder:
    """Order one fabric for all its windows: every cut in one run, and from the pieces on the shelf if there are any."""
    fabric, run = each.fabric, each.run
    labels = [window.read.label for window in each.windows]
    shelf = None
    if fabric.pieces:
        divisions = [each.windows[pieces[0].window].read.division for pieces in each.served]
        pieces = Shelf(fabric.pieces, fabric.labels, fabric.one_lot, fabric.vertical_repeat)
        with reader.under("fabrics", each.name).collecting():
            shelf = shelf_figures(reader, pieces, ServedCuts(each.wanted, divisions, each.served, labels), most_work)
    return FabricOrder(
        **msgspec.structs.asdict(order(reader, run.length, fabric.increment)),
        fabric=each.name,
        width=in_units(fabric.width, reader.units),
        vertical_repeat=in_units(fabric.vertical_repeat, reader.units),
        cuts=len(each.wanted),
        run_length=in_units(run.length, reader.units),
        rule_of_thumb_length=in_units(run.rule_of_thumb, reader.units),
        rule_of_thumb_waste=in_units(run.saved, reader.units),
        sequence=[cut_place(reader, cut, each.served[cut.number - 1], labels) for cut in run.cuts],
        shelf=shelf,
    )


def _steps(made: MadeWindow) -> list[Step]:
    read, units = made.read, made.read.reader.units
    steps = worksheet_panels.panel_steps(
        read.made, read.rod, read.hang, read.fabric, read.make_up, read.asked, made.panels, units
    )
    for panel, flat, laid_out in zip(made.panels, made.flats, made.laid_out, strict=True):
        prefix = f"{panel.side} panel: "
        steps += worksheet.heading_steps(flat, laid_out, units, prefix)
        if made.pin:
            above = read.hang.heading_above
            steps += worksheet.pin_steps(above, made.pin.rise, made.pin.depth, laid_out, units, prefix)
    steps += section_steps(made.section, read.hang, made.pin, units)
    fabric = read.fabric
    cut_length = made.panels[0].cut_length
    steps += worksheet.run_steps(cut_length, fabric.vertical_repeat, fabric.drop, fabric.increment, made.run, units)
    return [msgspec.structs.replace(step, name=f"{read.label}, {step.name}") for step in steps]
