"""A panel as sewn beside its plan: cloth creeps, and what was measured is worked with; what moved is told."""

from collections.abc import Sequence

from msgspec import UNSET
from msgspec.structs import replace

from pleatwright.contract.notes import Caution
from pleatwright.contract.replies import AsSewn, Moved
from pleatwright.contract.requests import Planned
from pleatwright.faults import Fault
from pleatwright.headings.made import Made
from pleatwright.lengths import in_units
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.marks import Station
from pleatwright.workroom import usual
from pleatwright.workroom.laying import FlatPanel, lay_out
from pleatwright.workroom.reader import Reader


def read_planned(reader: Reader, planned: Planned, flat: FlatPanel) -> FlatPanel:
    """Read a panel as it was planned; `flat` is the same panel as it was sewn."""
    inner = reader.under("planned")
    seams = tuple(inner.length(seam, "seams", index) for index, seam in enumerate(planned.seams))
    if len(seams) != len(flat.seams):
        detail = "a panel has as many seams as planned: give each as planned and as sewn"
        inner.fault(Fault(("seams",), detail, f"{len(seams)} seams", f"{len(flat.seams)} seams"))
    return replace(flat, flat_width=inner.positive(planned.flat_width, "flat_width"), seams=seams)


def as_sewn(reader: Reader, made: Made, plan: FlatPanel, flat: FlatPanel, laid_out: LaidOut) -> AsSewn:
    """Return what moved since the plan. Raises Impossible, placed in the plan, when the plan itself cannot be made."""
    with reader.under("planned").collecting():
        before = lay_out(made, plan)
    units, tolerance = reader.units, reader.usual(usual.TOLERANCE)
    off = [flat.flat_width - plan.flat_width, *(now - then for now, then in zip(flat.seams, plan.seams, strict=True))]
    return AsSewn(
        flat_width_off=in_units(off[0], units),
        seams_off=[in_units(each, units) for each in off[1:]],
        tolerance=in_units(tolerance, units),
        within_tolerance=all(abs(each) <= tolerance for each in off),
        planned_count=_count(before),
        moved=_moved(reader, before.stations, laid_out.stations),
    )


def caution_of(reader: Reader, found: AsSewn) -> list[Caution]:
    """Return a caution when the panel is off its plan by more than it may be."""
    if found.within_tolerance:
        return []
    text = reader.text(reader.usual(usual.TOLERANCE))
    return [
        Caution(
            kind="off-plan",
            detail=f"The panel as sewn is off its plan by more than {text} (UFGS 12 22 00): measure it again, and look "
            "at the other panels, before it is pleated.",
        )
    ]


def _count(laid_out: LaidOut) -> int:
    if laid_out.pleats:
        return laid_out.pleats.pleat_count
    return laid_out.points.count if laid_out.points else 0


def _moved(reader: Reader, before: Sequence[Station], now: Sequence[Station]) -> list[Moved]:
    planned = {(station.kind, station.number): station.end for station in before}
    found = []
    for station in now:
        then = planned.get((station.kind, station.number))
        if then is not None and then != station.end:
            found.append(
                Moved(
                    kind=station.kind,
                    number=UNSET if station.number is None else station.number,
                    planned=in_units(then, reader.units),
                    end=in_units(station.end, reader.units),
                    by=in_units(station.end - then, reader.units),
                )
            )
    return found
