"""Between what totals a price may come out, where what was assumed matters to it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final

import msgspec
from msgspec import UNSET

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

MOST_WINDOWS: Final = 12
"""Windows in a job whose range is worked out: it takes a job's work up to eight times over."""

Change = Callable[[Window[Any], int], Window[Any]]


@dataclass(frozen=True, slots=True)
class _Factor:
    """Something assumed that may be otherwise: how a window, by its place, would be at either end."""

    at: str
    least: str
    most: str
    at_least: Change
    at_most: Change


def price_range(
    request: EstimateRequest[HeadingOptions], headings: Headings, book: RateBook | None, job: Job, price: Price
) -> PriceRange | None:
    """Return the range of a price over what was assumed, each by itself and all together; None if nothing matters."""
    if book is None or len(request.windows) > MOST_WINDOWS:
        return None
    factors = _factors(request, job)

    def total(changes: Sequence[Change]) -> Decimal | None:
        windows = list(request.windows)
        for change in changes:
            windows = [change(window, index) for index, window in enumerate(windows)]
        changed = msgspec.structs.replace(request, windows=windows, worksheet=False)
        try:
            other = work_out(Reader(request.units), changed, headings, book)
            return charge(book, quantities(other, changed, book)).total
        except (Impossible, NotInBook):
            return None

    tried = [(factor, total([factor.at_least]), total([factor.at_most])) for factor in factors]
    matter = [each for each in tried if any(found not in (None, price.total) for found in each[1:])]
    if not matter:
        return None
    ends = [found for _, *both in matter for found in both]
    if len(matter) > 1:
        ends += [
            total([factor.at_least for factor, *_ in matter]),
            total([factor.at_most for factor, *_ in matter]),
        ]
    known = [price.total, *(end for end in ends if end is not None)]
    return PriceRange(
        least=min(known),
        most=max(known),
        because=[
            PriceOn(at=factor.at, least=factor.least, most=factor.most, total_at_least=at_least, total_at_most=at_most)
            for factor, at_least, at_most in matter
        ],
    )


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
