"""A price as lines of text: the customer's view and, where it is there, the workroom's."""

from collections.abc import Iterator
from typing import Final

from pleatwright.contract.prices import Price, PriceLine, WorkroomPrice
from pleatwright.paper.plain import printable


def price_lines(price: Price) -> Iterator[str]:
    """Yield what the customer pays, line by line."""
    yield f"PRICE  in {price.currency}, by {printable(price.edition)}"
    for line in price.lines:
        window = f", {printable(line.window)}" if line.window else ""
        what = f"{line.kind}: {printable(line.what)}{window}"
        unit = "%" if line.unit == "percent" else f" a {line.unit}" if line.unit != "each" else " each"
        quantity = f"{line.quantity:f}" if line.unit in ("percent", "each") else f"{line.quantity:f} {_many(line)}"
        yield f"  {what:<60} {quantity:>14}  {f'{line.rate:f}{unit}':>18}  {line.amount:>12}"
    yield f"  {'together':<60} {'':>34}  {price.net:>12}"
    if price.tax:
        words = f"{'of it, ' if price.tax.included else ''}{printable(price.tax.name)} at {price.tax.percent:f}%"
        yield f"  {words:<60} {'':>34}  {price.tax.amount:>12}"
    yield f"  {'TOTAL':<60} {'':>34}  {price.total:>12}"
    if price.range:
        yield f"  between {price.range.least} and {price.range.most}, as what was assumed turns out:"
        for each in price.range.because:
            ends = [
                f"{end} {total}"
                for end, total in ((each.least, each.total_at_least), (each.most, each.total_at_most))
                if total is not None
            ]
            yield f"    {each.at}: {'; '.join(ends)}"


_COUNTED: Final = ("width", "pleat", "hour", "panel", "window", "tack")


def _many(line: PriceLine) -> str:
    """Return a line's unit as it stands after its quantity; that of a length is the same for one and for many."""
    return f"{line.unit}s" if line.unit in _COUNTED and line.quantity != 1 else line.unit


def workroom_lines(price: WorkroomPrice) -> Iterator[str]:
    """Yield what the job costs the workroom, line by line. Not for the customer."""
    yield "FOR THE WORKROOM ONLY"
    for line in price.lines:
        window = f", {printable(line.window)}" if line.window else ""
        hours = f"{line.hours:f} h" if line.hours else ""
        what = f"{line.kind}: {printable(line.what)}{window}"
        yield f"  {what:<60} {hours:>12}  charged {line.amount:>12}  costs {line.cost:>12}"
    percent = f", {price.margin_percent}% of what is charged" if price.margin_percent is not None else ""
    yield f"  {price.hours:f} hours; costs {price.cost}, leaves {price.margin}{percent}"
