"""A job's bench ticket: the job, the cutting of each cloth, and each window, with their drawings."""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from pleatwright.contract.about import HeadingFigures
from pleatwright.contract.cut_lists import CutPlace, FabricOrder, LayerOrder, ShelfFigures, Side
from pleatwright.contract.estimates import EstimatedPanel, EstimatedWindow, EstimateReply
from pleatwright.contract.notes import MadeWith
from pleatwright.contract.replies import PinFigures
from pleatwright.lengths import Units
from pleatwright.paper import drawings
from pleatwright.paper.drawings.marks import heading_in_words
from pleatwright.paper.drawings.sheet import name
from pleatwright.paper.drawings.words import UNITS_IN_WORDS, clean, counted, isolated, told
from pleatwright.paper.flat import FlatPaper
from pleatwright.paper.materials import assumed_text, material_lines, shelf_lines
from pleatwright.paper.on_the_wall import HEIGHT_NAMES, hangs_on
from pleatwright.paper.places import piece_text
from pleatwright.paper.ticket.model import Block, Facts, Notes, Section, Table, Ticket, Ticks
from pleatwright.paper.ticket.panels import heading_blocks, panel_blocks

_OF_WINDOW: Final = re.compile("/windows/([0-9]+)/(.*)", re.DOTALL)
_CHECKS: Final = (
    "cloth checked for flaws, lot and length before cutting",
    "first cut measured twice",
    "seams joined, pressed and clipped",
    "hems folded and sewn",
    "flat width measured, and marks worked out anew if it is off",
    "marks chalked from the leading edge",
    "pleats stitched and tacked",
    "pins set, panel hung and dressed",
)


def job_ticket(reply: EstimateReply, headings: Mapping[str, HeadingFigures], only: int | None = None) -> Ticket:
    """Return the ticket of a job, or of one window alone, counted from 0.

    `headings` are the figures of its styles, in the job's units.
    """
    count = len(reply.windows)
    job = clean(reply.job or "")
    windows = [
        Section(
            f"Window {number} of {count}: {name(window.label)}",
            f"{window.style}, {name(window.fabric)}, to the {window.hang_to}",
            tuple(_window(window, reply.units)),
            tuple(_drawn(window, reply, headings)),
        )
        for number, window in enumerate(reply.windows, 1)
        if only is None or number == only + 1
    ]
    cutting = [
        *(_fabric(fabric, reply.units) for fabric in reply.materials.fabrics),
        *(_layer(layer, reply.units) for layer in reply.materials.layers),
    ]
    before = [Section("The job", counted(count, "window"), tuple(_job(reply)), ()), *cutting] if only is None else []
    title = f"Bench ticket: {isolated(job)}" if job else "Bench ticket"
    return Ticket(title, stamp(reply.made_with), (*before, *windows))


def panel_ticket(panel: FlatPaper) -> Ticket:
    """Return the ticket of one panel of which no more is known than how it lies flat."""
    blocks: list[Block] = []
    if panel.cautions:
        blocks.append(Notes("Look at this first", tuple(each.detail for each in panel.cautions), urgent=True))
    pins = panel.pins or PinFigures(pin_depth=None, pin_count=0, pins=[])
    facts = [("heading", heading_in_words(panel.pleats, panel.units))]
    if pins.pin_depth is not None:
        facts.append(("pins", f"{pins.pin_count}, {told(pins.pin_depth, panel.units)} down from the top"))
    lies = f"face up, its leading edge is at your {'right' if panel.side == 'left' else 'left'}"
    blocks.append(Facts(f"{panel.side.capitalize()} panel: {lies}", tuple(facts)))
    blocks += heading_blocks(panel.pleats, pins, panel.units, "")
    drawing = drawings.heading_strips(panel)
    section = Section(f"{panel.side.capitalize()} panel", panel.style, tuple(blocks), (drawing,))
    return Ticket("Bench ticket", stamp(panel.made_with), (section,))


def stamp(made_with: MadeWith) -> str:
    """Say what figures were made with."""
    styles = ", ".join(f"{style} ({package})" for style, package in made_with.styles.items())
    return f"Made with pleatwright {made_with.pleatwright}; {styles}"


def _job(reply: EstimateReply) -> Iterator[Block]:
    units = reply.units
    rows = tuple(
        (
            str(number),
            name(window.label),
            window.style,
            name(window.fabric),
            " + ".join(f"{told(panel.finished_width, units)}" for panel in window.panels),
            told(window.panels[0].finished_length, units),
        )
        for number, window in enumerate(reply.windows, 1)
    )
    yield Table(
        f"Windows, in {UNITS_IN_WORDS[units]}",
        ("", "window", "style", "cloth", "finished wide", "long"),
        rows,
        ticked=True,
        wide=(1, 3),
    )
    yield Table(
        "To order and lay out",
        ("what", "how much"),
        tuple(material_lines(reply.materials, units)),
        ticked=True,
        wide=(0, 1),
    )
    yield Notes("Cautions", tuple(caution.detail for caution in reply.cautions), urgent=True)
    tolerance = f"Finished sizes hold within {told(reply.tolerance, units)} either way."
    if reply.assumed:
        yield Notes("Assumed, since the job does not say", tuple(_assumed(reply)))
    yield Notes("Figures", (f"Every length is in {UNITS_IN_WORDS[units]} unless it says otherwise. {tolerance}",))


def _assumed(reply: EstimateReply) -> Iterator[str]:
    """Yield in words what was taken, window by window: /windows/0/make_up/side_hem is its make up side hem."""
    taken: dict[str, list[str]] = {}
    for each in reply.assumed:
        own = _OF_WINDOW.fullmatch(each.at)
        of = f"Window {int(own[1]) + 1}: " if own else ""
        words = (own[2] if own else each.at[1:]).replace("/", " ").replace("_", " ")
        words = clean(words.replace("~1", "/").replace("~0", "~"))
        taken.setdefault(of, []).append(f"{words} {assumed_text(each, reply.units)}")
    yield from (f"{of}{'; '.join(those)}" for of, those in taken.items())


def _fabric(fabric: FabricOrder, units: Units) -> Section:
    blocks: list[Block] = []
    if fabric.shelf:
        lines = tuple(shelf_lines(fabric.shelf, units))
        blocks += [Notes("The shelf", lines, urgent=True)] if lines else []
    if fabric.shelf and fabric.shelf.bolts:
        blocks += list(_bolts(fabric.shelf, units))
    else:
        blocks.append(_cut_list("Cuts, in the order of cutting", fabric.sequence, units))
    summary = f"{counted(fabric.cuts, 'cut')}, {told(fabric.run_length, units)} in one run; order {fabric.quantity}"
    return Section(
        f"Cutting: {name(fabric.fabric)}", summary, tuple(blocks), (drawings.cut_plan(fabric, units),), lying=True
    )


def _bolts(shelf: ShelfFigures, units: Units) -> Iterator[Block]:
    for bolt in shelf.bolts:
        lot = f", lot {name(bolt.lot)}" if bolt.lot else ""
        caption = f"From piece {name(bolt.bolt)}{lot}, {told(bolt.left_over, units)} left over"
        yield _cut_list(caption, bolt.cuts, units)


def _layer(layer: LayerOrder, units: Units) -> Section:
    called = f"{layer.layer}{f', {name(layer.cloth)}' if layer.cloth else ''}"
    return Section(
        f"Cutting: {called}",
        f"{counted(layer.cuts, 'cut')}; order {layer.quantity}",
        (_cut_list("Cuts, in the order of cutting", layer.sequence, units),),
        (drawings.layer_plan(layer, units),),
        lying=True,
    )


def _cut_list(caption: str, places: Sequence[CutPlace], units: Units) -> Table:
    rows = tuple(
        (
            f"cut {place.cut}",
            told(place.start, units),
            told(place.end, units),
            told(place.end - place.start, units),
            told(place.phase, units),
            "; ".join(piece_text(piece, name) for piece in place.pieces or ()),
        )
        for place in places
    )
    return Table(
        f"{caption}, in {UNITS_IN_WORDS[units]}",
        ("cut", "from", "to", "long", "phase", "for"),
        rows,
        ticked=True,
        wide=(5,),
    )


def _window(window: EstimatedWindow, units: Units) -> Iterator[Block]:
    cures = [cure.detail for panel in window.panels for cure in panel.pleats.cures]
    if window.cautions or cures:
        yield Notes("Look at this first", (*(each.detail for each in window.cautions), *cures), urgent=True)
    alike = _alike(window.panels)
    for panel in window.panels[:1] if alike else window.panels:
        yield from panel_blocks(panel, units, alike=alike)
    hang = window.hang
    rows = [(HEIGHT_NAMES[each.point], told(each.height, units)) for each in hang.heights]
    yield Facts(f"Heights from the {hang.measured_from}", tuple(rows), across=4)
    yield Facts("Rod, and what is behind the face", tuple(_behind(window, units)))
    yield Ticks("Done", _CHECKS)


def _alike(panels: Sequence[EstimatedPanel]) -> bool:
    """Tell whether two panels are the same but for their side."""
    return len(panels) == 2 and all(
        getattr(panels[0], field) == getattr(panels[1], field)
        for field in EstimatedPanel.__struct_fields__
        if field != "side"
    )


def _behind(window: EstimatedWindow, units: Units) -> Iterator[tuple[str, str]]:
    rod = window.rod
    yield "face of the rod", told(rod.width, units)
    yield "with its returns", told(rod.length, units)
    yield from _each([(each.side, "stacks in", told(each.stack, units)) for each in rod.stacks])
    yield from _each([(each.side, "hangs on", hangs_on(each)) for each in rod.sliders])
    for layer in window.materials.layers:
        widths = " + ".join(f"{each:g}" for each in layer.widths)
        yield layer.layer, f"{widths} widths, {counted(layer.cuts, 'cut')} of {told(layer.cut_length, units)}"
    if window.weight:
        yield "weight in all", f"{window.weight.total:g} {window.weight.units}"


def _each(told: Sequence[tuple[Side, str, str]]) -> Iterator[tuple[str, str]]:
    """Yield what is told of each panel; once, where it is the same of both."""
    if len(told) == 2 and told[0][1:] == told[1][1:]:
        yield f"each panel {told[0][1]}", told[0][2]
    else:
        yield from ((f"{side} panel {word}", value) for side, word, value in told)


def _drawn(
    window: EstimatedWindow, reply: EstimateReply, headings: Mapping[str, HeadingFigures]
) -> Iterator[drawings.Drawing]:
    units = reply.units
    yield from (drawings.panel_flat(window, panel, units) for panel in window.panels)
    yield drawings.heading_section(headings[window.style])
    yield drawings.hang_section(window, reply.windows, units)
    yield from (drawings.panel_finished(window, panel, units) for panel in window.panels)
