"""Lays a panel out by its heading, whichever of the three kinds that is. The one place that tells them apart."""

from fractions import Fraction
from typing import assert_never

from msgspec import Struct
from msgspec.structs import replace

from pleatwright.faults import Fault, Impossible
from pleatwright.headings.made import Gather, Made, Pleat, Points
from pleatwright.trade import marks, pins
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.cures import Cure, cures, hiding_pleats, hiding_points
from pleatwright.trade.gathers import Gathering, gathered
from pleatwright.trade.hung import hung
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.layout import MOST_WORK, best_layout
from pleatwright.trade.panel import FlatAsked, Panel
from pleatwright.trade.points import PointRow, flat_needed
from pleatwright.trade.search import Budget
from pleatwright.trade.window import Rod


class FlatPanel(Struct, frozen=True):
    """A panel as it lies flat, and what is asked of it, in grid units."""

    flat_width: int
    finished_width: int
    leading_return: int
    overlap: int
    return_: int
    seams: tuple[int, ...]
    forgiven: int
    pleat_count: int | None
    edge_inset: int
    division: int


def lay_out(made: Made, flat: FlatPanel, most_work: int = MOST_WORK) -> LaidOut:
    """Return the panel laid out as well as can be, marked on the rule. Raises Impossible with what is in the way."""
    if flat.pleat_count is not None and not isinstance(made, Pleat):
        detail = "this heading has no pleats to count: leave it out"
        raise Impossible(Fault(("pleat_count",), detail, str(flat.pleat_count), "null"))
    match made:
        case Pleat():
            cloth = cloth_of(made, flat)
            layout = best_layout(cloth, most_work)
            row = marks.stations(layout, _leading(flat), _trailing(flat), flat.division)
            return LaidOut(row, marks.placed_seams(row, flat.seams), pins.pins(row, flat.edge_inset), pleats=layout)
        case Gather():
            return gathered(_gathering(made, flat), flat.edge_inset, flat.division)
        case Points():
            return hung(_point_row(made, flat), flat.division)
        case _:
            assert_never(made)


def flat_asked(made: Made, rod: Rod, fullness: Fraction) -> FlatAsked:
    """Return how to find the flat width that a finished width asks for: by the fullness, or by a tape's own spacing."""
    if not (isinstance(made, Points) and made.is_fixed):
        return lambda finished_width: fullness * finished_width

    def needed(finished_width: int) -> int:
        flat = FlatPanel(0, finished_width, rod.leading_return, rod.overlap, rod.return_, (), 0, None, 0, 1)
        return flat_needed(_point_row(made, flat))

    return needed


def hiding_count(made: Made, flat: FlatPanel, budget: Budget) -> int | None:
    """Return the count of pleats or points with which every seam is hidden; None when none is known to hide them."""
    match made:
        case Pleat():
            return hiding_pleats(cloth_of(made, flat), budget)
        case Gather():
            return None
        case Points():
            return hiding_points(_point_row(made, flat), flat.division, budget)
        case _:
            assert_never(made)


def cures_of(made: Made, flat: FlatPanel, strip: int, budget: Budget) -> list[Cure]:
    """Return the least changes to the panel that would hide every seam."""

    def hides(flat_width: int, seams: tuple[int, ...], asked: int | None) -> int | None:
        return hiding_count(made, replace(flat, flat_width=flat_width, seams=seams, pleat_count=asked), budget)

    return cures(flat.flat_width, flat.seams, flat.pleat_count, strip, hides)


def flat_of(panel: Panel, *, forgiven: int, pleat_count: int | None, edge_inset: int, division: int) -> FlatPanel:
    """Return a window's panel as it lies flat."""
    return FlatPanel(
        panel.flat_width,
        panel.finished_width,
        panel.leading_return,
        panel.overlap,
        panel.return_,
        panel.seams,
        forgiven,
        pleat_count,
        edge_inset,
        division,
    )


def cloth_of(pleat: Pleat, flat: FlatPanel) -> Cloth:
    """Return a panel as cloth to be pleated."""
    return Cloth(
        flat_width=flat.flat_width,
        finished_width=flat.finished_width,
        leading=flat.leading_return + flat.overlap,
        trailing=flat.return_,
        seams=flat.seams,
        take_up=pleat.take_up,
        space=pleat.space,
        forgiven=flat.forgiven,
        pleat_count=flat.pleat_count,
    )


def _gathering(gather: Gather, flat: FlatPanel) -> Gathering:
    return Gathering(
        flat_width=flat.flat_width,
        finished_width=flat.finished_width,
        leading_return=flat.leading_return,
        overlap=flat.overlap,
        return_=flat.return_,
        seams=flat.seams,
        least=gather.fullness.least,
        most=gather.fullness.most,
        hook_spacing=gather.hook_spacing,
    )


def _point_row(points: Points, flat: FlatPanel) -> PointRow:
    return PointRow(
        word=points.word,
        flat_width=flat.flat_width,
        finished_width=flat.finished_width,
        leading=_leading(flat),
        trailing=_trailing(flat),
        seams=flat.seams,
        gap=points.gap,
        finished_gap=points.finished_gap,
        least_fullness=points.fullness.least,
        most_fullness=points.fullness.most,
        point_width=points.point_width,
        clear=points.clear,
        edge=points.edge,
        parity=points.parity,
        waves=points.waves,
        count=points.count,
    )


def _leading(flat: FlatPanel) -> tuple[tuple[marks.StationKind, int], ...]:
    return ("return", flat.leading_return), ("overlap", flat.overlap)


def _trailing(flat: FlatPanel) -> tuple[tuple[marks.StationKind, int], ...]:
    return (("return", flat.return_),)


def overlap_faults(made: Made, overlap: int) -> list[Fault]:
    """Return what is wrong with an overlap, at `overlap`: with a rod through the heading there can be none."""
    if made.overlaps or not overlap:
        return []
    return [
        Fault(
            ("overlap",),
            "with a rod through the heading the leading edges stand side by side: they cannot cross, so leave it out",
            "{overlap}",
            "nothing",
            {"overlap": overlap},
        )
    ]
