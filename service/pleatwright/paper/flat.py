"""One panel as it lies flat, for its papers: what /v1/pleats and /v1/pins know of it."""

from dataclasses import dataclass

from pleatwright.contract.cut_lists import Side
from pleatwright.contract.notes import Assumed, Caution, MadeWith
from pleatwright.contract.replies import PinFigures, PleatFigures
from pleatwright.lengths import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatPaper:
    """A panel laid out: `depth` is that of its heading in grid units; without `pins` their depth was not asked for."""

    style: str
    side: Side
    units: Units
    depth: int
    pleats: PleatFigures
    pins: PinFigures | None
    cautions: list[Caution]
    assumed: list[Assumed]
    made_with: MadeWith
