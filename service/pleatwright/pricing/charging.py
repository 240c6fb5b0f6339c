"""Charges a job by the rate book. Every line is rounded once, and everything else is an exact sum of lines."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from pleatwright.pricing.book import RateBook
from pleatwright.pricing.counting import SHOWN, hardware_quantity, hours_of, length_in, touches, window_quantity
from pleatwright.pricing.currency import exactly, rounded
from pleatwright.pricing.entries import Surcharge
from pleatwright.pricing.price import Line, LineKind, Missing, NotInBook, Price, Unit
from pleatwright.pricing.quantities import JobQuantities, Role, WindowQuantities

NOTHING: Final = Decimal(0)
_ROLES: Final[dict[Role, LineKind]] = {
    "face": "cloth",
    "lining": "lining",
    "interlining": "interlining",
    "blackout": "blackout",
}
_MEASURED: Final = {"each": "by its length", "m": "by the piece", "yd": "by the piece"}
"""How a hardware is measured that is not measured as the book charges it."""


def charge(book: RateBook, quantities: JobQuantities) -> Price:
    """Return what a job is charged. Raises NotInBook with everything that has no rate."""
    with exactly():
        if missing := list(dict.fromkeys(_missing(book, quantities))):
            raise NotInBook(missing)
        return _Bill(book, quantities).price()


def _missing(book: RateBook, quantities: JobQuantities) -> Iterator[Missing]:
    for ordered in quantities.cloth:
        if book.cloth(ordered.cloth) is None:
            yield Missing("cloth", ordered.cloth)
    for window in quantities.windows:
        labour = book.labour(window.style)
        if labour is None:
            yield Missing("labour", window.style)
        elif labour.per == "pleat" and not window.pleats:
            # To charge by what there is none of would be to make it up for nothing.
            yield Missing("labour", f"{window.style}, which has no pleats to charge by")
    for taken in quantities.hardware:
        entry = book.hardware(taken.kind)
        # By the piece in the book and by its length in the job: to charge nothing would be to lose it unseen.
        if entry and hardware_quantity(taken, entry.per) is None:
            yield Missing("hardware", f"{taken.kind}, {_MEASURED[entry.per]}")
    if quantities.fitting and book.rates.fitting is None:
        yield Missing("fitting", "fitting")
    if quantities.discount is not None and book.discount(quantities.discount) is None:
        yield Missing("discount", quantities.discount)


class _Bill:
    """One job's lines by one book; made and used inside `exactly`."""

    def __init__(self, book: RateBook, quantities: JobQuantities) -> None:
        self._book = book
        self._rates = book.rates
        self._job = quantities
        self._nothing = self._rounded(NOTHING)

    def price(self) -> Price:
        lines = [*self._cloth(), *self._windows(), *self._hardware(), *self._fitting()]
        lines += self._minimum(self._sum(lines))
        lines += self._discounts(self._sum(lines))
        net, tax = self._sum(lines), self._rates.tax
        percent = tax.percent if tax else NOTHING
        included = tax is not None and tax.included
        of_tax = self._rounded(net * percent / (100 + percent) if included else net * percent / 100)
        return Price(
            lines=tuple(lines),
            net=net,
            tax_name=tax.name if tax else None,
            tax_percent=percent,
            tax=of_tax,
            tax_included=included,
            total=net if included else net + of_tax,
            cost=sum((line.cost for line in lines), self._nothing),
            hours=sum((line.hours for line in lines), NOTHING),
            currency=self._book.currency,
            minor_units=self._book.minor_units,
        )

    def _rounded(self, value: Decimal) -> Decimal:
        return rounded(value, self._book.minor_units, self._rates.rounding)

    def _sum(self, lines: Sequence[Line]) -> Decimal:
        return sum((line.amount for line in lines), self._nothing)

    def _line(
        self,
        kind: LineKind,
        what: str,
        quantity: Decimal,
        unit: Unit,
        rate: Decimal,
        *,
        window: str | None = None,
        cost: Decimal = NOTHING,
        hours: Decimal = NOTHING,
    ) -> Line:
        """Return a line; `cost` is the whole line's, before it is rounded."""
        product = quantity * rate / 100 if unit == "percent" else quantity * rate
        amount = self._rounded(product)
        return Line(kind, what, window, quantity, unit, rate, amount, self._rounded(cost), hours)

    def _cloth(self) -> Iterator[Line]:
        order = list(_ROLES)
        for ordered in sorted(self._job.cloth, key=lambda each: (order.index(each.role), each.cloth)):
            entry = self._book.cloth(ordered.cloth)
            assert entry is not None, "what has no rate is refused before"
            quantity = length_in(ordered.length, entry.per)
            yield self._line(
                _ROLES[ordered.role],
                entry.name,
                quantity,
                entry.per,
                self._book.selling_rate(entry),
                cost=quantity * (entry.cost or NOTHING),
            )

    def _windows(self) -> Iterator[Line]:
        """Yield each window's labour and surcharges, then the surcharges of the whole job."""
        windows = self._job.windows
        labour = [self._labour(window) for window in windows]
        for window, of_labour in zip(windows, labour, strict=True):
            yield of_labour
            for surcharge in self._rates.surcharge:
                if surcharge.per != "job" and touches(surcharge, window):
                    yield from self._surcharge(surcharge, window, of_labour.amount)
        for surcharge in self._rates.surcharge:
            if surcharge.when == "rush":
                if self._job.rush:
                    yield from self._surcharge(surcharge, None, self._sum(labour))
            elif surcharge.per == "job" and any(touches(surcharge, window) for window in windows):
                yield from self._surcharge(surcharge, None, NOTHING)

    def _labour(self, window: WindowQuantities) -> Line:
        entry = self._book.labour(window.style)
        assert entry is not None, "what has no rate is refused before"
        hours = rounded(hours_of(window, entry.hours), SHOWN, "half-up")
        return self._line(
            "labour",
            window.style,
            hours if entry.per == "hour" else window_quantity(window, entry.per),
            entry.per,
            entry.price,
            window=window.label,
            cost=hours * self._rates.cost_per_hour,
            hours=hours,
        )

    def _surcharge(self, surcharge: Surcharge, window: WindowQuantities | None, labour: Decimal) -> Iterator[Line]:
        """Yield the surcharge's line, unless it is of nothing: a price for each pleat where there are none."""
        label = window.label if window else None
        if surcharge.percent is not None:
            if labour:
                yield self._line("surcharge", surcharge.name, labour, "percent", surcharge.percent, window=label)
            return
        assert surcharge.per is not None, "a sound book says what a price is for each of"
        assert surcharge.price is not None, "a sound book has a price or a percent"
        quantity = window_quantity(window, surcharge.per) if window else Decimal(1)
        if quantity:
            yield self._line("surcharge", surcharge.name, quantity, surcharge.per, surcharge.price, window=label)

    def _hardware(self) -> Iterator[Line]:
        for taken in self._job.hardware:
            if entry := self._book.hardware(taken.kind):
                quantity = hardware_quantity(taken, entry.per)
                assert quantity is not None, "what cannot be measured so is refused before"
                rate = self._book.selling_rate(entry)
                cost = quantity * (entry.cost or NOTHING)
                yield self._line("hardware", entry.kind, quantity, entry.per, rate, cost=cost)

    def _fitting(self) -> Iterator[Line]:
        fitting = self._rates.fitting
        if not self._job.fitting or fitting is None:
            return
        if fitting.call_out or fitting.call_out_cost:
            yield self._line("fitting", "Call-out", Decimal(1), "job", fitting.call_out, cost=fitting.call_out_cost)
        quantity = (
            Decimal(len(self._job.windows))
            if fitting.per == "window"
            else length_in(sum(window.rod for window in self._job.windows), fitting.per)
        )
        yield self._line("fitting", "Fitting", quantity, fitting.per, fitting.price, cost=quantity * fitting.cost)

    def _minimum(self, so_far: Decimal) -> Iterator[Line]:
        minimum = self._rates.minimum_charge
        if minimum is not None and so_far < minimum:
            yield self._line("minimum", "Minimum charge", Decimal(1), "job", minimum - so_far)

    def _discounts(self, before: Decimal) -> Iterator[Line]:
        left = before
        for discount in self._rates.discount:
            applies = discount.name == self._job.discount if discount.over is None else before > discount.over
            if not applies:
                continue
            line = self._line("discount", discount.name, before, "percent", -discount.percent)
            if -line.amount > left:
                line = self._line("discount", discount.name, Decimal(1), "job", -left)
            if line.amount:
                left += line.amount
                yield line
