"""What a length of cloth is enough for: the other way round from an order."""

from collections.abc import Callable, Sequence

from msgspec import Struct
from msgspec.structs import replace

from pleatwright.contract.enough import EnoughAsAsked, EnoughReply, GreatestFullness, LongestDrop, MostWindows
from pleatwright.contract.requests import EnoughRequest
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made, Points
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import in_units
from pleatwright.trade.cuts import WindowCuts, cuts_of
from pleatwright.trade.panel import MOST_WIDTHS, FlatAsked, Panel, cut_length
from pleatwright.trade.repeat import MOST_CUTS, shortest_run
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import cautions, usual
from pleatwright.workroom.fabrics import read_fabric
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import flat_of, lay_out
from pleatwright.workroom.measured import UNPINNED, read_hang, read_rod
from pleatwright.workroom.panelling import panels_in, read_fullness
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.sewing import read_make_up
from pleatwright.workroom.windows import own_phase


def enough(request: EnoughRequest[HeadingOptions], headings: Headings) -> EnoughReply:
    """Return what a length of cloth is enough for."""
    reader = Reader(request.units)
    fabric = read_fabric(reader.under("fabric"), request.fabric)
    read = reader.made(headings, request.heading)
    rod = read_rod(reader.under("rod"), request.rod, read)
    hang = read_hang(reader.under("hang"), request.hang, read, UNPINNED)
    make_up = read_make_up(reader.under("make_up"), request.make_up, read, fabric)
    asked = read_fullness(reader, request.fullness, read, rod)
    cloth_length = reader.positive(request.cloth_length, "cloth_length")
    division = reader.positive(request.mark, "mark", usual=usual.MARK)
    made = reader.settled(read)
    window = _Window(made, fabric, rod, hang, make_up, asked, division)
    with reader.collecting():
        wanted = window.panels(make_up)
    run = window.run(wanted)
    return EnoughReply(
        units=request.units,
        as_asked=EnoughAsAsked(
            enough=run <= cloth_length,
            run_length=in_units(run, request.units),
            left_over=in_units(cloth_length - run, request.units),
        ),
        fullness=_greatest_fullness(reader, window, cloth_length),
        drop=_longest_drop(reader, window, wanted, cloth_length),
        windows=_most_windows(reader, window, wanted, cloth_length),
        cautions=[
            *cautions.of_heading(reader, made),
            *cautions.of_panels(reader, made, rod, fabric, make_up, wanted),
        ],
        assumed=reader.assumed,
        made_with=reader.made_with,
    )


class _Window(Struct, frozen=True):
    made: Made
    fabric: FaceCloth
    rod: Rod
    hang: Hang
    make_up: MakeUp
    asked: FlatAsked
    division: int

    def panels(self, make_up: MakeUp) -> list[Panel]:
        return panels_in(self.fabric, self.rod, self.hang, self.asked, make_up)

    def run(self, wanted: Sequence[Panel], count: int = 1) -> int:
        """Return the length that so many such windows take in the shortest run."""
        phase = own_phase(self.fabric, self.make_up, wanted[0].finished_length)
        cuts, _ = cuts_of([WindowCuts(wanted, phase, self.division)] * count, self.fabric.pattern)
        return shortest_run(cuts, self.fabric.vertical_repeat, self.fabric.drop).length


def _greatest_fullness(reader: Reader, window: _Window, cloth_length: int) -> GreatestFullness | None:
    made = window.made
    if window.fabric.turned or (isinstance(made, Points) and made.is_fixed):
        return None
    candidates = []
    step = 1 if window.make_up.half_widths else 2
    for halves in range(step, 2 * MOST_WIDTHS + 1, step):
        try:
            found = window.panels(replace(window.make_up, halves=halves))
        except Impossible:
            continue
        if any(panel.fullness > made.fullness.most for panel in found):
            break
        run = window.run(found)
        if run <= cloth_length:
            candidates.append((halves, found, run))
    best = next((each for each in reversed(candidates) if _can_be_laid_out(reader, window, each[1])), None)
    if best is None:
        return None
    halves, found, run = best
    return GreatestFullness(
        widths=halves / 2,
        fullness=[round(float(panel.fullness), 3) for panel in found],
        run_length=in_units(run, reader.units),
    )


def _can_be_laid_out(reader: Reader, window: _Window, found: Sequence[Panel]) -> bool:
    try:
        for panel in found:
            flat = flat_of(
                panel,
                forgiven=reader.usual(usual.FORGIVEN),
                pleat_count=None,
                edge_inset=reader.usual(usual.PIN_INSET),
                division=window.division,
            )
            lay_out(window.made, flat)
    except Impossible:
        return False
    return True


def _longest_drop(reader: Reader, window: _Window, wanted: Sequence[Panel], cloth_length: int) -> LongestDrop | None:
    """Return the longest drop in whole divisions of the rule; a longer cut never takes a shorter run.

    Of railroaded cloth the drop is across the bolt, and no length of it makes it longer.
    """

    def dropped(divisions: int) -> list[Panel]:
        length = divisions * window.division
        cut = cut_length(length, window.make_up)
        return [replace(panel, finished_length=length, cut_length=cut) for panel in wanted]

    if window.fabric.turned:
        return None
    most = _most(cloth_length // window.division, lambda divisions: window.run(dropped(divisions)) <= cloth_length)
    if not most:
        return None
    found, units = dropped(most), reader.units
    return LongestDrop(
        finished_length=in_units(found[0].finished_length, units),
        longer=in_units(found[0].finished_length - wanted[0].finished_length, units),
        cut_length=in_units(found[0].cut_length, units),
        run_length=in_units(window.run(found), units),
    )


def _most_windows(reader: Reader, window: _Window, wanted: Sequence[Panel], cloth_length: int) -> MostWindows:
    most = MOST_CUTS // sum(panel.pieces for panel in wanted)
    count = _most(most, lambda count: window.run(wanted, count) <= cloth_length)
    return MostWindows(count=count, run_length=in_units(window.run(wanted, count), reader.units) if count else 0)


def _most(limit: int, is_enough: Callable[[int], bool]) -> int:
    """Return the greatest number up to the limit for which there is enough; 0 if there is not for one."""
    low, high = 0, limit + 1
    while high - low > 1:
        middle = (low + high) // 2
        if is_enough(middle):
            low = middle
        else:
            high = middle
    return low
