"""What a job takes, what was assumed, and what the shelf lacks, in words: for the work order and for the ticket."""

from collections.abc import Iterator

from pleatwright.contract.cut_lists import ShelfFigures
from pleatwright.contract.estimates import JobMaterials
from pleatwright.contract.notes import Assumed
from pleatwright.lengths import Units, from_units, length_text
from pleatwright.paper.drawings.sheet import name


def material_lines(materials: JobMaterials, units: Units) -> Iterator[tuple[str, str]]:
    """Yield each thing to order, and how much of it."""

    def length(value: float) -> str:
        return length_text(from_units(value, units), units)

    for fabric in materials.fabrics:
        yield name(fabric.fabric), f"{fabric.cuts} cuts, order {fabric.quantity} ({length(fabric.length)})"
    for layer in materials.layers:
        lengths = {place.end - place.start for place in layer.sequence}
        each = f" of {length(lengths.pop())}" if len(lengths) == 1 else ""
        yield layer.layer, f"{layer.cuts} cuts{each}, order {layer.quantity}"
    for sundry in materials.sundries:
        size = ""
        if sundry.size:
            least, most = length(sundry.size.least), length(sundry.size.most)
            size = f" of {least}" if least == most else f" of {least} to {most}"
        yield f"{sundry.kind}{size}", sundry.quantity
    if materials.pins:
        yield "pins or hooks", str(materials.pins)


def shelf_lines(shelf: ShelfFigures, units: Units) -> Iterator[str]:
    """Yield what there is to know of cuts from the shelf, when not all is well."""
    if shelf.shortfall:
        lot = f"of lot {name(shelf.shortfall.lot)}" if shelf.shortfall.lot else "in a lot of its own"
        length = length_text(from_units(shelf.shortfall.length, units), units)
        yield f"What is on the shelf does not do: {length} more, {lot}, would."
    elif shelf.outcome == "undecided":
        yield "No way to cut this from the pieces on the shelf was found, and none was ruled out."
    elif shelf.outcome == "best-found":
        fewer = f"{shelf.bolts_gap} fewer pieces, or " if shelf.bolts_gap else ""
        cloth = length_text(from_units(shelf.cloth_gap, units), units)
        yield f"The best plan found in the time; another might take {fewer}{cloth} less cloth."


def assumed_text(assumed: Assumed, units: Units) -> str:
    """Say what was taken."""
    if isinstance(assumed.value, str):
        return assumed.value
    return length_text(from_units(assumed.value, units), units) if assumed.measure == "length" else f"{assumed.value:g}"
