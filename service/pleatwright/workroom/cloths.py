"""The cloths in the rate book, as a job may name them."""

from pleatwright.contract.cloths import ClothFigures, ClothsReply
from pleatwright.lengths import Units, in_units, parse_length
from pleatwright.pricing.book import RateBook
from pleatwright.pricing.entries import Cloth


def cloths(book: RateBook | None, units: Units) -> ClothsReply:
    """Return every cloth in a rate book; none without one."""
    if book is None:
        return ClothsReply(units=units, edition=None, cloths=[])
    return ClothsReply(units=units, edition=book.edition, cloths=[_figures(each, units) for each in book.rates.cloth])


def _figures(cloth: Cloth, units: Units) -> ClothFigures:
    fabric = cloth.fabric

    def length(value: float | str | None) -> float:
        return in_units(parse_length(value or 0, units), units)

    return ClothFigures(
        name=cloth.name,
        width=length(fabric.width) if fabric else None,
        vertical_repeat=length(fabric.vertical_repeat) if fabric else 0,
        horizontal_repeat=length(fabric.horizontal_repeat) if fabric else 0,
        drop_match=fabric.drop_match if fabric else "straight",
    )
