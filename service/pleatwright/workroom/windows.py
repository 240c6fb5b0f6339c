"""One window, read onto the grid and worked out: its panels, pleats, pins and cuts."""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.contract.requests import Window
from pleatwright.contract.sewing import Layer
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made
from pleatwright.headings.options import HeadingOptions
from pleatwright.trade import pins as trade_pins
from pleatwright.trade.cuts import Served, WindowCuts, cuts_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import FlatAsked, Panel
from pleatwright.trade.repeat import Run, shortest_run
from pleatwright.trade.sewing import LayerCloth, LayerName, layer_panel
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import FlatPanel, flat_of, lay_out
from pleatwright.workroom.panelling import panels_in, read_fullness, read_hang, read_rod
from pleatwright.workroom.pleating import read_pin
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sewing import LayerOfWindow, read_layer, read_make_up


@dataclass(frozen=True, slots=True)
class ReadWindow:
    """One window's figures on the grid."""

    request: Window[HeadingOptions]
    reader: Reader
    rod: Rod
    hang: Hang
    fabric: FaceCloth
    made: Made
    asked: FlatAsked
    make_up: MakeUp
    layers: list[LayerCloth]
    rise: int
    edge_inset: int
    division: int


@dataclass(frozen=True, slots=True)
class MadeWindow:
    """One window, worked out."""

    read: ReadWindow
    panels: list[Panel]
    laid_out: list[LaidOut]
    pin_depth: int | None
    run: Run
    cuts_wanted: WindowCuts
    served: list[list[Served]]
    layers: list[LayerOfWindow]

    @property
    def pins(self) -> int:
        """Pins or hooks of all the panels."""
        return 0 if self.pin_depth is None else sum(len(each.hanging_points) for each in self.laid_out)


def read_window(
    reader: Reader, window: Window[HeadingOptions], fabrics: dict[str, FaceCloth], headings: Headings
) -> ReadWindow | None:
    """Read one window; None, with its faults remembered, when its heading or its fabric cannot be used."""
    made = reader.made(headings, window.heading)
    fabric = fabrics.get(window.fabric)
    if fabric is None:
        reader.fault(
            Fault(
                ("fabric",),
                "the job has no fabric of this name: name one of its fabrics, or add it to them",
                window.fabric,
                textwrap.shorten(", ".join(sorted(fabrics)), 200, placeholder=" …"),
            )
        )
    rod = read_rod(reader.under("rod"), window.rod, made)
    hang = read_hang(reader.under("hang"), window.hang, made)
    make_up = read_make_up(reader.under("make_up"), window.make_up, made, fabric)
    asked = read_fullness(reader, window.fullness, made, rod)
    given: dict[LayerName, Layer | None] = {
        "lining": window.lining,
        "interlining": window.interlining,
        "blackout": window.blackout,
    }
    layers = [read_layer(reader.under(name), name, layer) for name, layer in given.items() if layer]
    rise, edge_inset = read_pin(reader.under("pin"), window.pin, made)
    division = reader.positive(window.mark, "mark", usual=usual.MARK)
    if made is None or fabric is None:
        return None
    return ReadWindow(window, reader, rod, hang, fabric, made, asked, make_up, layers, rise, edge_inset, division)


def make_window(read: ReadWindow, measured: list[Panel], first_phase: Fraction, most_work: int) -> MadeWindow:
    """Work a window out from its panels, whose first widths start at a phase of the pattern.

    Raises Impossible with every fault of its heading, pins and layers.
    """
    faults: list[Fault] = []
    laid_out: dict[FlatPanel, LaidOut] = {}
    for flat in dict.fromkeys(flat_panel(read, panel) for panel in measured):
        try:
            laid_out[flat] = lay_out(read.made, flat, most_work)
        except Impossible as impossible:
            faults += [fault for fault in impossible.faults if fault not in faults]
    depth = None
    if read.made.is_pinned:
        try:
            depth = trade_pins.pin_depth(read.hang.heading_above, read.rise, read.made.depth)
        except Impossible as impossible:
            faults += impossible.faults
    layers = []
    for layer in read.layers:
        try:
            panels = [layer_panel(panel, layer) for panel in measured]
            layers.append(LayerOfWindow(layer, panels, read.division, read.request.label))
        except Impossible as impossible:
            faults += impossible.faults
    if faults:
        raise Impossible(*faults)
    cuts = WindowCuts(measured, first_phase, read.division)
    wanted, served = cuts_of([cuts], read.fabric.pattern)
    run = shortest_run(wanted, read.fabric.vertical_repeat, read.fabric.drop)
    panels_laid_out = [laid_out[flat_panel(read, panel)] for panel in measured]
    return MadeWindow(read, measured, panels_laid_out, depth, run, cuts, served, layers)


def first_phases(windows: Sequence[ReadWindow]) -> dict[int, Fraction]:
    """Return the phase at which each window's first widths start, by the window's place, for all fabrics.

    The pattern of a fabric stands where its motif is asked to, or starts with the first window's cuts. On the other
    windows of the room it stands at the same height above the floor, or at the same distance below their headings.
    """
    found: dict[int, Fraction] = {}
    references: dict[str, tuple[Fraction, ReadWindow]] = {}
    for number, window in enumerate(windows):
        fabric, repeat = window.fabric, window.fabric.vertical_repeat
        first = references.get(window.request.fabric)
        if not repeat:
            found[number] = Fraction(0)
        elif first is None or (fabric.level == "window" and fabric.motif):
            found[number] = own_phase(fabric, window.make_up, window.hang.finished_length)
            references.setdefault(window.request.fabric, (found[number], window))
        else:
            phase, other = first
            found[number] = (phase + _unshrunk(fabric, _top(other) - _top(window))) % repeat
    return found


def own_phase(fabric: FaceCloth, make_up: MakeUp, finished_length: int) -> Fraction:
    """Return the phase at the top of the cuts with which the motif stands where it is asked to; 0 if none is."""
    motif, repeat = fabric.motif, fabric.vertical_repeat
    if motif is None or not repeat:
        return Fraction(0)
    if motif.below_heading is not None:
        return (motif.at - _unshrunk(fabric, motif.below_heading + make_up.top_turning)) % repeat
    hem = make_up.top_turning + finished_length
    return (motif.at + motif.height - _unshrunk(fabric, hem - (motif.above_hem or 0))) % repeat


def _unshrunk(fabric: FaceCloth, length: int) -> Fraction:
    """Return how long a finished length is on the cloth before it is shrunk, to the nearest grid unit."""
    return Fraction(round(length / (1 - fabric.shrinks_long)))


def _top(window: ReadWindow) -> int:
    """Return the height of the top of a window's cuts: above the floor, or above its own heading."""
    if window.fabric.level == "window":
        return window.make_up.top_turning
    return window.make_up.top_turning + window.hang.carrying_height + window.hang.heading_above


def panels_of(read: ReadWindow, make_up: MakeUp) -> list[Panel]:
    """Return the window's panels, made up so."""
    return panels_in(read.fabric, read.rod, read.hang, read.asked, make_up)


def flat_panel(read: ReadWindow, panel: Panel) -> FlatPanel:
    """Return one of the window's panels as it lies flat."""
    return flat_of(
        panel,
        forgiven=read.reader.usual(usual.FORGIVEN),
        pleat_count=read.request.pleat_count,
        edge_inset=read.edge_inset,
        division=read.division,
    )
