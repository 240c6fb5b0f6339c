"""The price of a job: what it comes to in the rate book's terms, and what the customer and the workroom are told."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from math import ceil
from typing import Any, Final

from msgspec import Struct

from pleatwright.contract.notes import Caution
from pleatwright.contract.prices import CostLine, Price, PriceLine, Pricing, Tax, WorkroomPrice
from pleatwright.contract.requests import EstimateRequest
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.made import Pleat
from pleatwright.headings.options import HeadingOptions
from pleatwright.pricing import price as pricing
from pleatwright.pricing.book import RateBook
from pleatwright.pricing.charging import charge
from pleatwright.pricing.price import NotInBook
from pleatwright.pricing.quantities import ClothQuantity, HardwareQuantity, JobQuantities, Role, WindowQuantities
from pleatwright.workroom import usual
from pleatwright.workroom.jobs import Job
from pleatwright.workroom.sewing import layer_runs
from pleatwright.workroom.sundries import together
from pleatwright.workroom.windows import MadeWindow

NO_RATE_BOOK: Final = "no rate book"


class Priced(Struct, frozen=True):
    """The two views of a price; without them, cautions that say why."""

    price: Price | None
    workroom: WorkroomPrice | None
    cautions: list[Caution]


def needs_key(request: Any) -> bool:
    """Return whether some of what a request asks for is only for who has the workroom's key."""
    pricing = getattr(request, "pricing", None)
    return isinstance(pricing, Pricing) and (pricing.view == "workroom" or pricing.discount is not None)


def price_of(job: Job, request: EstimateRequest[HeadingOptions], book: RateBook | None) -> Priced:
    """Return the price of a job, without its range. Raises Impossible when it asks for a discount that is not there."""
    if book is None:
        wanted = request.pricing != Pricing()
        detail = "Not priced: the service has no rate book."
        return Priced(None, None, [Caution(kind="not-priced", detail=detail)] if wanted else [])
    try:
        charged = charge(book, quantities(job, request, book))
    except NotInBook as missing:
        refuse_discount(missing, request)
        names = "; ".join(f"{each.kind}: {each.name}" for each in missing.missing)
        return Priced(None, None, [Caution(kind="not-priced", detail=f"Not priced: the rate book lacks {names}.")])
    return Priced(_price(charged, book), _workroom_price(charged), list(_of_rush(request, book)))


def _of_rush(request: EstimateRequest[HeadingOptions], book: RateBook) -> Iterator[Caution]:
    if request.pricing.rush and not any(each.when == "rush" for each in book.rates.surcharge):
        yield Caution(kind="rush-not-charged", detail="The rate book has no surcharge for a rush: none is charged.")


def refuse_discount(missing: NotInBook, request: EstimateRequest[HeadingOptions]) -> None:
    """Raise Impossible when what is missing is the discount that was asked for."""
    if any(each.kind == "discount" for each in missing.missing):
        detail = "the rate book has no discount of this name: leave it out, or add it to the book"
        raise Impossible(Fault(("pricing", "discount"), detail, request.pricing.discount, "null"))


def quantities(job: Job, request: EstimateRequest[HeadingOptions], book: RateBook) -> JobQuantities:
    """Return what a job comes to, in the terms of the rate book."""
    return JobQuantities(
        windows=[_window(each) for each in job.windows],
        cloth=[*_faces(job), *_layers(job, book)],
        hardware=list(_hardware(job)),
        rush=request.pricing.rush,
        fitting=request.pricing.fitting,
        discount=request.pricing.discount,
    )


def _window(made: MadeWindow) -> WindowQuantities:
    read = made.read
    pleats = sum(each.pleats.pleat_count for each in made.laid_out if each.pleats)
    layers: frozenset[Role] = frozenset(layer.cloth.name for layer in made.layers)
    return WindowQuantities(
        label=read.label,
        style=str(read.request.heading.__struct_config__.tag),
        halves=_halves(made),
        panels=len(made.panels),
        pleats=pleats,
        tacks=pleats * read.made.hand_tacks if isinstance(read.made, Pleat) else 0,
        finished_length=max(panel.finished_length for panel in made.panels),
        rod=read.rod.width,
        patterned=bool(read.fabric.vertical_repeat),
        layers=layers,
    )


def _halves(made: MadeWindow) -> int:
    """Return the half widths in a window's panels; turned cloth counts as so many of a usual width."""
    if made.read.fabric.turned is None:
        return sum(panel.halves for panel in made.panels)
    width = made.read.reader.usual(usual.WIDTH)
    side_hems = 2 * made.read.make_up.side_hem
    return sum(ceil(2 * (panel.flat_width + side_hems) / width) for panel in made.panels)


def _faces(job: Job) -> Iterator[ClothQuantity]:
    for each in job.fabrics:
        if not each.fabric.customers_own:
            yield ClothQuantity(each.name, "face", each.ordered)


def _layers(job: Job, book: RateBook) -> Iterator[ClothQuantity]:
    for each in layer_runs([layer for made in job.windows for layer in made.layers]):
        cloth = each.cloth
        if cloth is None:
            of_book = book.usual_cloth(each.name)
            cloth = of_book.name if of_book else f"usual {each.name}"
        yield ClothQuantity(cloth, each.name, each.ordered)


def _hardware(job: Job) -> Iterator[HardwareQuantity]:
    for item, amount in together(job.reader, job.sundries).amounts.items():
        yield HardwareQuantity(item.kind, None if item.is_length else amount, amount if item.is_length else None)
    if pins := sum(each.pins for each in job.windows):
        yield HardwareQuantity("hook", pins, None)


def _price(charged: pricing.Price, book: RateBook) -> Price:
    tax = None
    if charged.tax_name is not None:
        tax = Tax(
            name=charged.tax_name,
            percent=charged.tax_percent,
            amount=charged.tax,
            included=charged.tax_included,
        )
    return Price(
        currency=charged.currency,
        edition=f"{book.edition} ({book.digest})",
        lines=[
            PriceLine(
                kind=line.kind,
                what=line.what,
                window=line.window,
                quantity=line.quantity,
                unit=line.unit,
                rate=line.rate,
                amount=line.amount,
            )
            for line in charged.lines
        ],
        net=charged.net,
        tax=tax,
        total=charged.total,
        range=None,
    )


def _workroom_price(charged: pricing.Price) -> WorkroomPrice:
    before_tax = charged.total - charged.tax
    margin = before_tax - charged.cost
    return WorkroomPrice(
        lines=_cost_lines(charged.lines),
        cost=charged.cost,
        margin=margin,
        margin_percent=(100 * margin / before_tax).quantize(Decimal("0.1")) if before_tax else None,
        hours=charged.hours,
    )


def _cost_lines(lines: Sequence[pricing.Line]) -> list[CostLine]:
    return [
        CostLine(
            kind=line.kind, what=line.what, window=line.window, amount=line.amount, cost=line.cost, hours=line.hours
        )
        for line in lines
    ]
