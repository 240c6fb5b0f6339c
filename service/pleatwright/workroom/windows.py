"""One window, read onto the grid and worked out: its panels, pleats, pins and cuts."""

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from pleatwright.contract.requests import Lining, Window
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made
from pleatwright.headings.options import HeadingOptions
from pleatwright.trade import pins as trade_pins
from pleatwright.trade.cuts import Served, WindowCuts, cuts_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import FlatAsked, Panel, panels
from pleatwright.trade.repeat import Run, shortest_run
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth, LiningCloth
from pleatwright.workroom.laying import FlatPanel, flat_of, lay_out
from pleatwright.workroom.panelling import read_fullness, read_hang, read_make_up, read_rod
from pleatwright.workroom.pleating import read_pin
from pleatwright.workroom.reader import Reader


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
    lining: LiningCloth | None
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

    @property
    def pins(self) -> int:
        """Pins or hooks of all the panels."""
        return 0 if self.pin_depth is None else sum(len(each.hanging_points) for each in self.laid_out)

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
    make_up = read_make_up(reader.under("make_up"), window.make_up, made)
    asked = read_fullness(reader, window.fullness, made, rod)
    lining = _read_lining(reader.under("lining"), window.lining) if window.lining else None
    rise, edge_inset = read_pin(reader.under("pin"), window.pin, made)
    division = reader.positive(window.mark, "mark", usual=usual.MARK)
    if made is None or fabric is None:
        return None
    return ReadWindow(window, reader, rod, hang, fabric, made, asked, make_up, lining, rise, edge_inset, division)


def _read_lining(reader: Reader, lining: Lining) -> LiningCloth:
    return LiningCloth(
        shorter=reader.length(lining.shorter, "shorter", usual=usual.LINING_SHORTER),
        bottom_hem=reader.length(lining.bottom_hem, "bottom_hem", usual=usual.LINING_HEM),
        top_turning=reader.length(lining.top_turning, "top_turning", usual=usual.LINING_TURNING),
        increment=reader.positive(lining.increment, "increment", usual=usual.INCREMENT),
    )


def make_window(read: ReadWindow, measured: list[Panel], first_phase: Fraction, most_work: int) -> MadeWindow:
    """Work a window out from its panels, whose first widths start at a phase of the pattern.

    Raises Impossible with every fault of its heading, pins and lining.
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
    if read.lining and read.hang.finished_length <= read.lining.shorter:
        faults.append(_no_lining(read.hang.finished_length, read.lining))
    if faults:
        raise Impossible(*faults)
    cuts = WindowCuts(measured, first_phase, read.division)
    wanted, served = cuts_of([cuts], read.fabric.pattern)
    run = shortest_run(wanted, read.fabric.vertical_repeat, read.fabric.drop)
    panels_laid_out = [laid_out[flat_panel(read, panel)] for panel in measured]
    return MadeWindow(read, measured, panels_laid_out, depth, run, cuts, served)


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
            found[number] = Fraction(_own_phase(window) % repeat)
            references.setdefault(window.request.fabric, (found[number], window))
        else:
            phase, other = first
            found[number] = (phase + _top(other) - _top(window)) % repeat
    return found


def _own_phase(window: ReadWindow) -> int:
    """Return the phase at the top of the cuts with which the motif stands where it is asked to."""
    motif = window.fabric.motif
    if motif is None:
        return 0
    turning = window.make_up.top_turning
    if motif.below_heading is not None:
        return motif.at - motif.below_heading - turning
    return motif.at + motif.height + (motif.above_hem or 0) - turning - window.hang.finished_length


def _top(window: ReadWindow) -> int:
    """Return the height of the top of a window's cuts: above the floor, or above its own heading."""
    if window.fabric.level == "window":
        return window.make_up.top_turning
    return window.make_up.top_turning + window.hang.carrying_height + window.hang.heading_above


def panels_of(read: ReadWindow, make_up: MakeUp) -> list[Panel]:
    """Return the window's panels, made up so."""
    return panels(read.rod, read.hang, read.fabric.width, read.fabric.selvage, read.asked, make_up)


def flat_panel(read: ReadWindow, panel: Panel) -> FlatPanel:
    """Return one of the window's panels as it lies flat."""
    return flat_of(
        panel,
        forgiven=read.reader.usual(usual.FORGIVEN),
        pleat_count=read.request.pleat_count,
        edge_inset=read.edge_inset,
        division=read.division,
    )


def _no_lining(finished_length: int, lining: LiningCloth) -> Fault:
    return Fault(
        ("lining", "shorter"),
        "this leaves nothing of the lining: it must be less than the panel's finished length",
        "{shorter}",
        "less than {length}",
        {"shorter": lining.shorter, "length": finished_length},
    )
