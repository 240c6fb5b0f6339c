"""What a customer is told of a way to make a window, in one line."""

from collections import Counter
from decimal import Decimal
from typing import Final

from pleatwright.contract.comparing import ChangeKind
from pleatwright.contract.prices import Price
from pleatwright.headings.host import Headings
from pleatwright.lengths import length_text
from pleatwright.trade.marks import SeamPlace
from pleatwright.trade.ranking import Merits
from pleatwright.workroom.windows import MadeWindow

_NOT_HIDDEN: Final[tuple[tuple[tuple[SeamPlace, ...], str], ...]] = (
    (("in-space", "in-front-fold"), "on show"),
    (("at-point",), "in the way"),
    (("inside-pleat",), "inside a pleat"),
)
NEARLY: Final = 0.005
"""A difference of fullness too small to be told."""


def reason(
    change: ChangeKind, made: MadeWindow, merits: Merits, asked: Merits, price: Price | None, headings: Headings
) -> str:
    """Return what is other about a way than was asked for, and what that comes to."""
    told = [_fullness(merits, asked), _seams(made), _price(merits.price, asked.price, price)]
    return f"{_changed(change, made, headings)}: {', '.join(each for each in told if each)}."


def _changed(change: ChangeKind, made: MadeWindow, headings: Headings) -> str:
    read = made.read
    match change:
        case "as-asked":
            return "As asked"
        case "half-width-more" | "half-width-less":
            much = "Half a width" if read.make_up.half_widths else "A width"
            where = "each" if len(made.panels) > 1 else "the"
            return f"{much} of cloth {change.rpartition('-')[2]} in {where} panel"
        case "pleat-count":
            return _pleats(made)
        case "style":
            return headings.of(read.request.heading).heading.label
        case "railroaded":
            return "The cloth turned, so that no seam runs down it"
        case "not-railroaded":
            return "The cloth not turned, in widths seamed together"
        case "cloth-width":
            return f"The cloth {length_text(read.fabric.width, read.reader.units)} wide"


def _fullness(merits: Merits, asked: Merits) -> str:
    times = f"{float(merits.fullness):.2f} times the width"
    more = float(merits.fullness - asked.fullness)
    if merits.kind != asked.kind or abs(more) < NEARLY:
        return times
    return f"{'fuller' if more > 0 else 'less full'}, {times}"


def _pleats(made: MadeWindow) -> str:
    counts = {
        panel.side: each.pleats.pleat_count
        for panel, each in zip(made.panels, made.laid_out, strict=True)
        if each.pleats
    }
    if len(set(counts.values())) == 1:
        return f"{next(iter(counts.values()))} pleats in {'each' if len(counts) > 1 else 'the'} panel"
    return " and ".join(f"{count} pleats in the {side} panel" for side, count in counts.items())


def _seams(made: MadeWindow) -> str:
    seams = Counter(seam.place for each in made.laid_out for seam in each.seams if not seam.is_hidden)
    told = [
        f"{number} seam{'' if number == 1 else 's'} {words}"
        for places, words in _NOT_HIDDEN
        if (number := sum(seams[place] for place in places))
    ]
    return ", ".join(told) or "every seam hidden"


def _price(total: Decimal | None, asked: Decimal | None, price: Price | None) -> str:
    if total is None or price is None:
        return ""
    if asked is None or total == asked:
        return f"{price.currency} {total}"
    return f"{price.currency} {abs(total - asked)} {'dearer' if total > asked else 'cheaper'}"
