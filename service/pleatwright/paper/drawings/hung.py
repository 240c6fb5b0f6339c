"""One layer on the wall, its lengths on the grid: what a section is drawn from."""

from dataclasses import dataclass
from typing import Final

from pleatwright.contract.estimates import EstimatedWindow
from pleatwright.contract.hanging import HeightOf, MountKind
from pleatwright.lengths import MILLIMETRE, Units, from_units
from pleatwright.paper.drawings.hems import Hem, hem

_STANDS_OFF: Final = 80 * MILLIMETRE


@dataclass(frozen=True, slots=True)
class Hung:
    """A window's panels from the side: `heights` from the top down, `returned` how far they are from the wall.

    `hem` is the bottom hem; `is_behind` tells a sheer that another window's panels hide.
    """

    label: str
    heights: dict[HeightOf, int]
    returned: int
    clearance: int
    hem: Hem
    mount: MountKind | None
    hangs_to: str
    is_behind: bool

    @property
    def out(self) -> int:
        """Where the panels are drawn: without a return, at some distance from the wall that is not to scale."""
        return self.returned or _STANDS_OFF

    @property
    def farthest(self) -> int:
        """How far into the room it goes: what is longer than the drop lies on the floor."""
        return self.out + max(self.heights.get("floor", self.heights["hem"]) - self.heights["hem"], 0)


def hung(window: EstimatedWindow, units: Units) -> Hung:
    """Return a window's panels as they hang."""
    panel = window.panels[0]
    return Hung(
        label=window.label,
        heights={each.point: from_units(each.height, units) for each in window.hang.heights},
        returned=from_units(panel.return_, units),
        clearance=from_units(window.hang.clearance, units),
        hem=hem(panel.sewn.bottom_hem, panel.sewn.bottom_hem_depth, units),
        mount=window.hang.mount,
        hangs_to=window.hang_to,
        is_behind=window.behind is not None,
    )
