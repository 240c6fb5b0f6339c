"""The rod: stack, carriers, bends, and the rod that clears the glass."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from msgspec import UNSET

from pleatwright.contract import mounts as contract
from pleatwright.contract.hanging import BendPlace, PanelSliders, PanelStack, RodFigures, SliderCount
from pleatwright.contract.notes import Caution
from pleatwright.faults import Impossible
from pleatwright.headings.made import Made, Pleat
from pleatwright.lengths import in_units, rounded_in_units
from pleatwright.trade.along_rod import bends_of, end_runs, sliders_of
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


def rod_figures(
    reader: Reader,
    made: Made,
    rod: Rod,
    glass: Glass | None,
    panels: Sequence[Panel],
    laid_out: Sequence[LaidOut],
    stacks: Mapping[Side, int],
    fixed: int | None,
    flat: Sequence[FlatPanel],
) -> RodFigures:
    """Return how the panels of a window stand on its rod; `fixed` is the count of carriers or rings for each."""
    units = reader.units
    covered = glass.covered(rod.width, dict(stacks)) if glass else {}
    return RodFigures(
        width=in_units(rod.width, units),
        length=in_units(rod_length(rod), units),
        stacks=[
            PanelStack(
                side=panel.side,
                stack=in_units(stacks[panel.side], units),
                rule_of_thumb=rounded_in_units(third_of_share(rod, panel), units),
                glass_covered=in_units(covered[panel.side], units) if glass else None,
            )
            for panel in panels
        ],
        sliders=[_sliders(panel, made, its, fixed, one) for panel, its, one in zip(panels, laid_out, flat, strict=True)]
        if made.overlaps
        else [],
        bends=[
            BendPlace(
                bend=bend.number,
                at=in_units(bend.at, units),
                side=bend.side,
                finished=in_units(bend.finished, units),
                nearest=f"{bend.nearest.on} {bend.nearest.number}" if bend.nearest else None,
                off=in_units(bend.off, units) if bend.off is not None else None,
            )
            for bend in bends_of(rod, panels, [each.hanging_points for each in laid_out])
        ],
    )


def _sliders(panel: Panel, made: Made, laid_out: LaidOut, fixed: int | None, flat: FlatPanel) -> PanelSliders:
    needed = sliders_of(panel, laid_out.hanging_points)
    return PanelSliders(
        side=panel.side,
        sliding=needed.sliding,
        overlap=needed.overlap,
        return_=needed.return_,
        suits=UNSET if fixed is None or not isinstance(made, Pleat) else _suitable(made, flat, fixed),
    )


def _suitable(made: Pleat, flat: FlatPanel, fixed: int) -> list[SliderCount]:
    """Return the counts of pleats that can be laid out on a fixed count of carriers, the most first."""
    found: list[SliderCount] = []
    span = flat.finished_width - flat.leading_return - flat.overlap - flat.return_
    # No more pleats fit than the least space leaves room for.
    most = min(fixed, span // made.space.least + 1)
    for count in range(most, max(most - 4 * MOST_SUITABLE, 1), -1):
        try:
            laid_out = lay_out(made, replace(flat, pleat_count=count), MOST_WORK)
        except Impossible:
            continue
        found.append(SliderCount(pleat_count=count, idle=fixed - count, hides_every_seam=laid_out.hides_every_seam))
        if len(found) == MOST_SUITABLE:
            break
    return found


def cautions_of_rod(
    reader: Reader,
    rod: Rod,
    panels: Sequence[Panel],
    laid_out: Sequence[LaidOut],
    stacks: Mapping[Side, int],
    covered: Mapping[Side, int],
    fixed: int | None,
) -> list[Caution]:
    """Return cautions about how the panels stand on their rod."""
    found = []
    for panel, its in zip(panels, laid_out, strict=True):
        where = f"{panel.side.capitalize()} panel: "
        if covered.get(panel.side):
            found.append(
                Caution(
                    kind="glass-covered",
                    detail=f"{where}Open, it stacks over {reader.text(covered[panel.side])} of the glass.",
                )
            )
        needed = sliders_of(panel, its.hanging_points).sliding
        if fixed is not None and needed > fixed:
            found.append(
                Caution(
                    kind="too-few-carriers",
                    detail=f"{where}It hangs on {needed} carriers or rings and the rod has {fixed} for it: add some, "
                    "or choose a count of pleats that suits.",
                )
            )
        if rod.runs and stacks[panel.side] > end_runs(rod)[panel.side]:
            run = reader.text(end_runs(rod)[panel.side])
            found.append(
                Caution(
                    kind="stack-round-a-bend",
                    detail=f"{where}Open, it takes {reader.text(stacks[panel.side])}, more than the straight run of "
                    f"{run} at its end: it stacks round the bend.",
                )
            )
    return found + _bend_cautions(reader, rod, panels, laid_out)


def _bend_cautions(reader: Reader, rod: Rod, panels: Sequence[Panel], laid_out: Sequence[LaidOut]) -> list[Caution]:
    clear = reader.usual(usual.BEND_CLEARANCE)
    return [
        Caution(
            kind="carrier-in-a-bend",
            detail=f"{bend.side.capitalize()} panel: closed, {bend.nearest.on} {bend.nearest.number} stands "
            f"{reader.text(bend.off)} from bend {bend.number}: a carrier cannot rest in a bend: set it beside.",
        )
        for bend in bends_of(rod, panels, [each.hanging_points for each in laid_out])
        if bend.nearest is not None and bend.off is not None and bend.off < clear
    ]
