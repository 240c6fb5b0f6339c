"""One window, read onto the grid and worked out: its panels, pleats, pins and cuts."""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from pleatwright.contract.replies import PieceServed
from pleatwright.contract.requests import Lining, Window
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.contract import Pleat, PleatOptions
from pleatwright.headings.host import Headings
from pleatwright.trade import pins as trade_pins
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.panel import Panel, panels
from pleatwright.trade.repeat import Run, shortest_run
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth, LiningCloth
from pleatwright.workroom.panelling import fraction, read_hang, read_make_up, read_rod
from pleatwright.workroom.pleating import FlatPieces, Pleated, lay_out, read_pin
from pleatwright.workroom.reader import Reader


@dataclass(frozen=True, slots=True)
class ReadWindow:
    """One window's figures on the grid."""

    request: Window[PleatOptions]
    reader: Reader
    rod: Rod
    hang: Hang
    fabric: FaceCloth
    pleat: Pleat
    make_up: MakeUp
    lining: LiningCloth | None
    rise: int
    edge_inset: int
    division: int


@dataclass(frozen=True, slots=True)
class MadeWindow:
    """One window, worked out."""

    read: ReadWindow
    panels: list[Panel]
    pleated: list[Pleated]
    pin_depth: int
    pins: list[list[trade_pins.Pin]]
    run: Run
    served: list[list[PieceServed]]

    @property
    def lining_cut(self) -> int:
        """Length of one cut of lining, 0 for an unlined window."""
        lining = self.read.lining
        if lining is None:
            return 0
        return self.read.hang.finished_length - lining.shorter + lining.bottom_hem + lining.top_turning

    @property
    def cuts(self) -> int:
        """Cuts of plain cloth that serve all the panels, two half widths from one cut."""
        return -(-sum(panel.halves for panel in self.panels) // 2)


def read_window(
    reader: Reader, window: Window[PleatOptions], fabrics: dict[str, FaceCloth], headings: Headings
) -> ReadWindow | None:
    """Read one window; None, with its faults remembered, when its heading or its fabric cannot be used."""
    pleat = reader.pleat(headings, window.heading)
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
    rod = read_rod(reader.under("rod"), window.rod)
    hang = read_hang(reader.under("hang"), window.hang)
    make_up = read_make_up(reader.under("make_up"), window.make_up, pleat)
    lining = _read_lining(reader.under("lining"), window.lining) if window.lining else None
    rise, edge_inset = read_pin(reader.under("pin"), window.pin)
    division = reader.positive(window.mark, "mark", usual=usual.MARK)
    if pleat is None or fabric is None:
        return None
    return ReadWindow(window, reader, rod, hang, fabric, pleat, make_up, lining, rise, edge_inset, division)


def _read_lining(reader: Reader, lining: Lining) -> LiningCloth:
    return LiningCloth(
        shorter=reader.length(lining.shorter, "shorter", usual=usual.LINING_SHORTER),
        bottom_hem=reader.length(lining.bottom_hem, "bottom_hem", usual=usual.LINING_HEM),
        top_turning=reader.length(lining.top_turning, "top_turning", usual=usual.LINING_TURNING),
        increment=reader.positive(lining.increment, "increment", usual=usual.INCREMENT),
    )


def make_window(read: ReadWindow, measured: list[Panel], most_work: int) -> MadeWindow:
    """Work a window out from its panels. Raises Impossible with every fault of its pleats, pins and lining."""
    faults: list[Fault] = []
    laid_out: dict[Cloth, Pleated] = {}
    for panel in measured:
        cloth = cloth_of(read, panel)
        if cloth in laid_out:
            continue
        try:
            flat = FlatPieces(panel.leading_return, panel.overlap, panel.return_)
            laid_out[cloth] = lay_out(cloth, flat, read.division, most_work)
        except Impossible as impossible:
            faults += [fault for fault in impossible.faults if fault not in faults]
    try:
        depth = trade_pins.pin_depth(read.hang.heading_above, read.rise, read.pleat.buckram_depth)
    except Impossible as impossible:
        faults += impossible.faults
    if read.lining and read.hang.finished_length <= read.lining.shorter:
        faults.append(_no_lining(read.hang.finished_length, read.lining))
    if faults:
        raise Impossible(*faults)
    phases, served = _pieces(measured, read.fabric)
    run = shortest_run(measured[0].cut_length, phases, read.fabric.vertical_repeat, read.fabric.drop)
    pleated = [laid_out[cloth_of(read, panel)] for panel in measured]
    pins = [trade_pins.pins(each.stations, read.edge_inset) for each in pleated]
    return MadeWindow(read, measured, pleated, depth, pins, run, served)


def panels_of(read: ReadWindow, make_up: MakeUp) -> list[Panel]:
    """Return the window's panels, made up so."""
    fabric, fullness = read.fabric, fraction(read.request.fullness)
    return panels(read.rod, read.hang, fabric.width, fabric.selvage, fullness, make_up)


def cloth_of(read: ReadWindow, panel: Panel) -> Cloth:
    """Return a panel as flat cloth to be pleated."""
    return Cloth(
        flat_width=panel.flat_width,
        finished_width=panel.finished_width,
        leading=panel.leading_return + panel.overlap,
        trailing=panel.return_,
        seams=panel.seams,
        take_up=read.pleat.take_up,
        space=read.pleat.space,
        forgiven=read.reader.usual(usual.FORGIVEN),
        pleat_count=read.request.pleat_count,
    )


def _no_lining(finished_length: int, lining: LiningCloth) -> Fault:
    return Fault(
        ("lining", "shorter"),
        "this leaves nothing of the lining: it must be less than the panel's finished length",
        "{shorter}",
        "less than {length}",
        {"shorter": lining.shorter, "length": finished_length},
    )


def _pieces(panels: Sequence[Panel], fabric: FaceCloth) -> tuple[list[int], list[list[PieceServed]]]:
    """Return each cut's drops of the pattern, and the widths that it serves.

    Every panel starts its pattern at one height at its leading edge. From there a right panel goes on to the right,
    each width a drop lower, and a left panel to the left, each width a drop higher. A cut that is split serves two half
    widths that start at the same phase.
    """
    phases, served = [], []
    steps = fabric.drop.denominator if fabric.vertical_repeat else 1
    split: dict[int, list[PieceServed]] = {}
    for panel in panels:
        onward = 1 if panel.side == "right" else -1
        for width in range(panel.pieces):
            half = width == panel.pieces - 1 and panel.halves % 2 == 1
            piece = PieceServed(panel=panel.side, width=width + 1, half=half)
            phase = onward * width % steps
            if half and (other := split.pop(phase, None)):
                other.append(piece)
                continue
            phases.append(phase)
            served.append([piece])
            if half:
                split[phase] = served[-1]
    return phases, served
