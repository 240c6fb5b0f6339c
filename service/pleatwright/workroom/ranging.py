"""Between what totals a price may come out, where what was assumed matters to it."""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from itertools import product
from typing import Any, Final

import msgspec
from msgspec import UNSET, Struct

from pleatwright.contract.notes import Progress
from pleatwright.contract.prices import Price, PriceOn, PriceRange
from pleatwright.contract.requests import EstimateRequest, Window
from pleatwright.contract.sewing import Layer
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.pricing.book import RateBook
from pleatwright.pricing.charging import charge
from pleatwright.pricing.price import NotInBook
from pleatwright.workroom import usual
from pleatwright.workroom.jobs import Job, work_out
from pleatwright.workroom.pricing import quantities
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.work import Work

MOST_WINDOWS: Final = 12
"""Windows in a job whose range is worked out: it takes a job's work many times over."""
MOST_PIECES: Final = 120
"""Widths of cloth in such a job."""

Change = Callable[[Window[Any], int], Window[Any]]


class _Factor(Struct, frozen=True):
    """Something assumed that may be otherwise: how a window, by its place, would be at either end."""

    at: str
    least: str
    most: str
    at_least: Change
    at_most: Change


_Choice = tuple[Change | None, ...]
"""Of each factor one of its ends, or None for what was assumed."""


class _Totals(Struct, frozen=True):
    """What the job comes to with other assumptions; None where it cannot be made, or not be priced."""

    request: EstimateRequest[HeadingOptions]
    headings: Headings
    book: RateBook
    known: dict[_Choice, Decimal | None]

    def of(self, choice: _Choice) -> Work[Decimal | None]:
        """Return the total with these ends."""
        if choice not in self.known:
            yield Progress(doing="ends of the price's range", done=len(self.known), of=None)
            self.known[choice] = yield from self._work_out(choice)
        return self.known[choice]

    def near(self, choice: _Choice) -> Work[None]:
        """Find the total with these ends, or with as many of them as it can be made with."""
        if (yield from self.of(choice)) is None:
            for place, end in enumerate(choice):
                if end:
                    yield from self.near(_changed(choice, place, None))

    def _work_out(self, choice: _Choice) -> Work[Decimal | None]:
        windows = list(self.request.windows)
        for change in choice:
            if change:
                windows = [change(window, index) for index, window in enumerate(windows)]
        changed = msgspec.structs.replace(self.request, windows=windows, worksheet=False)
        try:
            job = yield from work_out(Reader(changed.units), changed, self.headings, self.book)
            return charge(self.book, quantities(job, changed, self.book)).total
        except (Impossible, NotInBook):
            return None


def _changed(choice: _Choice, place: int, end: Change | None) -> _Choice:
    return (*choice[:place], end, *choice[place + 1 :])


def price_range(
    request: EstimateRequest[HeadingOptions], headings: Headings, book: RateBook | None, job: Job, price: Price
) -> Work[PriceRange | None]:
    """Return the range of a price over what was assumed, each end by itself and with each end of the others.

    None if nothing matters, or the job is too large. Where the panels cannot be made with some ends together, as many
    of them are left as they were assumed as it takes.
    """
    pieces = sum(panel.pieces for made in job.windows for panel in made.panels)
    if book is None or len(request.windows) > MOST_WINDOWS or pieces > MOST_PIECES:
        return None
    factors = _factors(request, job)
    assumed: _Choice = (None,) * len(factors)
    totals = _Totals(request, headings, book, {assumed: price.total})
    because: list[PriceOn] = []
    ends: list[_Choice] = [(None,)] * len(factors)
    for place, factor in enumerate(factors):
        at_least = yield from totals.of(_changed(assumed, place, factor.at_least))
        at_most = yield from totals.of(_changed(assumed, place, factor.at_most))
        if {at_least, at_most} <= {None, price.total}:
            continue
        ends[place] = (factor.at_least, factor.at_most)
        because.append(
            PriceOn(
                at=factor.at,
                least=factor.least,
                most=factor.most,
                total_at_least=at_least,
                total_at_most=at_most,
            )
        )
    if not because:
        return None
    for choice in product(*ends):
        yield from totals.near(choice)
    found = [total for total in totals.known.values() if total is not None]
    return PriceRange(least=min(found), most=max(found), because=because)


def _factors(request: EstimateRequest[HeadingOptions], job: Job) -> list[_Factor]:
    found = [_fullness(job), _return(request, job.reader), _lining(request)]
    return [factor for factor in found if factor]


def _fullness(job: Job) -> _Factor | None:
    """Return the usual fullness as far as it was assumed and the heading leaves a choice."""
    limits = {
        index: made.read.made.fullness
        for index, made in enumerate(job.windows)
        if made.read.request.fullness is None and made.read.made.fullness.least < made.read.made.fullness.most
    }
    if not limits:
        return None

    def asked(index: int, by: Fraction) -> Fraction:
        return min(max(limits[index].usual + by, limits[index].least), limits[index].most)

    def change(by: Fraction) -> Change:
        return lambda window, index: (
            msgspec.structs.replace(window, fullness=round(float(asked(index, by)), 3)) if index in limits else window
        )

    by = usual.FULLNESS_EITHER_WAY
    least, most = min(asked(index, -by) for index in limits), max(asked(index, by) for index in limits)
    return _Factor("fullness", f"{round(float(least), 3):g}", f"{round(float(most), 3):g}", change(-by), change(by))


def _return(request: EstimateRequest[HeadingOptions], reader: Reader) -> _Factor | None:
    if all(window.rod.return_ is not None for window in request.windows):
        return None

    def change(depth: str) -> Change:
        return lambda window, _: (
            window
            if window.rod.return_ is not None
            else msgspec.structs.replace(window, rod=msgspec.structs.replace(window.rod, return_=depth))
        )

    none, deepest = reader.text(0), reader.text(reader.usual(usual.DEEPEST_RETURN))
    return _Factor("return", none, deepest, change(none), change(deepest))


def _lining(request: EstimateRequest[HeadingOptions]) -> _Factor | None:
    if all(window.lining is not UNSET for window in request.windows):
        return None

    def change(layer: Layer | None) -> Change:
        return lambda window, _: msgspec.structs.replace(window, lining=layer) if window.lining is UNSET else window

    return _Factor("lining", "unlined", "lined", change(None), change(Layer()))
