"""The rod: stack, carriers, bends, and the rod that clears the glass."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from msgspec import UNSET, Struct
from msgspec.structs import replace

from pleatwright.contract import mounts as contract
from pleatwright.contract.hanging import BendPlace, PanelSliders, PanelStack, RodFigures, SliderCount
from pleatwright.contract.notes import Caution
from pleatwright.faults import Impossible
from pleatwright.headings.made import Made, Pleat
from pleatwright.lengths import in_units, rounded_in_units
from pleatwright.trade.along_rod import Bend, Sliders, bends_of, end_runs, sliders_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import Panel, Side
from pleatwright.trade.stack import Glass, third_of_share
from pleatwright.trade.window import Rod
from pleatwright.workroom import usual
from pleatwright.workroom.laying import FlatPanel, lay_out
from pleatwright.workroom.reader import Reader

MOST_SUITABLE: Final = 5
"""Counts of pleats shown that suit a rod with so many carriers."""
MOST_WORK: Final = 20_000
"""Work on each of them, as of any layout."""


def read_glass(reader: Reader, glass: contract.Glass) -> Glass:
    """Read where the glass is."""
    from_left = None if glass.from_left is None else reader.length(glass.from_left, "from_left")
    return Glass(reader.positive(glass.width, "width"), from_left)


def rod_length(rod: Rod) -> int:
    """Return the length of a rod with its returns."""
    ends = rod.return_ if rod.draw.startswith("one-way") else 2 * rod.return_
    return rod.width + ends + rod.leading_return


class HungPanel(Struct, frozen=True):
    """One panel on its rod: as it is cut, as it lies flat, laid out, what it hangs on, and the rod it takes open."""

    panel: Panel
    flat: FlatPanel
    laid_out: LaidOut
    sliders: Sliders
    stack: int


def hung_panel(panel: Panel, flat: FlatPanel, laid_out: LaidOut, stack: int) -> HungPanel:
    """Return a panel on its rod, of which it takes `stack` when it is open."""
    return HungPanel(panel, flat, laid_out, sliders_of(panel, laid_out.hanging_points), stack)


class OnRod(Struct, frozen=True):
    """The panels of one window on their rod; `fixed` is the count of carriers or rings that it has for each, if any.

    `covered` is the glass that each open panel still covers; nothing is known of glass that was not measured.
    """

    reader: Reader
    made: Made
    rod: Rod
    glass: Glass | None
    fixed: int | None
    panels: Sequence[HungPanel]
    covered: Mapping[Side, int]
    bends: Sequence[Bend]

    def figures(self) -> RodFigures:
        """Return how the panels stand on the rod, as a reply has it."""
        units, covered = self.reader.units, self.covered
        return RodFigures(
            width=in_units(self.rod.width, units),
            length=in_units(rod_length(self.rod), units),
            stacks=[
                PanelStack(
                    side=each.panel.side,
                    stack=in_units(each.stack, units),
                    rule_of_thumb=rounded_in_units(third_of_share(self.rod, each.panel), units),
                    glass_covered=in_units(covered[each.panel.side], units) if covered else None,
                )
                for each in self.panels
            ],
            sliders=[self._slider_figures(each) for each in self.panels] if self.made.overlaps else [],
            bends=[
                BendPlace(
                    bend=bend.number,
                    at=in_units(bend.at, units),
                    side=bend.side,
                    finished=in_units(bend.finished, units),
                    nearest=f"{bend.nearest.on} {bend.nearest.number}" if bend.nearest else None,
                    off=in_units(bend.off, units) if bend.off is not None else None,
                )
                for bend in self.bends
            ],
        )

    def _slider_figures(self, hung: HungPanel) -> PanelSliders:
        needed = hung.sliders
        return PanelSliders(
            side=hung.panel.side,
            sliding=needed.sliding,
            overlap=needed.overlap,
            return_=needed.return_,
            suits=UNSET
            if self.fixed is None or not isinstance(self.made, Pleat)
            else _suitable(self.made, hung.flat, self.fixed),
        )

    def cautions(self) -> list[Caution]:
        """Return cautions about how the panels stand on the rod."""
        of_panels = (each for hung in self.panels for each in self._of_panel(hung))
        return [*self._of_glass(), *of_panels, *self._of_bends()]

    def _of_glass(self) -> Iterator[Caution]:
        past = max((-beside for beside in self.glass.beside(self.rod.width).values()), default=0) if self.glass else 0
        if past > 0:
            detail = f"The glass goes on {self.reader.text(past)} past the end of the rod, and is not covered there."
            yield Caution(kind="glass-past-the-rod", detail=detail)

    def _of_panel(self, hung: HungPanel) -> Iterator[Caution]:
        where, text = f"{hung.panel.side.capitalize()} panel: ", self.reader.text
        if covered := self.covered.get(hung.panel.side):
            detail = f"{where}Open, it stacks over {text(covered)} of the glass."
            yield Caution(kind="glass-covered", detail=detail)
        needed = hung.sliders.sliding
        if self.fixed is not None and needed > self.fixed:
            detail = (
                f"{where}It hangs on {needed} carriers or rings and the rod has {self.fixed} for it: add some, or "
                "choose a count of pleats that suits."
            )
            yield Caution(kind="too-few-carriers", detail=detail)
        share = hung.panel.finished_width - hung.panel.return_ - hung.panel.leading_return
        if hung.stack > share:
            detail = (
                f"{where}Open, it would take {text(hung.stack)}, and it covers {text(share)} of the rod: it hardly "
                "opens. Take thinner cloth, less of it, or fewer pleats."
            )
            yield Caution(kind="hardly-opens", detail=detail)
        run = end_runs(self.rod)[hung.panel.side]
        if self.rod.runs and hung.stack > run:
            detail = (
                f"{where}Open, it takes {text(hung.stack)}, more than the straight run of {text(run)} at its end: it "
                "stacks round the bend."
            )
            yield Caution(kind="stack-round-a-bend", detail=detail)

    def _of_bends(self) -> Iterator[Caution]:
        clear = self.reader.usual(usual.BEND_CLEARANCE)
        for bend in self.bends:
            if bend.nearest is None or bend.off is None or bend.off >= clear:
                continue
            detail = (
                f"{bend.side.capitalize()} panel: closed, {bend.nearest.on} {bend.nearest.number} stands "
                f"{self.reader.text(bend.off)} from bend {bend.number}: a carrier cannot rest in a bend, so set it "
                "beside."
            )
            yield Caution(kind="carrier-in-a-bend", detail=detail)


def on_rod(
    reader: Reader, made: Made, rod: Rod, glass: Glass | None, fixed: int | None, panels: Sequence[HungPanel]
) -> OnRod:
    """Return the panels of one window as they stand on their rod."""
    # A panel that is thicker than its rod is long stands all along it.
    stacks = {each.panel.side: min(each.stack, rod.width) for each in panels}
    covered = glass.covered(rod.width, stacks) if glass else {}
    points = [each.laid_out.hanging_points for each in panels]
    bends = bends_of(rod, [each.panel for each in panels], points)
    return OnRod(reader, made, rod, glass, fixed, panels, covered, bends)


def _suitable(made: Pleat, flat: FlatPanel, fixed: int) -> list[SliderCount]:
    """Return the counts of pleats that can be laid out on a fixed count of carriers, the most first."""
    found: list[SliderCount] = []
    span = flat.finished_width - flat.leading_return - flat.overlap - flat.return_
    to_take_up = max(flat.flat_width - flat.finished_width, 0)
    # No more pleats can be than the least space and the least take-up leave room for.
    most = min(fixed, span // made.space.least + 1, to_take_up // made.take_up.least)
    for count in range(most, max(most - 4 * MOST_SUITABLE, 1), -1):
        try:
            laid_out = lay_out(made, replace(flat, pleat_count=count), MOST_WORK)
        except Impossible:
            continue
        found.append(SliderCount(pleat_count=count, idle=fixed - count, hides_every_seam=laid_out.hides_every_seam))
        if len(found) == MOST_SUITABLE:
            break
    return found
