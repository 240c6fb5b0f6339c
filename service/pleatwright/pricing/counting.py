"""How much of each unit a job comes to, and which windows a surcharge touches."""

from decimal import Decimal
from typing import Final

from pleatwright.lengths import GRID, parse_length
from pleatwright.pricing.entries import Surcharge, Times
from pleatwright.pricing.price import Unit
from pleatwright.pricing.quantities import HardwareQuantity, WindowQuantities

SHOWN: Final = 3
"""Decimals of a length or a time as a line shows it, and as it is charged: a millimetre, a few seconds."""


def length_in(length: int, unit: str) -> Decimal:
    """Return a grid length in metres or yards, to three decimals, half up.

    >>> length_in(320_500, "m"), length_in(320_160, "m"), length_in(320_159, "m")
    (Decimal('1.002'), Decimal('1.001'), Decimal('1.000'))
    """
    grid, steps = GRID[unit], 10**SHOWN
    return Decimal((2 * length * steps + grid) // (2 * grid)).scaleb(-SHOWN)


def window_quantity(window: WindowQuantities, unit: Unit) -> Decimal:
    """Return how many of a unit one window has: its widths go in halves."""
    match unit:
        case "width":
            return Decimal(window.halves) / 2
        case "pleat":
            return Decimal(window.pleats)
        case "panel":
            return Decimal(window.panels)
        case "tack":
            return Decimal(window.tacks)
        case _:
            return Decimal(1)


def hours_of(window: WindowQuantities, times: Times | None) -> Decimal:
    """Return the hours that one window takes, not rounded; none where the book has no times."""
    if times is None:
        return Decimal(0)
    return (
        times.width * window.halves / 2
        + times.pleat * window.pleats
        + times.panel * window.panels
        + times.window
        + times.tack * window.tacks
    )


def hardware_quantity(quantity: HardwareQuantity, unit: Unit) -> Decimal | None:
    """Return a hardware's quantity in the unit it is charged by; None when it was not measured so."""
    if unit == "each":
        return None if quantity.count is None else Decimal(quantity.count)
    return None if quantity.length is None else length_in(quantity.length, unit)


def touches(surcharge: Surcharge, window: WindowQuantities) -> bool:
    """Return whether a window gives the reason for a surcharge; a rush is no window's."""
    match surcharge.when:
        case "long-drop":
            return surcharge.over is not None and window.finished_length > parse_length(surcharge.over)
        case "pattern-matching":
            return window.patterned
        case "hand-tacking":
            return window.tacks > 0
        case "lining" | "interlining" | "blackout":
            return surcharge.when in window.layers
        case _:
            return False
