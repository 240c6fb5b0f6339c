"""Pleating to the pattern: pleats so far apart that every space shows the same motif.

With a horizontal repeat H the pitch of the pleats, take-up and space together, is H/k for a whole number k of pleats to
a repeat. The finished width settles the space, S = spaces/(n - 1) for n pleats, and so the take-up, T = H/k - S [both
follow from the pattern coming round once in H]. What n T + (n - 1) S and the flat pieces leave of the flat width is cut
off the two edges, never out of the middle. How it is divided between them moves every seam along the pleats.

Widths that were joined to match lie whole repeats apart, so that a trim which hides one of their seams hides them all.
Ranking is done on exact values; the trims and the flat width that stays are then taken to whole grid units.
"""

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from math import ceil, floor
from typing import Final, NamedTuple

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.cloth import MOST_PLEATS, Cloth, edge_faults, seam_faults
from pleatwright.trade.layout import Layout, Stretch

MOST_PARTS: Final = 60
"""The most pleats to a repeat: at a pitch of 4 in, a repeat of 20 ft. Our choice."""

MOST_TRIED: Final = 400_000
"""Pleats that seams pass, over all the ways and trims there are; a large stage curtain has a few hundred thousand."""


class ToPattern(Struct, frozen=True):
    """One way to pleat to the pattern: `parts` pleats to each repeat, and what is cut off the two edges beforehand.

    The layout is measured from the leading edge once `leading_trim` is off. A seam in a flat piece at an edge counts
    as one in a space; a seam in a strip that is cut off is gone, and so is one that the cut runs along.
    """

    parts: int
    layout: Layout
    take_up: Fraction
    leading_trim: int
    return_trim: int


def to_pattern(cloth: Cloth, horizontal_repeat: int) -> list[ToPattern]:
    """Return every way to pleat to the pattern within the limits, the best first, each with its best trim.

    Best has, in this order: the fewest seams in a space; the fewest inside a take-up; the space closest to the usual
    one; the least surplus; the fewest pleats; the fewest pleats to a repeat. The best trim has the fewest seams in a
    space, then inside a take-up, then is the most even, then takes less off the leading edge.

    Raises Impossible when no pitch and no count of pleats, or not the one asked for, keeps within the limits and the
    flat width.

    >>> from pleatwright.lengths import INCH, Limits
    >>> take_up, space = Limits(4 * INCH, 11 * INCH // 2, 7 * INCH), Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2)
    >>> cloth = Cloth(127 * INCH, 53 * INCH, 3 * INCH, 7 * INCH // 2, (99 * INCH // 2, 207 * INCH // 2), take_up, space)
    >>> best = to_pattern(cloth, 27 * INCH)[0]
    >>> best.parts, best.layout.pleat_count, float(best.layout.space / INCH), float(best.take_up / INCH)
    (3, 13, 3.875, 5.125)
    >>> float(best.leading_trim / INCH), float(best.return_trim / INCH), best.layout.seams_in_space
    (5.375, 2.0, 0)
    """
    fitting = _fitting(cloth, horizontal_repeat)
    if sum(_passed(cloth, pleats) for pleats in fitting) > MOST_TRIED:
        detail = "these are too many seams and pleats to set out by the pattern at once: ask for a count of pleats, or "
        detail += "for the panel in parts"
        raise Impossible(Fault(("seams",), detail, f"{len(cloth.seams)} seams", "fewer"))
    found = [(_trimmed(cloth, pleats), pleats) for pleats in fitting]
    return [choice for choice, _ in sorted(found, key=lambda each: (*_faults_of(each[0]), *_rank(cloth, each[1])))]


def _passed(cloth: Cloth, pleats: "_Pleats") -> int:
    """Return about how many pleats the seams pass as the trim grows to all the surplus, and a little for each pleat."""
    pitches = floor((cloth.flat_width - pleats.flat) / (pleats.space + pleats.take_up)) + 1
    return len(cloth.seams) * min(pitches, pleats.pleat_count) + pleats.pleat_count // 8


class _Pleats(NamedTuple):
    """`pleat_count` pleats, `parts` to a repeat; `flat` is the width that stays of the cloth."""

    pleat_count: int
    parts: int
    space: Fraction
    take_up: Fraction
    flat: Fraction

    @property
    def scale(self) -> int:
        """What makes whole numbers of the space, the take-up and half the surplus, for speed."""
        return 2 * self.parts * (self.pleat_count - 1)


def _faults_of(choice: ToPattern) -> tuple[int, int]:
    return choice.layout.seams_in_space, choice.layout.seams_in_take_up


def _rank(cloth: Cloth, pleats: _Pleats) -> tuple[Fraction, Fraction, int, int]:
    """Rank by the space, then the surplus, then the counts; the lesser is the better."""
    return abs(pleats.space - cloth.space.usual), -pleats.flat, pleats.pleat_count, pleats.parts


def _fitting(cloth: Cloth, repeat: int) -> list[_Pleats]:
    faults = edge_faults(cloth.finished_width, cloth.leading + cloth.trailing)
    faults += seam_faults(cloth.seams, cloth.flat_width)
    if repeat <= 0:
        detail = "only cloth with a horizontal repeat can be pleated to its pattern: give the repeat"
        faults.append(Fault(("horizontal_repeat",), detail, "{repeat}", "more than 0", {"repeat": repeat}))
    if faults:
        raise Impossible(*faults)
    counts = _counts(cloth)
    within = list(_within(cloth, repeat, counts))
    if not within:
        raise Impossible(_no_pitch(cloth, repeat, counts))
    asked = [pleats for pleats in within if cloth.pleat_count in (None, pleats.pleat_count)]
    fitting = [pleats for pleats in asked if pleats.flat <= cloth.flat_width]
    if not fitting:
        others = [pleats for pleats in within if pleats.flat <= cloth.flat_width]
        faults = [] if asked else [_other_count(cloth, others or within)]
        if asked or not others:
            faults.append(_more_cloth(cloth, asked or within, others))
        raise Impossible(*faults)
    return fitting


def _counts(cloth: Cloth) -> range:
    """Return the counts of pleats whose equal spaces lie within the limits."""
    counts = range(max(-(-cloth.spaces // cloth.space.most) + 1, 2), cloth.spaces // cloth.space.least + 2)
    if counts and counts.start <= MOST_PLEATS:
        return range(counts.start, min(counts.stop, MOST_PLEATS + 1))
    detail = f"this takes over {MOST_PLEATS} pleats: check the width and its unit"
    if not counts:
        detail = (
            "{spaces} of spaces cannot be shared out in equal spaces of {least} to {most}: "
            "change the finished width, or the limits of the space"
        )
    lengths = {"spaces": cloth.spaces, "least": cloth.space.least, "most": cloth.space.most}
    allowed = "whole numbers of spaces of {least} to {most}"
    raise Impossible(Fault(("finished_width",), detail, "{spaces}", allowed, lengths))


def _within(cloth: Cloth, repeat: int, counts: range) -> Iterator[_Pleats]:
    """Yield the pleats whose take-up is within the limits: least <= H/k - S <= most, solved for k."""
    for count in counts:
        space = Fraction(cloth.spaces, count - 1)
        fewest, most = ceil(repeat / (space + cloth.take_up.most)), floor(repeat / (space + cloth.take_up.least))
        for parts in range(fewest, min(most, MOST_PARTS) + 1):
            take_up = Fraction(repeat, parts) - space
            yield _Pleats(count, parts, space, take_up, cloth.finished_width + count * take_up)


def _no_pitch(cloth: Cloth, repeat: int, counts: range) -> Fault:
    """Say which repeats, the next narrower and the next wider, some pitch would divide."""
    below: list[Fraction] = []
    above: list[Fraction] = []
    for count in counts:
        space = Fraction(cloth.spaces, count - 1)
        least, most = space + cloth.take_up.least, space + cloth.take_up.most
        parts = min(floor(repeat / least), MOST_PARTS)
        below += [parts * most] if parts else []
        above += [(parts + 1) * least] if parts < MOST_PARTS else []
    lengths = {"repeat": repeat, "below": floor(max(below, default=0)), "above": ceil(min(above, default=0))}
    allowed = [text for text, repeats in (("up to {below}", below), ("from {above}", above)) if repeats]
    text = " or ".join(allowed)
    return Fault(
        ("horizontal_repeat",),
        f"no whole number of pleats to a repeat, up to {MOST_PARTS}, keeps take-up and space within the style's "
        f"limits: the nearest repeat that does is {text}; use such cloth or other limits, or pleat without regard to "
        "the pattern",
        "{repeat}",
        text,
        lengths,
    )


def _more_cloth(cloth: Cloth, pleats: Sequence[_Pleats], others: Sequence[_Pleats]) -> Fault:
    least = min(pleats, key=lambda each: (each.flat, each.pleat_count))
    return Fault(
        ("flat_width",),
        f"pleating to the pattern takes at least {{least}} of flat cloth, for {least.pleat_count} pleats, "
        f"{least.parts} to a repeat: use more cloth{f', or ask for {_count_text(others)} pleats' if others else ''}",
        "{flat}",
        "{least} or more",
        {"flat": cloth.flat_width, "least": ceil(least.flat)},
    )


def _other_count(cloth: Cloth, others: Sequence[_Pleats]) -> Fault:
    text = _count_text(others)
    return Fault(
        ("pleat_count",),
        f"{cloth.pleat_count} pleats cannot be made to the pattern within the style's limits: "
        f"ask for {text}, or leave the count open",
        str(cloth.pleat_count),
        text,
    )


def _count_text(pleats: Iterable[_Pleats]) -> str:
    counts = sorted({each.pleat_count for each in pleats})
    starts = [count for count in counts if count - 1 not in counts]
    ends = [count for count in counts if count + 1 not in counts]
    return " or ".join(
        f"{start} to {end}" if start < end else str(start) for start, end in zip(starts, ends, strict=True)
    )


def _trimmed(cloth: Cloth, pleats: _Pleats) -> ToPattern:
    """Choose the trim. A half goes down for the trim and up for the flat width, so that both trims stay >= 0.

    A place on the trimmed panel goes the way the flat width does, so that a seam at the last pleat's end stays there.
    """
    scale = pleats.scale
    sides = _sides(cloth, pleats)
    seams = [seam * scale for seam in cloth.seams]
    surplus = int((cloth.flat_width - pleats.flat) * scale)
    trims = _trims(sides, cloth.flat_width * scale - surplus, seams, surplus)
    cost, _, best = min((cost, abs(surplus - 2 * trim), trim) for trim, cost in trims)
    leading_trim = ceil(Fraction(best, scale) - Fraction(1, 2))
    flat = floor(pleats.flat + Fraction(1, 2))
    index_of = {side: index for index, side in enumerate(sides)}
    splits = {0: cloth.leading, len(sides) - 1: flat - cloth.trailing}
    for at, seam in zip(cloth.seams, seams, strict=True):
        splits.setdefault(index_of.get(seam - best, 0), at - leading_trim)
    stretches = tuple(
        _stretch(pleats, first, after, splits[first], splits[after]) for first, after in pairwise(sorted(splits))
    )
    in_space, in_take_up = divmod(cost, len(seams) + 1)
    take_ups = [stretch.take_up for stretch in stretches if stretch.pleats]
    layout = Layout(
        pleats.pleat_count,
        pleats.space,
        stretches,
        in_space,
        in_take_up,
        proved=True,
        least_take_up=min(take_ups),
        most_take_up=max(take_ups),
    )
    return ToPattern(pleats.parts, layout, pleats.take_up, leading_trim, cloth.flat_width - flat - leading_trim)


def _sides(cloth: Cloth, pleats: _Pleats) -> list[int]:
    """Return the start and the end of each pleat in turn, scaled: an even index is a start, an odd one an end."""
    first, take_up = cloth.leading * pleats.scale, int(pleats.take_up * pleats.scale)
    pitch = take_up + int(pleats.space * pleats.scale)
    return [first + number * pitch + end for number in range(pleats.pleat_count) for end in (0, take_up)]


def _trims(sides: Sequence[int], flat: int, seams: Sequence[int], surplus: int) -> Iterator[tuple[int, int]]:
    """Yield the trims off the leading edge that may be the best, and what their seams cost, all of it scaled.

    Those are the even one and those that bring a seam beside a pleat or to an edge. Between two of these nothing
    changes, and at either the seam that gets there costs less than on its way. So one sweep, as the trim grows and
    the seams go towards the leading edge, gives the cost of each from that of the one before.
    """
    in_space = len(seams) + 1
    edges = sorted({0, *sides, flat})
    # What a seam costs before edges[0], between two edges, and after the last: nothing where it has been cut off.
    costs = [0, *(1 if bisect_right(sides, edge) % 2 else in_space for edge in edges[:-1]), 0]

    def cost_at(place: int) -> int:
        index = bisect_left(edges, place)
        return 0 if edges[index : index + 1] == [place] else costs[index]

    yield surplus // 2, sum(cost_at(seam - surplus // 2) for seam in seams)
    arriving: defaultdict[int, int] = defaultdict(int)
    leaving: defaultdict[int, int] = defaultdict(int)
    total = 0
    for seam in seams:
        within = range(bisect_left(edges, seam - surplus), bisect_right(edges, seam))
        # The zone the seam lies in, untrimmed or just short of the edge it lies on.
        total += costs[within.stop]
        for index in within:
            arriving[seam - edges[index]] += costs[index + 1]
            leaving[seam - edges[index]] += costs[index]
    for trim in sorted(arriving):
        total -= arriving[trim]
        yield trim, total
        total += leaving[trim]


def _stretch(pleats: _Pleats, first: int, after: int, start: int, end: int) -> Stretch:
    """Return the pleats from side `first` to side `after`, which lie at `start` and `end` on the trimmed panel."""
    held = (after + 1) // 2 - (first + 1) // 2
    spaces = after - first - held
    take_up = (end - start - spaces * pleats.space) / held if held else pleats.take_up
    return Stretch(start, end, held, take_up, first % 2 == 1, after % 2 == 0)
