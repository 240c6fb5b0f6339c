"""A whole job worked out: its windows, what they take, and the cloth for all of them."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Final, get_args

import msgspec
from msgspec import Struct
from msgspec.structs import replace

from pleatwright.contract.cloth import Fabric
from pleatwright.contract.requests import EstimateRequest, Window
from pleatwright.contract.sewing import Layer
from pleatwright.faults import Fault, Impossible, Path
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import Exact
from pleatwright.pricing.book import RateBook
from pleatwright.trade.cuts import Served, cuts_of
from pleatwright.trade.layout import MOST_WORK
from pleatwright.trade.panel import MOST_WIDTHS, Panel
from pleatwright.trade.repeat import Run, Wanted, order_quantity, shortest_run
from pleatwright.trade.sewing import LayerName
from pleatwright.workroom.fabrics import read_fabric
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sundries import Sundries, sundries_of
from pleatwright.workroom.together import read_windows
from pleatwright.workroom.windows import MadeWindow, ReadWindow, first_phases, make_window, panels_of
from pleatwright.workroom.work import Work

MOST_PIECES: Final = 15 * MOST_WIDTHS
"""Widths of cloth in one job: room for a small hotel, and a bound on the work one request can ask for."""
LAYER_NAMES: Final[tuple[LayerName, ...]] = get_args(LayerName)

Adjust = Callable[[ReadWindow], ReadWindow]


class FabricRun(Struct, frozen=True):
    """One fabric for all its windows: every cut in one run, and what to order of it."""

    name: str
    fabric: FaceCloth
    windows: Sequence[MadeWindow]
    wanted: Sequence[Wanted]
    served: Sequence[Sequence[Served]]
    run: Run

    @property
    def ordered(self) -> int:
        """The run raised to whole increments of the seller's."""
        return order_quantity(self.run.length, self.fabric.increment)


class Job(Struct, frozen=True):
    """A job worked out."""

    reader: Reader
    windows: Sequence[MadeWindow]
    sundries: Sequence[Sundries]
    fabrics: Sequence[FabricRun]


def work_out(
    reader: Reader,
    request: EstimateRequest[HeadingOptions],
    headings: Headings,
    book: RateBook | None,
    adjust: Adjust | None = None,
) -> Work[Job]:
    """Work the windows of a job out, one after the other; each is adjusted first, where that is asked for.

    Raises Impossible with every fault there is.
    """
    fabrics = read_fabrics(reader, request, book)
    windows = [_with_masses(window, book) for window in request.windows] if book else request.windows
    read = yield from read_windows(reader, windows, fabrics, headings)
    reader.check()
    measured = []
    for window in read:
        assert window is not None, "a window that cannot be read has left a fault"
        with window.reader.remembering(_place_of_fabric(window, request)):
            asked = adjust(window) if adjust else window
            measured.append((asked, panels_of(asked, asked.make_up)))
    if sum(panel.pieces for _, panels in measured for panel in panels) > MOST_PIECES:
        allowed = f"up to {MOST_PIECES} widths"
        reader.fault(Fault(("windows",), f"the job takes over {MOST_PIECES} widths of cloth: split it", None, allowed))
        reader.check()
    made = []
    phases = first_phases([window for window, _ in measured])
    for number, (window, panels) in enumerate(measured):
        yield None
        with window.reader.remembering(_place_of_fabric(window, request)):
            made.append(_made(window, panels, phases[number], MOST_WORK // len(read)))
    reader.check()
    sundries = []
    for each in made:
        yield None
        sundries.append(sundries_of(each, headings))
    return Job(reader, made, sundries, _fabric_runs(fabrics, made))


def _place_of_fabric(window: ReadWindow, request: EstimateRequest[HeadingOptions]) -> Path:
    return ("fabrics", window.request.fabric) if window.request.fabric in request.fabrics else ()


def _made(window: ReadWindow, panels: list[Panel], phase: Exact, most_work: int) -> MadeWindow:
    """Work a window out; where the usual fullness cannot be had in its cloth and nobody asked for it, in a near one.

    Raises Impossible with every fault of the window as it is asked for.
    """
    try:
        return make_window(window, panels, phase, most_work)
    except Impossible:
        for other in _with_other_widths(window, panels):
            try:
                return make_window(other, panels_of(other, other.make_up), phase, most_work)
            except Impossible:
                continue
        raise


def _with_other_widths(window: ReadWindow, panels: Sequence[Panel]) -> Iterator[ReadWindow]:
    asked = window.request
    settled = asked.fullness is not None or asked.pleat_count is not None or window.make_up.halves is not None
    if settled or window.halves_by_side or window.pleats_by_side or window.fabric.turned:
        return
    step = 1 if window.make_up.half_widths else 2
    for more in (-step, step, -2 * step, 2 * step):
        halves = {panel.side: panel.halves + more for panel in panels}
        yield replace(window, halves_by_side=halves, has_unusual_fullness=True)


def _with_masses(window: Window[HeadingOptions], book: RateBook) -> Window[HeadingOptions]:
    """Return a window whose layers weigh what the rate book says of their cloth, where the job does not say."""
    found = {}
    for name in LAYER_NAMES:
        layer = getattr(window, name)
        if isinstance(layer, Layer) and layer.mass_per_area is None:
            cloth = book.usual_cloth(name) if layer.cloth is None else book.cloth(layer.cloth)
            if cloth and cloth.fabric and cloth.fabric.mass_per_area:
                found[name] = msgspec.structs.replace(layer, mass_per_area=cloth.fabric.mass_per_area)
    return msgspec.structs.replace(window, **found) if found else window


def read_fabrics(
    reader: Reader, request: EstimateRequest[HeadingOptions], book: RateBook | None
) -> dict[str, FaceCloth]:
    """Read the fabrics that windows name: the job's own, else those that the rate book describes.

    What the book leaves out is the workroom's to know, and nothing that the job has left to be assumed.
    """
    fabrics = {name: read_fabric(reader.under("fabrics", name), given) for name, given in request.fabrics.items()}
    for name in dict.fromkeys(window.fabric for window in request.windows):
        if name not in fabrics and (described := fabric_of(name, request, book)):
            fabrics[name] = read_fabric(Reader(request.units), described)
    return fabrics


def fabric_of(name: str, request: EstimateRequest[HeadingOptions], book: RateBook | None) -> Fabric | None:
    """Return a fabric by its name: the job's own, else the rate book's, if either describes it."""
    if name in request.fabrics:
        return request.fabrics[name]
    cloth = book.cloth(name) if book else None
    return cloth.fabric if cloth else None


def book_faults(book: RateBook) -> list[Fault]:
    """Return what is wrong with the fabrics that a rate book describes, at their places in it."""
    found: list[Fault] = []
    for index, cloth in enumerate(book.rates.cloth):
        if cloth.fabric:
            reader = Reader("mm")
            try:
                read_fabric(reader, cloth.fabric)
                reader.check()
            except Impossible as impossible:
                found += [fault.under(("cloth", index, "fabric")) for fault in impossible.faults]
    return found


def _fabric_runs(fabrics: Mapping[str, FaceCloth], made: Sequence[MadeWindow]) -> list[FabricRun]:
    found = []
    for name, fabric in fabrics.items():
        windows = [each for each in made if each.read.request.fabric == name]
        if len(windows) == 1:
            [only] = windows
            found.append(FabricRun(name, fabric, windows, only.wanted, only.served, only.run))
        elif windows:
            wanted, served = cuts_of([each.cuts for each in windows], fabric.pattern)
            run = shortest_run(wanted, fabric.vertical_repeat, fabric.drop)
            found.append(FabricRun(name, fabric, windows, wanted, served, run))
    return found
