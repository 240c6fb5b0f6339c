"""Compares the sensible ways to make one window."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any, Final

import msgspec
from msgspec import UNSET, Struct
from msgspec.structs import replace

from pleatwright import __version__
from pleatwright.contract.cloth import Fabric
from pleatwright.contract.comparing import ChangeKind, CompareReply, CompareRequest, NoWay, Way
from pleatwright.contract.notes import MadeWith, Progress
from pleatwright.contract.requests import EstimateRequest, Window
from pleatwright.contract.sewing import MakeUp
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Pleat
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import in_units, rounded_in_units
from pleatwright.pricing.book import RateBook
from pleatwright.trade.panel import Side
from pleatwright.trade.ranking import Merits, beaten_by, ranked
from pleatwright.workroom import cautions
from pleatwright.workroom.estimating import materials_of, window_of
from pleatwright.workroom.jobs import Adjust, Job, fabric_of, work_out
from pleatwright.workroom.pricing import Priced, price_of
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.ways import reason
from pleatwright.workroom.windows import ReadWindow
from pleatwright.workroom.work import Work, at_once

LEAST_PLEATS: Final = 2


class _Tried(Struct, frozen=True):
    """One way to try: what is changed in the request, or in what was read of it.

    `at` is the JSON Pointer to what asks for it by name, and `what` that in words.
    """

    change: ChangeKind
    request: EstimateRequest[HeadingOptions]
    adjust: Adjust | None = None
    at: str | None = None
    what: str = ""


class _Made(Struct, frozen=True):
    """One way, worked out and priced."""

    tried: _Tried
    job: Job
    priced: Priced
    merits: Merits


def compare(request: CompareRequest[HeadingOptions], headings: Headings, book: RateBook | None = None) -> CompareReply:
    """Return ways to make a window, each complete, the best first.

    Raises Impossible when the window cannot be made as it is asked for, with every fault.
    """
    return at_once(compare_in_parts(request, headings, book))


def compare_in_parts(
    request: CompareRequest[HeadingOptions], headings: Headings, book: RateBook | None = None
) -> Work[CompareReply]:
    """Return `compare`, each way being a part by itself."""
    reader = Reader(request.units)
    asked = _Tried("as-asked", _as_estimate(request))
    widths = [reader.positive(width, "cloth_widths", index) for index, width in enumerate(request.cloth_widths)]
    try:
        base = _make(asked, headings, book)
    except Impossible as impossible:
        reader.fault(*(_placed(fault) for fault in impossible.faults))
    reader.check()
    made = [base]
    impossible_ways: list[NoWay] = []
    for tried in _ways(request, asked, base, widths, headings, book):
        yield Progress(doing="ways to make the window", done=len(made) + len(impossible_ways), of=None)
        try:
            made.append(_make(tried, headings, book))
        except Impossible as impossible:
            if tried.at is not None:
                impossible_ways.append(
                    NoWay(
                        change=tried.change,
                        at=tried.at,
                        what=tried.what,
                        style=str(tried.request.windows[0].heading.__struct_config__.tag),
                        why=impossible.faults[0].detail,
                    )
                )
    made = [made[place] for place in ranked([each.merits for each in made])]
    beaten = beaten_by([each.merits for each in made])
    return CompareReply(
        units=request.units,
        ways=[_way(each, base, worse_than, headings) for each, worse_than in zip(made, beaten, strict=True)],
        impossible=impossible_ways,
        cautions=[*cautions.STANDING, *base.priced.cautions],
        assumed=[msgspec.structs.replace(each, at=_in_compare(each.at)) for each in base.job.reader.assumed],
        made_with=MadeWith(
            pleatwright=__version__,
            styles=dict(sorted(pair for each in made for pair in each.job.reader.made_with.styles.items())),
        ),
    )


def _as_estimate(request: CompareRequest[HeadingOptions]) -> EstimateRequest[HeadingOptions]:
    """Return the job of the one window; its ways are compared in cloth off one run, whatever is on the shelf."""
    fabrics = {name: msgspec.structs.replace(fabric, bolts=[]) for name, fabric in request.fabrics.items()}
    return EstimateRequest(units=request.units, windows=[request.window], fabrics=fabrics, pricing=request.pricing)


def _placed(fault: Fault) -> Fault:
    """Place a fault of the estimate's request where the comparison's has that field."""
    return replace(fault, where=("window", *fault.where[2:])) if fault.where[:1] == ("windows",) else fault


def _in_compare(at: str) -> str:
    return at.replace("/windows/0/", "/window/", 1)


def _make(tried: _Tried, headings: Headings, book: RateBook | None) -> _Made:
    job = at_once(work_out(Reader(tried.request.units), tried.request, headings, book, tried.adjust))
    priced = price_of(job, tried.request, book)
    return _Made(tried, job, priced, _merits(job, priced))


def _merits(job: Job, priced: Priced) -> Merits:
    (made,) = job.windows
    layouts = [each.pleats for each in made.laid_out if each.pleats]
    unevenness = (
        max(each.most_take_up for each in layouts) - min(each.least_take_up for each in layouts)
        if layouts
        else Fraction(0)
    )
    flat, finished = (sum(getattr(panel, side) for panel in made.panels) for side in ("flat_width", "finished_width"))
    return Merits(
        kind=str(made.read.request.heading.__struct_config__.tag),
        seams_not_hidden=sum(not seam.is_hidden for each in made.laid_out for seam in each.seams),
        price=priced.price.total if priced.price else None,
        cloth=sum(each.ordered for each in job.fabrics),
        fullness=Fraction(flat, finished),
        unevenness=unevenness,
    )


def _ways(
    request: CompareRequest[HeadingOptions],
    asked: _Tried,
    base: _Made,
    widths: Sequence[int],
    headings: Headings,
    book: RateBook | None,
) -> Iterator[_Tried]:
    """Yield the sensible ways besides the one that was asked for."""
    (made,) = base.job.windows
    if made.read.fabric.turned is None:
        step = 1 if made.read.make_up.half_widths else 2
        both: tuple[tuple[ChangeKind, int], ...] = (("half-width-more", step), ("half-width-less", -step))
        for change, more in both:
            yield _Tried(change, asked.request, _with_halves({each.side: each.halves + more for each in made.panels}))
    if isinstance(made.read.made, Pleat):
        counts = {
            panel.side: its.pleats.pleat_count
            for panel, its in zip(made.panels, made.laid_out, strict=True)
            if its.pleats
        }
        for more in (-2, -1, 1, 2):
            if min(counts.values()) + more < LEAST_PLEATS:
                continue
            yield _Tried(
                "pleat-count", asked.request, _with_pleats(made.read, {side: n + more for side, n in counts.items()})
            )
    for index, options in enumerate(request.styles):
        # The count of pleats and the fullness that one style asks for are no measure for another.
        window = msgspec.structs.replace(request.window, heading=options, pleat_count=None, fullness=None)
        label = headings.of(options).heading.label
        yield _Tried("style", _with_window(asked.request, window), at=f"/styles/{index}", what=label)
    if fabric := fabric_of(request.window.fabric, asked.request, book):
        yield from _other_cloth(asked, base, fabric, widths)


def _with_halves(halves: dict[Side, int]) -> Adjust:
    return lambda read: replace(read, halves_by_side=halves)


def _with_pleats(base: ReadWindow, counts: dict[Side, int]) -> Adjust:
    """Return how to ask for counts of pleats in the widths that the window is made of."""
    return lambda read: replace(
        read,
        pleats_by_side=counts,
        halves_by_side=base.halves_by_side,
        has_unusual_fullness=base.has_unusual_fullness,
    )


def _with_window(request: EstimateRequest[HeadingOptions], window: Window[Any]) -> EstimateRequest[HeadingOptions]:
    return msgspec.structs.replace(request, windows=[window])


def _other_cloth(asked: _Tried, base: _Made, fabric: Fabric, widths: Sequence[int]) -> Iterator[_Tried]:
    (made,) = base.job.windows
    window = asked.request.windows[0]

    def with_fabric(changed: Fabric, make_up: MakeUp) -> EstimateRequest[HeadingOptions]:
        fabrics = asked.request.fabrics | {window.fabric: changed}
        return msgspec.structs.replace(
            asked.request, windows=[msgspec.structs.replace(window, make_up=make_up)], fabrics=fabrics
        )

    # A count of widths that was settled is one of this cloth, cut so.
    make_up = msgspec.structs.replace(window.make_up, width_count=None)
    if fabric.railroaded:
        changed = msgspec.structs.replace(fabric, railroaded=False, bolt_length=None)
        yield _Tried("not-railroaded", with_fabric(changed, make_up))
    elif not fabric.one_way and fabric.motif is None:
        yield _Tried("railroaded", with_fabric(msgspec.structs.replace(fabric, railroaded=True), make_up))
    for index, width in enumerate(widths):
        if width == made.read.fabric.width or width in widths[:index]:
            continue
        wider = msgspec.structs.replace(fabric, width=in_units(width, asked.request.units))
        what = f"The cloth {made.read.reader.text(width)} wide"
        yield _Tried("cloth-width", with_fabric(wider, make_up), at=f"/cloth_widths/{index}", what=what)


def _way(each: _Made, base: _Made, worse_than: int | None, headings: Headings) -> Way:
    (made,), units = each.job.windows, each.job.reader.units
    merits, priced = each.merits, each.priced
    return Way(
        change=each.tried.change,
        at=each.tried.at,
        reason=reason(each.tried.change, made, merits, base.merits, priced.price, headings),
        style=merits.kind,
        fullness=round(float(merits.fullness), 3),
        cloth=in_units(merits.cloth, units),
        unevenness=rounded_in_units(merits.unevenness, units),
        seams_not_hidden=merits.seams_not_hidden,
        total=merits.price,
        dominated_by=None if worse_than is None else worse_than + 1,
        window=window_of(made, each.job.sundries[0], headings),
        materials=materials_of(each.job),
        price=priced.price,
        workroom=priced.workroom if each.tried.request.pricing.view == "workroom" and priced.workroom else UNSET,
        cautions=priced.cautions,
    )
