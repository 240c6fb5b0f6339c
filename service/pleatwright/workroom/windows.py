"""One window, read onto the grid and worked out: its panels, pleats, pins and cuts."""

import textwrap
from collections.abc import Mapping, Sequence

from msgspec import UNSET, Struct, UnsetType
from msgspec.structs import replace

from pleatwright.contract.requests import Window
from pleatwright.contract.sewing import Layer
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import Exact, seen
from pleatwright.trade.behind import hang_behind, sheer_faults
from pleatwright.trade.cuts import Served, WindowCuts, cuts_of
from pleatwright.trade.hang_section import HangSection, PinSet, hang_section, section_faults
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import MOST_WIDTHS, FlatAsked, Panel, Side
from pleatwright.trade.repeat import Run, Wanted, shortest_run
from pleatwright.trade.sewing import LayerCloth, LayerName, layer_panel
from pleatwright.trade.stack import Glass
from pleatwright.trade.weight import HemWeights
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.hanging import pin_set
from pleatwright.workroom.laying import FlatPanel, flat_of, lay_out
from pleatwright.workroom.measured import ReadPin, read_hang, read_heading_above, read_pin, read_rod
from pleatwright.workroom.panelling import panels_in, read_fullness
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.rods import read_glass
from pleatwright.workroom.sewing import LayerOfWindow, layer_of_window, read_hem_weights, read_layers, read_make_up


class ReadWindow(Struct, frozen=True):
    """One window's figures on the grid.

    A sheer hangs `behind` the over-drapery of another window. `halves_by_side` are the half widths of its panels and
    `pleats_by_side` their counts of pleats, where ways to make it are compared. It `has_unusual_fullness` where nobody
    asked for one and the usual one cannot be had in its cloth.
    """

    request: Window[HeadingOptions]
    label: str
    reader: Reader
    rod: Rod
    hang: Hang
    fabric: FaceCloth
    made: Made
    asked: FlatAsked
    make_up: MakeUp
    layers: list[LayerCloth]
    hem_weights: HemWeights | None
    pin: ReadPin
    glass: Glass | None
    division: int
    behind: "ReadWindow | None"
    halves_by_side: Mapping[Side, int] | None = None
    pleats_by_side: Mapping[Side, int] | None = None
    has_unusual_fullness: bool = False


class MadeWindow(Struct, frozen=True):
    """One window, worked out: `flats` are its panels as they lie flat, and `run` its cuts by themselves.

    Of `twins` the second panel is as the first but for its side, and what holds for one holds for both.
    """

    read: ReadWindow
    panels: list[Panel]
    flats: list[FlatPanel]
    laid_out: list[LaidOut]
    section: HangSection
    pin: PinSet | None
    cuts: WindowCuts
    wanted: list[Wanted]
    served: list[list[Served]]
    run: Run
    layers: list[LayerOfWindow]
    twins: bool

    @property
    def pins(self) -> int:
        """Pins or hooks of all the panels."""
        return sum(len(each.hanging_points) for each in self.laid_out) if self.pin else 0


def read_window(
    reader: Reader,
    window: Window[HeadingOptions],
    label: str,
    fabrics: dict[str, FaceCloth],
    headings: Headings,
    over: ReadWindow | None,
) -> ReadWindow | None:
    """Read one window, a sheer behind `over` perhaps.

    None, with its faults remembered, when its heading, its fabric or its heights cannot be used.
    """
    made = reader.made(headings, window.heading)
    fabric = fabrics.get(window.fabric)
    if fabric is None:
        reader.fault(
            Fault(
                ("fabric",),
                "neither the job nor a rate book describes a fabric of this name: add it to the job's fabrics, or name "
                "another",
                window.fabric,
                textwrap.shorten(", ".join(sorted(fabrics)), 200, placeholder=" …") or None,
            )
        )
    rod = read_rod(reader.under("rod"), window.rod, made)
    mount = window.hang.mount if window.hang else None
    pin = read_pin(reader.under("pin"), window.pin, made, mount)
    hang = _read_hang(reader, window, made, pin, over)
    make_up = read_make_up(reader.under("make_up"), window.make_up, made, fabric)
    asked = read_fullness(reader, window.fullness, made, rod)
    given: dict[LayerName, Layer | None] = {
        "lining": read_lining(reader, window.lining),
        "interlining": window.interlining,
        "blackout": window.blackout,
    }
    layers = read_layers(reader, given, fabric)
    glass = read_glass(reader.under("glass"), window.glass) if window.glass else None
    division = reader.positive(window.mark, "mark", usual=usual.MARK)
    if made is None or fabric is None or hang is None:
        return None
    hem_weights = read_hem_weights(window.make_up.hem_weights)
    read = ReadWindow(
        window, label, reader, rod, hang, fabric, made, asked, make_up, layers, hem_weights, pin, glass, division, over
    )
    if over and hang.measured_from == over.hang.measured_from:
        reader.fault(*sheer_faults(_section(read), _section(over)))
    elif over:
        reader.fault(_measured_apart(hang, over.hang))
    return read


def _measured_apart(sheer: Hang, over: Hang) -> Fault:
    return Fault(
        ("hang",),
        f"heights from the {sheer.measured_from} cannot be set beside the over-drapery's from the "
        f"{over.measured_from}: measure both from the floor, or leave this out and have the sheer follow the other",
        f"measured from the {sheer.measured_from}",
        f"measured from the {over.measured_from}, or null",
    )


def read_lining(reader: Reader, lining: Layer | UnsetType | None) -> Layer | None:
    """Return the lining; none, remembered as assumed, where the request does not say."""
    if lining is UNSET:
        reader.word(None, "lining", usual="none")
        return None
    return lining


def _read_hang(
    reader: Reader, window: Window[HeadingOptions], made: Made | None, pin: ReadPin, over: ReadWindow | None
) -> Hang | None:
    """Read a window's heights; a sheer's without any follow from its over-drapery."""
    if window.hang and window.behind:
        for field in ("lower_at_heading", "shorter_at_hem"):
            if (given := getattr(window.behind, field)) is not None:
                detail = "the sheer has heights of its own: leave this out, or those"
                reader.fault(Fault(("behind", field), detail, seen(given), "null"))
    if window.hang:
        return read_hang(reader.under("hang"), window.hang, made, pin)
    if window.behind is None:
        reader.fault(Fault(("hang",), "the window's heights are missing: add them", "none", "a hang"))
        return None
    inner = reader.under("behind")
    lower = inner.length(window.behind.lower_at_heading, "lower_at_heading", usual=usual.LOWER_AT_HEADING)
    shorter = inner.length(window.behind.shorter_at_hem, "shorter_at_hem", usual=usual.SHORTER_AT_HEM)
    if over is None:
        return None
    above = read_heading_above(reader.under("hang"), None, made, pin)
    sheer = hang_behind(over.hang, above, lower, shorter)
    return replace(sheer, drawn_up=made.drawn_up, heading_depth=made.depth) if made else sheer


def _section(read: ReadWindow) -> HangSection:
    return hang_section(read.hang)


def make_window(read: ReadWindow, measured: list[Panel], first_phase: Exact, most_work: int) -> MadeWindow:
    """Work a window out from its panels, whose first widths start at a phase of the pattern.

    Raises Impossible with every fault of its heading, pins and layers.
    """
    faults: list[Fault] = []
    flats = [flat_panel(read, panel) for panel in measured]
    twins = len(measured) == 2 and flats[0] == flats[1] and measured[1].mirrors(measured[0])
    laid_out: dict[FlatPanel, LaidOut] = {}
    for flat in dict.fromkeys(flats):
        try:
            laid_out[flat] = lay_out(read.made, flat, most_work)
        except Impossible as impossible:
            faults += [fault for fault in impossible.faults if fault not in faults]
    pin = None
    try:
        pin = pin_set(read.made, read.hang, read.pin, read.division)
    except Impossible as impossible:
        faults += impossible.faults
    section = hang_section(read.hang, pin)
    faults += section_faults(section)
    layers = []
    for layer in read.layers:
        try:
            first = layer_panel(measured[0], layer)
            others = (
                [replace(first, side=measured[1].side)]
                if twins
                else [layer_panel(each, layer) for each in measured[1:]]
            )
            panels = [first, *others]
            layers.append(layer_of_window(layer, panels, read.division, read.label))
        except Impossible as impossible:
            faults += impossible.faults
    if faults:
        raise Impossible(*faults)
    cuts = WindowCuts(measured, first_phase, read.division)
    wanted, served = cuts_of([cuts], read.fabric.pattern)
    run = shortest_run(wanted, read.fabric.vertical_repeat, read.fabric.drop)
    its = [laid_out[flat] for flat in flats]
    return MadeWindow(read, measured, flats, its, section, pin, cuts, wanted, served, run, layers, twins)


def first_phases(windows: Sequence[ReadWindow]) -> dict[int, Exact]:
    """Return the phase at which each window's first widths start, by the window's place, for all fabrics.

    The pattern of a fabric stands where its motif is asked to, or starts with the first window's cuts. On the other
    windows of the room it stands at the same height above the floor, or at the same distance below their headings.
    """
    found: dict[int, Exact] = {}
    references: dict[str, tuple[Exact, ReadWindow]] = {}
    for number, window in enumerate(windows):
        fabric, repeat = window.fabric, window.fabric.vertical_repeat
        first = references.get(window.request.fabric)
        if not repeat:
            found[number] = 0
        elif first is None or (fabric.level == "window" and fabric.motif):
            found[number] = own_phase(fabric, window.make_up, window.hang.finished_length)
            references.setdefault(window.request.fabric, (found[number], window))
        else:
            phase, other = first
            found[number] = (phase + _unshrunk(fabric, _top(other) - _top(window))) % repeat
    return found


def own_phase(fabric: FaceCloth, make_up: MakeUp, finished_length: int) -> int:
    """Return the phase at the top of the cuts with which the motif stands where it is asked to; 0 if none is."""
    motif, repeat = fabric.motif, fabric.vertical_repeat
    if motif is None or not repeat:
        return 0
    if motif.below_heading is not None:
        return (motif.at - _unshrunk(fabric, motif.below_heading + make_up.top_turning)) % repeat
    hem = make_up.top_turning + finished_length
    return (motif.at + motif.height - _unshrunk(fabric, hem - (motif.above_hem or 0))) % repeat


def _unshrunk(fabric: FaceCloth, length: int) -> int:
    """Return how long a finished length is on the cloth before it is shrunk, to the nearest grid unit."""
    return round(length / (1 - fabric.shrinks_long))


def _top(window: ReadWindow) -> int:
    """Return the height of the top of a window's cuts: above the floor, or above its own heading."""
    if window.fabric.level == "window":
        return window.make_up.top_turning
    return window.make_up.top_turning + window.hang.carrying_height + window.hang.heading_above


def panels_of(read: ReadWindow, make_up: MakeUp) -> list[Panel]:
    """Return the window's panels, made up so."""
    if read.halves_by_side is None:
        return panels_in(read.fabric, read.rod, read.hang, read.asked, make_up)
    found = []
    for side, halves in read.halves_by_side.items():
        if not 0 < halves <= 2 * MOST_WIDTHS:
            detail = f"a panel has at least half a width, and up to {MOST_WIDTHS}"
            raise Impossible(Fault(("make_up", "width_count"), detail))
        panels = panels_in(read.fabric, read.rod, read.hang, read.asked, replace(make_up, halves=halves))
        found += [panel for panel in panels if panel.side == side]
    return found


def flat_panel(read: ReadWindow, panel: Panel) -> FlatPanel:
    """Return one of the window's panels as it lies flat."""
    return flat_of(
        panel,
        forgiven=read.reader.usual(usual.FORGIVEN),
        pleat_count=read.pleats_by_side[panel.side] if read.pleats_by_side else read.request.pleat_count,
        edge_inset=read.pin.edge_inset,
        division=read.division,
    )
