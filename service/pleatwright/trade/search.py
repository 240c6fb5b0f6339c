"""The search for the best places of pleats between seams, for one count of pleats.

Words used here. An *anchor* is a place where the cloth's pattern of pleats and spaces is pinned down: the two ends
of the pleated part, and any seam that is hidden beside a pleat. A seam is hidden either just *after* a pleat, so that
a space follows it, or just *before* one, so that a space leads up to it. A *run* goes from one anchor to the next;
its pleats all take up the same. A seam that a run passes over is not hidden, and costs the run something.

The space S/(n-1) is fixed by the count n, and so is the mean take-up T/n. What is left to choose is which seams are
anchors, on which side of each the pleat stands, and how many pleats each run holds, n in all. Which totals can be
reached from an anchor is kept as the bits of one integer: bit `cost * block + pleats` stands for a way to finish
with that many pleats and that cost. Adding a run is then a shift, and a whole panel is searched in time that grows
with the number of runs, not with the number of layouts.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate
from math import lcm
from typing import Final, NamedTuple

from pleatwright.lengths import Limits

AFTER: Final = 0
BEFORE: Final = 1


class Budget:
    """Work that a search may still do, so that no panel, however odd, keeps the table waiting.

    Counted in runs looked at, never in seconds: the same panel gives the same answer on every machine.
    """

    SEEKING: Final = 4
    """Looks that trying two anchors is worth, whether or not a run goes between them."""
    BUILDING: Final = 8
    """Looks that finding a run and its cost is worth."""

    WIDE: Final = 4096
    """Bits that a look can shift before it counts as another."""

    def __init__(self, runs: int) -> None:
        self.left = runs

    @property
    def spent(self) -> bool:
        """Whether nothing is left."""
        return self.left <= 0


class Run(NamedTuple):
    """Equal pleats from one anchor to the next. `take_up` is a whole number of the search's `scale`."""

    last: int
    closes: int
    pleats: int
    take_up: int
    cost: int


_Run = tuple[int, int, int, int, int]
"""What a `Run` is made of, while there are many of them."""


class Trace(NamedTuple):
    """One run of a chosen layout, with the anchors it lies between and how each is hidden."""

    first: int
    opens: int
    run: Run


def passing_cost(
    anchors: Sequence[int], first: int, side: int, last: int, pattern: tuple[int, int, int], enough: int
) -> int:
    """Return what the seams cost that a run from `first` to `last` passes over: more for a space than for a take-up.

    `pattern` is the fineness of the measure, and the take-up and the space in that measure. The sum stops growing
    once it is over `enough`.
    """
    fineness, take_up, space = pattern
    opening = space if side == AFTER else take_up
    cost = 0
    for seam in anchors[first + 1 : last]:
        place = (seam - anchors[first]) * fineness % (take_up + space)
        if place in (0, opening):
            continue
        cost += len(anchors) if (place < opening) == (side == AFTER) else 1
        if cost > enough:
            break
    return cost


class CountSearch:
    """Every way to place `count` pleats between `anchors`, passing over at most `depth - 1` seams in a row.

    `anchors` are flat positions from the start of the first pleat to the end of the last, with the seams between.
    `spaces` is the sum of all the spaces. Layouts that cost more than `most_cost` are left out; a seam in a space
    costs `len(anchors)`, one inside a take-up costs 1, so that costs compare as the trade ranks them.
    """

    def __init__(
        self,
        anchors: Sequence[int],
        spaces: int,
        count: int,
        take_up: Limits,
        budget: Budget,
        *,
        depth: int,
        most_cost: int,
    ) -> None:
        self._anchors = anchors
        self._spaces = spaces
        self._gaps = count - 1
        self._count = count
        self._take_up = take_up
        self._most_cost = most_cost
        self._budget = budget
        # No sum of two counts that matter reaches the next block.
        self._block = 2 * count + 1
        one_of_each = ((1 << (most_cost + 1) * self._block) - 1) // ((1 << self._block) - 1)
        self._mask = one_of_each * ((1 << count + 1) - 1)
        sides = self._measured_runs(depth)
        size = sum(map(len, sides))
        budget.left -= Budget.BUILDING * size
        self._looks = size * (1 + self._mask.bit_length() // Budget.WIDE)
        common = lcm(count, *{pleats for runs in sides for _, _, pleats, _, _ in runs if pleats})
        self.scale = common * self._gaps
        """Parts of a grid unit in which take-ups are whole numbers."""
        self.mean = (anchors[-1] - anchors[0] - spaces) * self.scale // count
        # Two seams exactly a space apart hold no pleat; the mean lies within every window, so it never counts.
        scaled = [
            [
                (last, closes, pleats, total * (common // pleats) if pleats else self.mean, cost)
                for last, closes, pleats, total, cost in runs
            ]
            for runs in sides
        ]
        self._runs = list(zip(scaled[::2], scaled[1::2], strict=True))
        """By anchor and side, the runs from there: the nearer last anchor first, and the one with more pleats."""
        self._reached: tuple[int, int, list[list[int]]] | None = None

    def _measured_runs(self, depth: int) -> list[list[_Run]]:
        """Return the runs from each anchor after a pleat and before one, in turn; take-ups are in all, times gaps."""
        anchors, spaces, gaps, budget = self._anchors, self._spaces, self._gaps, self._budget
        least, most = self._take_up.least * gaps + spaces, self._take_up.most * gaps + spaces
        end, count = len(anchors) - 1, self._count
        found: list[list[_Run]] = [[] for _ in range(2 * end + 2)]
        for first in range(end):
            for side in (AFTER, BEFORE) if first else (BEFORE,):
                runs = found[2 * first + side]
                for last in range(first + 1, min(first + depth, end) + 1):
                    length = (anchors[last] - anchors[first]) * gaps
                    for closes in (AFTER, BEFORE) if last < end else (AFTER,):
                        if budget.left <= 0:  # `spent`, for which the innermost loop has no call to spare
                            return found
                        budget.left -= Budget.SEEKING
                        # A space more than pleats where both ends are at spaces, and one fewer where neither is.
                        reach = length + (side - closes) * spaces
                        for pleats in range(min(reach // least, count), max(-(-reach // most), 1) - 1, -1):
                            run = (last, closes, pleats, reach - pleats * spaces, 0)
                            if last - first == 1:
                                runs.append(run)
                            else:
                                self._add_passing(runs, first, side, run)
                        if length == spaces and side - closes == AFTER - BEFORE:
                            self._add_empty(runs, first, last)
        return found

    def _add_passing(self, runs: list[_Run], first: int, side: int, run: _Run) -> None:
        """Add a run that passes over seams, with its cost, unless that is too much."""
        last, closes, pleats, total, _ = run
        self._budget.left -= last - first
        pattern = pleats * self._gaps, total, pleats * self._spaces
        cost = passing_cost(self._anchors, first, side, last, pattern, self._most_cost)
        if cost <= self._most_cost:
            runs.append((last, closes, pleats, total, cost))

    def _add_empty(self, runs: list[_Run], first: int, last: int) -> None:
        """Add a space from seam to seam, with no pleat, unless it shows too many others."""
        cost = (last - first - 1) * len(self._anchors)
        if cost <= self._most_cost:
            runs.append((last, BEFORE, 0, 0, cost))

    def least_cost(self) -> int | None:
        """Return the least cost of any layout with this count, or None when each costs more than `most_cost`."""
        ways = self._ways(self._lowest, self._highest)[0][BEFORE] >> self._count
        for cost in range(self._most_cost + 1):
            if ways >> cost * self._block & 1:
                return cost
        return None

    def narrowest(self, cost: int, below: tuple[int, int] | None) -> tuple[int, int] | None:
        """Return the least and most take-up, scaled, of the layout of that cost whose take-ups differ least.

        Only layouts whose take-ups differ by less than `below` count, a length and the scale it is in; None when there
        is none. Of several, the one with the larger least take-up. When the budget runs out, the best so far, or all
        take-ups.
        """
        values, belows, needed = self._needed(cost)
        # The mean of all take-ups is given, so the least is at or below it and the most at or above.
        highs = values[bisect_left(values, self.mean) :]
        lows = values[: bisect_right(values, self.mean)]
        best = None
        narrower_than = -(-below[0] * self.scale // below[1]) if below else values[-1] - values[0] + 1
        end = len(highs)
        for low in reversed(lows):
            end = bisect_left(highs, low + narrower_than, 0, end)
            if not end or self._budget.spent:
                break
            start = bisect_left(highs, needed[bisect_left(belows, low)], 0, end)
            if start == end:
                continue
            if not self._reaches(low, highs[start], cost):
                if start + 1 == end or not self._reaches(low, highs[end - 1], cost):
                    continue
                others = range(start + 1, end - 1)
                start += 1 + bisect_left(others, True, key=lambda at: self._reaches(low, highs[at], cost))
            best = (low, highs[start])
            narrower_than = highs[start] - low
        return best or (None if below else (values[0], values[-1]))

    def _needed(self, cost: int) -> tuple[list[int], list[int], list[int]]:
        """Return the take-ups of all runs of no more than that cost, and what the stretches ask of a layout's most.

        Some run goes over each stretch from one anchor to the next, and takes up as much as the mean, or more or less.
        The second list has for each stretch the most below the mean, in order. Where a layout's least is over the
        first few of these, its most is at the least what the third list has at that place.
        """
        mean = self.mean
        values: set[int] = set()
        nearest = [[self._lowest - 1, self._highest + 1] for _ in self._anchors[1:]]
        for first, sides in enumerate(self._runs):
            for runs in sides:
                for last, _, _, take_up, its_cost in runs:
                    if its_cost > cost:
                        continue
                    values.add(take_up)
                    for at in range(first, last):
                        low, high = nearest[at]
                        if low < take_up <= mean:
                            nearest[at][0] = take_up
                        if mean <= take_up < high:
                            nearest[at][1] = take_up
        nearest.sort()
        return (
            sorted(values),
            [low for low, _ in nearest],
            list(accumulate((high for _, high in nearest), max, initial=mean)),
        )

    def trace(self, cost: int, low: int, high: int) -> list[Trace]:
        """Return the runs of one layout of that cost whose take-ups lie from `low` to `high`.

        Of several, the first by this rule, read from the leading edge: the nearer seam is hidden, a seam comes after
        a pleat rather than before one, the stretch has more pleats.
        """
        ways = self._ways(low, high)
        at, side, pleats = 0, BEFORE, self._count
        chosen = []
        while at < len(self._anchors) - 1:
            for run in self._runs[at][side]:
                last, closes, held, take_up, its_cost = run
                rest, dearer = pleats - held, cost - its_cost
                if not low <= take_up <= high or rest < 0 or dearer < 0:
                    continue
                if ways[last][closes] >> dearer * self._block + rest & 1:
                    chosen.append(Trace(at, 1 - side, Run(*run)))
                    at, side, pleats, cost = last, closes, rest, dearer
                    break
            else:
                raise AssertionError("the ways counted from the end must be there when walked from the start")
        return chosen

    @property
    def _lowest(self) -> int:
        return self._take_up.least * self.scale

    @property
    def _highest(self) -> int:
        return self._take_up.most * self.scale

    def _reaches(self, low: int, high: int, cost: int) -> bool:
        ways = self._ways(low, high)
        if not ways[0][BEFORE] >> cost * self._block + self._count & 1:
            return False
        self._reached = low, high, ways
        return True

    def _ways(self, low: int, high: int) -> list[list[int]]:
        """Return, by anchor and side, the bits of what can follow with take-ups from `low` to `high`."""
        if self._reached and self._reached[:2] == (low, high):
            return self._reached[2]
        self._budget.left -= self._looks
        block, mask = self._block, self._mask
        ways = [[0, 0] for _ in self._anchors]
        ways[-1][AFTER] = 1
        for first in range(len(self._anchors) - 2, -1, -1):
            for side, runs in enumerate(self._runs[first]):
                bits = 0
                for last, closes, pleats, take_up, cost in runs:
                    if low <= take_up <= high and (after := ways[last][closes]):
                        bits |= after << cost * block + pleats
                ways[first][side] = bits & mask
        return ways
