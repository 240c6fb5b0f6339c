"""Where the pleats go: the layout that hides the seams.

Spaces are equal across the panel. Take-ups are equal between two hidden seams and may differ from one stretch to the
next. A seam that cannot be hidden changes nothing: the equal pleats run on past it, and it falls where it falls.

Among the layouts within the style's limits the best has, in this order: the fewest seams in a space; the fewest seams
inside a take-up; the least difference between the largest and the smallest take-up, as far as it exceeds what the eye
forgives; the space closest to the style's usual one; the least difference itself; the fewest pleats. What is still
equal is settled by a fixed rule (`CountSearch.narrowest` and `CountSearch.trace`). All of it is decided on exact
values, before anything is rounded to a mark.
"""

from collections.abc import Iterator
from fractions import Fraction
from operator import attrgetter
from typing import Final, NamedTuple

from msgspec import Struct

from pleatwright.trade.cloth import Cloth, possible_counts
from pleatwright.trade.search import AFTER, BEFORE, Budget, CountSearch, Run, Trace, passing_cost

MOST_WORK: Final = 2_000_000
"""Runs looked at before the search for the last exposed seam is given up; an everyday panel takes a few hundred."""


class Stretch(Struct, frozen=True):
    """Equal pleats from `start` to `end` on the flat, perhaps with a space before the first or after the last."""

    start: int
    end: int
    pleats: int
    take_up: Fraction
    opens_with_space: bool
    closes_with_space: bool


class Layout(Struct, frozen=True):
    """The pleats of one panel: how many, how far apart, and what each stretch of them takes up, with least and most.

    `proved` is False only when so many seams cannot be hidden that the search for a better layout was cut short.
    """

    pleat_count: int
    space: Fraction
    stretches: tuple[Stretch, ...]
    seams_in_space: int
    seams_in_take_up: int
    proved: bool
    least_take_up: Fraction
    most_take_up: Fraction

    @property
    def take_ups(self) -> tuple[Fraction, ...]:
        """The take-ups of the stretches that hold pleats, from the leading edge."""
        return tuple(stretch.take_up for stretch in self.stretches if stretch.pleats)


def best_layout(cloth: Cloth, most_work: int = MOST_WORK) -> Layout:
    """Return the best layout of pleats and spaces, which hides every seam if any layout does.

    `most_work` is the count of runs to look at before the best so far is taken, unproved.
    A seam that lies in a flat piece at an edge is in no layout's power, and is left out of account.
    Raises Impossible when no count of pleats, or not the count asked for, keeps spaces and take-ups within limits.

    >>> from pleatwright.lengths import INCH, Limits
    >>> take_up, space = Limits(4 * INCH, 11 * INCH // 2, 7 * INCH), Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2)
    >>> seams = (101 * INCH // 2, 207 * INCH // 2)
    >>> layout = best_layout(Cloth(127 * INCH, 53 * INCH, 3 * INCH, 7 * INCH // 2, seams, take_up, space))
    >>> layout.pleat_count, float(layout.space / INCH), [stretch.pleats for stretch in layout.stretches]
    (13, 3.875, [5, 6, 2])
    """
    counts = possible_counts(cloth)
    anchors = cloth.anchors
    budget = Budget(most_work)
    for depth in range(1, len(anchors)):
        # Passing over `depth` seams in a row costs `depth` at the least, so nothing cheaper is left out.
        best = _best_at(cloth, anchors, counts, budget, depth=depth, most_cost=depth - 1)
        if best:
            return _layout(cloth, anchors, best, proved=not budget.spent)
        if budget.spent:
            break
    equal = min((_equal(cloth, anchors, count) for count in _nearest_first(cloth, counts)), key=attrgetter("rank"))
    second = Budget(most_work)
    if budget.spent:
        # Too many seams to prove a layout the best: take the best that exposes no two seams in a row.
        best = _best_at(cloth, anchors, counts, second, depth=2, most_cost=len(anchors) - 1)
    else:
        best = _best_at(cloth, anchors, counts, second, depth=len(anchors) - 1, most_cost=equal.cost)
    proved = not (budget.spent or second.spent)
    return _layout(cloth, anchors, min(equal, best, key=attrgetter("rank")) if best else equal, proved=proved)


def can_hide(cloth: Cloth, budget: Budget) -> bool:
    """Tell whether some layout hides every seam; not when none is found within the budget.

    Raises Impossible as best_layout does.
    """
    counts = possible_counts(cloth)
    anchors = cloth.anchors
    if any(not anchors[0] <= seam <= anchors[-1] for seam in cloth.seams):
        return False
    for count in _nearest_first(cloth, counts):
        if budget.spent:
            break
        search = CountSearch(anchors, cloth.spaces, count, cloth.take_up, budget, depth=1, most_cost=0)
        if search.least_cost() == 0:
            return True
    return False


class _Best(NamedTuple):
    """A layout found. `difference` and `excess` are in parts of a grid unit, `scale` of them to one."""

    cost: int
    excess: int
    off: int
    difference: int
    pleats: int
    scale: int
    traces: list[Trace]

    @property
    def rank(self) -> tuple[int, Fraction, Fraction, Fraction, int]:
        """What it is better or worse by; the lesser of two is the better."""
        excess, difference = Fraction(self.excess, self.scale), Fraction(self.difference, self.scale)
        return self.cost, excess, Fraction(self.off, self.pleats - 1), difference, self.pleats


def _nearest_first(cloth: Cloth, counts: range) -> Iterator[int]:
    """Yield the counts, that whose space is closest to the usual one first; of two, the lesser."""
    usual, spaces = cloth.space.usual, cloth.spaces
    # With more pleats the spaces are narrower: from `narrow` on less than usual, and up to `wide` not less.
    wide = min(spaces // usual + 1, counts[-1])
    narrow = max(wide + 1, counts[0])
    while wide >= counts[0] or narrow <= counts[-1]:
        over, under = spaces - usual * (wide - 1), usual * (narrow - 1) - spaces
        if narrow > counts[-1] or (wide >= counts[0] and over * (narrow - 1) <= under * (wide - 1)):
            yield wide
            wide -= 1
        else:
            yield narrow
            narrow += 1


def _off(cloth: Cloth, count: int) -> int:
    """Return how far all the spaces together are from usual ones: so many times as far as each of them is."""
    return abs(cloth.spaces - cloth.space.usual * (count - 1))


def _equal(cloth: Cloth, anchors: tuple[int, ...], count: int) -> _Best:
    """Return the layout of equal pleats from end to end, which there always is."""
    pattern = count * (count - 1), cloth.take_ups * (count - 1), cloth.spaces * count
    cost = passing_cost(anchors, 0, BEFORE, len(anchors) - 1, pattern, len(anchors) ** 2)
    run = Run(len(anchors) - 1, AFTER, count, cloth.take_ups, cost)
    return _Best(cost, 0, _off(cloth, count), 0, count, count, [Trace(0, 0, run)])


def _best_at(
    cloth: Cloth, anchors: tuple[int, ...], counts: range, budget: Budget, *, depth: int, most_cost: int
) -> _Best | None:
    """Find the best layout that passes over fewer than `depth` seams in a row.

    None when each costs more than `most_cost`. When the budget runs out, the best so far.
    """
    best: _Best | None = None
    for count in _nearest_first(cloth, counts):
        off = _off(cloth, count)
        is_farther = best is not None and off * (best.pleats - 1) > best.off * (count - 1)
        if best and best.cost < depth and not best.excess and is_farther:
            break
        if budget.spent:
            break
        search = CountSearch(anchors, cloth.spaces, count, cloth.take_up, budget, depth=depth, most_cost=most_cost)
        # Where nothing may be seen, whether there is a way at all comes out below.
        cost = 0 if best and not most_cost else search.least_cost()
        if cost is None:
            continue
        rival = best if best and best.cost == cost else None
        window = search.narrowest(cost, (rival.difference, rival.scale) if rival else None)
        if window is None:
            continue
        difference = window[1] - window[0]
        excess = max(difference - cloth.forgiven * search.scale, 0)
        found = _Best(cost, excess, off, difference, count, search.scale, [])
        if rival is None or found.rank < rival.rank:
            best = found._replace(traces=search.trace(cost, *window))
            most_cost = cost
    return best


def _layout(cloth: Cloth, anchors: tuple[int, ...], best: _Best, proved: bool) -> Layout:
    stretches = tuple(
        Stretch(
            anchors[trace.first],
            anchors[trace.run.last],
            trace.run.pleats,
            Fraction(trace.run.take_up, best.scale),
            bool(trace.opens),
            trace.run.closes == BEFORE,
        )
        for trace in best.traces
    )
    in_space, in_take_up = divmod(best.cost, len(anchors))
    take_ups = [run.take_up for *_, run in best.traces if run.pleats]
    return Layout(
        best.pleats,
        Fraction(cloth.spaces, best.pleats - 1),
        stretches,
        in_space,
        in_take_up,
        proved,
        Fraction(min(take_ups), best.scale),
        Fraction(max(take_ups), best.scale),
    )
