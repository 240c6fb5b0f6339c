"""The order of cutting that wastes least, for cuts of any lengths, each with its own phase of the pattern.

Bend one repeat of the pattern into a ring. A cut starts at one point of it and ends at another; to start the next, the
cloth is carried forward round the ring from where the last cut ended to where that one starts, and what is carried is
waste. A run is so a walk through points of the ring, along cuts and carryings in turn.

How often each part of the ring is carried over follows from the cuts alone, up to whole turns of the ring for all:
what arrives at a point leaves it. The fewest turns that carry nothing backwards is a lower bound. It is reached when
the cuts and the parts carried over hang together, for then they can be walked in one go (Euler); when they do not, a
whole turn more joins them all. So the least waste is found by choosing where the run starts and where it ends.
"""

from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise
from math import lcm

from pleatwright.lengths import Exact


def best_order(
    starts: Sequence[Exact], lengths: Sequence[int], repeat: int, begin: Exact | None = None
) -> Sequence[int]:
    """Return the places of the cuts in the order of cutting that carries the least cloth forward.

    `starts` are the phases at which the cuts start, each less than the repeat. `begin` is the phase at which the cloth
    itself begins, from where it is carried to the first cut; None when that is of no account. Of cuts that are alike,
    the one given first is cut first.

    Cuts of 60 from a half-drop of 24 need no waste in turn:

    >>> best_order([0, 0, 12, 12], [60] * 4, 24)
    [0, 2, 1, 3]
    """
    unit = lcm(*(phase.denominator for phase in (*starts, begin or 0)))
    whole = repeat * unit
    cuts = [
        (int(start * unit), int((start + length) * unit) % whole) for start, length in zip(starts, lengths, strict=True)
    ]
    if len(set(cuts)) == 1:
        return range(len(cuts))
    ring = _Ring(cuts, whole, None if begin is None else int(begin * unit))
    first, carried = ring.least()
    return ring.walk(first, carried)


def joined(count: int, links: Iterable[tuple[int, int]]) -> list[int]:
    """Return for each of `count` places the name of the group that the links join it to.

    >>> joined(4, [(0, 2), (2, 3)])
    [3, 1, 3, 3]
    """
    group = list(range(count))

    def name(place: int) -> int:
        while group[place] != place:
            group[place] = group[group[place]]
            place = group[place]
        return place

    for one, other in links:
        group[name(one)] = name(other)
    return [name(place) for place in range(count)]


class _Ring:
    """Points of the ring, the cuts between them, and what carries over each part from one point to the next."""

    def __init__(self, cuts: list[tuple[int, int]], whole: int, begin: int | None) -> None:
        self.cuts = cuts
        self.whole = whole
        self.begin = begin
        self.points = sorted({point for cut in cuts for point in cut})
        self.place = {point: index for index, point in enumerate(self.points)}
        self.parts = [after - before for before, after in pairwise([*self.points, self.points[0] + whole])]
        arrivals = dict.fromkeys(self.points, 0)
        for start, end in cuts:
            arrivals[end] += 1
            arrivals[start] -= 1
        level = list(accumulate(arrivals[point] for point in self.points))
        lowest = min(level)
        self.tour = [each - lowest for each in level]
        """How often each part is carried over in the least closed tour."""

    def least(self) -> tuple[int, list[int]]:
        """Return the point at which the best run starts, and how often it carries over each part."""
        best: tuple[int, int, list[int]] | None = None
        closed = sum(times * part for times, part in zip(self.tour, self.parts, strict=True))
        bare = [0, *accumulate(times == 0 for times in self.tour)]
        choices = []
        for start in sorted({start for start, _ in self.cuts}):
            for end in sorted({end for _, end in self.cuts}):
                spared = (start - end) % self.whole
                turns = 1 if self._bare_between(bare, end, start) else 0
                before = 0 if self.begin is None else (start - self.begin) % self.whole
                choices.append((before + closed - spared + turns * self.whole, start, end, turns))
        for cost, start, end, turns in sorted(choices):
            if best and cost >= best[0]:
                break
            carried = self._carried(end, start, turns)
            if not self._joined(carried):
                cost += self.whole
                carried = [times + 1 for times in carried]
            if best is None or cost < best[0]:
                best = cost, start, carried
        assert best is not None, "there is at least one cut"
        return best[1], best[2]

    def _bare_between(self, bare: list[int], end: int, start: int) -> bool:
        """Tell whether the tour carries nothing over some part between the end of a run and its start."""
        low, high = self.place[end], self.place[start]
        inside = bare[high] - bare[low]
        return inside + (bare[-1] if high < low else 0) > 0

    def _carried(self, end: int, start: int, turns: int) -> list[int]:
        """Return the tour without the way from the end of the run to its start, some turns more."""
        carried = [times + turns for times in self.tour]
        at = self.place[end]
        while at != self.place[start]:
            carried[at] -= 1
            at = (at + 1) % len(self.points)
        return carried

    def _joined(self, carried: list[int]) -> bool:
        """Tell whether the cuts and the parts carried over hang together."""
        links = [(self.place[start], self.place[end]) for start, end in set(self.cuts)]
        links += [(at, (at + 1) % len(carried)) for at, times in enumerate(carried) if times]
        groups = joined(len(self.points), links)
        return len({groups[self.place[start]] for start, _ in self.cuts}) == 1

    def walk(self, start: int, carried: list[int]) -> list[int]:
        """Return the cuts in the order of a walk from `start`, each once, over each part as often as carried."""
        left = list(carried)
        waiting: dict[int, list[int]] = {}
        for index in reversed(range(len(self.cuts))):
            waiting.setdefault(self.place[self.cuts[index][0]], []).append(index)
        # Hierholzer's walk; a point is left by its cuts before the cloth is carried on from it.
        path: list[int | None] = []
        stack: list[tuple[int, int | None]] = [(self.place[start], None)]
        while stack:
            point, _ = stack[-1]
            if waiting.get(point):
                index = waiting[point].pop()
                stack.append((self.place[self.cuts[index][1]], index))
            elif left[point]:
                left[point] -= 1
                stack.append(((point + 1) % len(self.points), None))
            else:
                path.append(stack.pop()[1])
        return self._first_given_first([index for index in reversed(path) if index is not None])

    def _first_given_first(self, order: list[int]) -> list[int]:
        """Return the order with cuts that are alike taken in the order given."""
        alike: dict[tuple[int, int], list[int]] = {}
        for index in sorted(order, reverse=True):
            alike.setdefault(self.cuts[index], []).append(index)
        return [alike[self.cuts[index]].pop() for index in order]
