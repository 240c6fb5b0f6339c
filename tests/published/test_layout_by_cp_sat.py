"""The best layout, found again by two oracles that share nothing with the search.

The first is a constraint model solved by CP-SAT, pleat by pleat, in whole numbers: each take-up is a variable, each
position a sum of take-ups and spaces, and each seam has a place. The second is a plain enumeration in fractions.
Both are exact, and so every figure must agree to the last digit.

Panels for CP-SAT keep to half inches. On the full grid its numbers grow so large that CP-SAT 9.15 now and then calls
a panel infeasible that has a layout; so seams a hair off their place are left to the enumeration.
"""

import math
import random
from fractions import Fraction
from itertools import combinations, pairwise, product

import pytest
from msgspec.structs import replace
from ortools.sat.python import cp_model

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import best_layout

HALF = INCH // 2
MOST_MODELLED = 16


def panel(flat, finished, leading, trailing, seams, take_up, space, forgiven=1, pleat_count=None):
    """A panel from lengths in half inches; seams outside the panel, or drawn twice, are left out."""
    seams = tuple(HALF * seam for seam in sorted(set(seams)) if 0 < seam < flat)
    return Cloth(
        HALF * flat,
        HALF * finished,
        HALF * leading,
        HALF * trailing,
        seams,
        Limits(*(HALF * bound for bound in take_up)),
        Limits(*(HALF * bound for bound in space)),
        HALF * forgiven,
        pleat_count,
    )


def limits(rng, least, most, width):
    low = rng.randint(least, most)
    high = low + rng.randint(*width)
    return low, rng.randint(low, high), high


def finished_width(rng, flat, flat_pieces, take_up, space):
    """Draw a finished width at which some count is likely to have both its space and its take-up in limits."""
    pleated = flat - flat_pieces
    share = Fraction(rng.randint(*space[::2]), rng.randint(*space[::2]) + rng.randint(*take_up[::2]))
    return flat_pieces + max(1, round(pleated * min(share, Fraction(2, 3))))


def widths_of_cloth(rng):
    """Widths of a 54 in bolt less the seam allowances; the outer two lose a side hem, and one may be a half width."""
    width, hem = rng.choice((104, 105, 106)), rng.choice((3, 6, 8))
    pieces = [width] * rng.randint(1, 3)
    if rng.random() < 0.5 and len(pieces) < 3:
        pieces.insert(rng.choice((0, len(pieces))), width // 2)
    flat = sum(pieces) - 2 * hem
    seams = [sum(pieces[:end]) - hem for end in range(1, len(pieces))]
    leading, trailing = rng.choice(((6, 7), (6, 6), (4, 12), (0, 0), (3, 7)))
    take_up = limits(rng, 8, 11, (3, 7)) if flat < 220 else limits(rng, 11, 13, (3, 7))
    space = limits(rng, 6, 8, (1, 4))
    finished = finished_width(rng, flat, leading + trailing, take_up, space)
    return panel(flat, finished, leading, trailing, seams, take_up, space, rng.choice((0, 1, 2, 3)))


def irregular(rng):
    flat = rng.randint(30, 240)
    leading, trailing = rng.randint(0, 8), rng.randint(0, 8)
    seams = [rng.randint(1, flat - 1) for _ in range(rng.randint(0, 4))]
    take_up, space = limits(rng, 6, 12, (2, 8)), limits(rng, 5, 9, (1, 5))
    finished = finished_width(rng, flat, leading + trailing, take_up, space)
    return panel(flat, finished, leading, trailing, seams, take_up, space, rng.randint(0, 5))


def close_together(rng):
    """Seams 2 in apart: too close for a pleat or a space to lie between."""
    cloth = irregular(rng)
    seams = {HALF * rng.randint(1, cloth.flat_width // HALF - 5) for _ in range(rng.randint(1, 2))}
    return replace(cloth, seams=tuple(sorted(seams | {seam + 4 * HALF for seam in seams})))


def counted(rng):
    cloth = rng.choice((widths_of_cloth, irregular, close_together))(rng)
    mean = (cloth.take_up.least + cloth.take_up.most) // 2
    return replace(cloth, pleat_count=max(2, cloth.take_ups // mean + rng.randint(-1, 1)))


def tight(rng):
    cloth = irregular(rng)
    least, usual = cloth.take_up.least, cloth.space.usual
    take_up = Limits(least, least, least + HALF * rng.randint(0, 2))
    space = Limits(usual, usual, usual + HALF * rng.randint(0, 1))
    finished = finished_width(rng, cloth.flat_width // HALF, 0, (least // HALF,) * 3, (usual // HALF,) * 3)
    return replace(cloth, finished_width=HALF * finished, take_up=take_up, space=space)


def near_the_edges(rng):
    """Few wide pleats, with seams in the flat pieces, at their ends and near them."""
    flat = rng.randint(60, 160)
    leading, trailing = rng.randint(4, 10), rng.randint(4, 10)
    near = (leading - 1, leading, leading + rng.randint(1, 9), flat - trailing - rng.randint(1, 9))
    seams = rng.sample((*near, flat - trailing, flat - trailing + 1, flat // 2), rng.randint(1, 4))
    take_up, space = limits(rng, 9, 16, (2, 8)), limits(rng, 3, 9, (2, 8))
    finished = finished_width(rng, flat, leading + trailing, take_up, space)
    return panel(flat, finished, leading, trailing, seams, take_up, space, rng.randint(0, 3))


def made_to_hide(rng):
    """A panel laid out first, its seams then put at ends and starts of pleats, some with a space between the two."""
    count, space = rng.randint(4, 12), rng.randint(5, 9)
    leading, trailing = rng.randint(0, 8), rng.randint(0, 8)
    take_up = limits(rng, 8, 12, (1, 5))
    size, at, places = rng.randint(*take_up[::2]), leading, []
    for _ in range(count):
        places += [at, at + size]
        at += size + space
        if rng.random() < 0.3:
            size = rng.randint(*take_up[::2])
    flat = places[-1] + trailing
    seams = rng.sample(places[1:-1], rng.randint(1, 3))
    if rng.random() < 0.4:
        pair = rng.randrange(1, count)
        seams = [*seams[:2], places[2 * pair - 1], places[2 * pair]]
    finished = leading + trailing + space * (count - 1)
    spaces = (space - rng.randint(0, 2), space, space + rng.randint(0, 2))
    spaces = (spaces[0], rng.randint(spaces[0], spaces[2]), spaces[2])
    return panel(flat, finished, leading, trailing, seams, take_up, spaces, rng.randint(0, 3))


def three_to_a_space(rng):
    """Seams at both ends of a space and one between them; with those two hidden, it is exposed."""
    cloth = made_to_hide(rng)
    count = rng.randint(1, 4)
    take_up = HALF * rng.randint(cloth.take_up.least // HALF, cloth.take_up.most // HALF)
    space = HALF * rng.randint(max(2, cloth.space.least // HALF), cloth.space.most // HALF)
    end = cloth.leading + count * take_up + (count - 1) * space
    seams = (end, end + HALF * rng.randint(1, space // HALF - 1), end + space)
    return replace(cloth, seams=tuple(seam for seam in seams if seam < cloth.flat_width))


def between_two_spaces(rng):
    """A usual space midway between those of two counts, so that only the take-ups can tell them apart."""
    count, leading, trailing = rng.randint(5, 9), rng.randint(0, 8), rng.randint(0, 8)
    take_up = limits(rng, 6, 12, (4, 8))
    finished = leading + trailing + count * (count - 1)
    flat = finished + rng.randint((count + 1) * take_up[0], count * take_up[2])
    seams = [rng.randint(leading + 1, flat - trailing - 1) for _ in range(rng.randint(1, 3))]
    space = Limits(HALF * (count - 1), HALF * count - HALF // 2, HALF * count)
    cloth = panel(flat, finished, leading, trailing, seams, take_up, (1, 1, 1), rng.randint(0, 8))
    return replace(cloth, space=space)


def a_hair_off(rng):
    """Seams one grid unit from where they could be hidden with equal take-ups."""
    cloth = made_to_hide(rng)
    return replace(cloth, seams=tuple(seam + rng.choice((-1, 0, 1)) for seam in cloth.seams))


MAKERS = (
    widths_of_cloth,
    irregular,
    close_together,
    counted,
    tight,
    near_the_edges,
    made_to_hide,
    three_to_a_space,
    between_two_spaces,
)


def panels(makers, seed, each, most_seams):
    """Draw panels of every kind whose counts a model of its size can hold; at most a few of a kind are impossible."""
    rng = random.Random(seed)
    drawn = []
    for maker in makers:
        impossible = kept = 0
        while kept < each:
            cloth = maker(rng)
            counts = counts_within(cloth)
            impossible += not counts
            inside = sum(cloth.leading < seam < cloth.flat_width - cloth.trailing for seam in cloth.seams)
            if inside > most_seams or max(counts, default=0) > MOST_MODELLED or (not counts and impossible > 5):
                continue
            kept += 1
            drawn.append(pytest.param(cloth, id=f"{maker.__name__}-{kept}"))
    return drawn


def counts_within(cloth):
    return [
        count
        for count in range(2, 100)
        if cloth.pleat_count in (None, count)
        and cloth.space.least * (count - 1) <= cloth.spaces <= cloth.space.most * (count - 1)
        and cloth.take_up.least * count <= cloth.take_ups <= cloth.take_up.most * count
    ]


def worth(cloth, layout):
    difference = max(layout.take_ups) - min(layout.take_ups)
    return (
        layout.seams_in_space,
        layout.seams_in_take_up,
        max(difference - cloth.forgiven, Fraction(0)),
        abs(layout.space - cloth.space.usual),
        difference,
        layout.pleat_count,
    )


def check(cloth, layout):
    """Lay the panel out again from its stretches and see that it is what it says it is."""
    first, last = cloth.leading, cloth.flat_width - cloth.trailing
    stretches = layout.stretches
    seams = [seam for seam in cloth.seams if first < seam < last]
    assert layout.proved
    assert cloth.pleat_count in (None, layout.pleat_count)
    assert layout.space * (layout.pleat_count - 1) == cloth.finished_width - cloth.leading - cloth.trailing
    assert cloth.space.least <= layout.space <= cloth.space.most
    assert all(cloth.take_up.least <= take_up <= cloth.take_up.most for take_up in layout.take_ups)
    assert (stretches[0].start, stretches[-1].end) == (first, last)
    assert not stretches[0].opens_with_space
    assert not stretches[-1].closes_with_space
    for left, right in pairwise(stretches):
        assert left.end == right.start
        assert left.end in seams
        assert left.closes_with_space != right.opens_with_space

    pleats, at = [], Fraction(first)
    for stretch in stretches:
        assert at == stretch.start
        at += layout.space * stretch.opens_with_space
        for index in range(stretch.pleats):
            at += layout.space * (index > 0)
            pleats.append((at, at + stretch.take_up))
            at += stretch.take_up
        if stretch.pleats:
            at += layout.space * stretch.closes_with_space
        else:
            # The stretch is a single space, and both its ends speak of it.
            assert stretch.opens_with_space
            assert stretch.closes_with_space
        assert at == stretch.end
    assert len(pleats) == layout.pleat_count
    assert sum(end - start for start, end in pleats) == cloth.flat_width - cloth.finished_width
    assert all(right[0] - left[1] == layout.space for left, right in pairwise(pleats))
    in_take_up = sum(any(start < seam < end for start, end in pleats) for seam in seams)
    hidden = sum(any(seam in pleat for pleat in pleats) for seam in seams)
    assert layout.seams_in_take_up == in_take_up
    assert layout.seams_in_space == len(seams) - in_take_up - hidden


class PleatByPleat:
    """One panel with one count of pleats, in units so small that every layout's take-ups are whole numbers.

    Between two hidden seams lie k equal pleats and some spaces of spaces/(count - 1); so each take-up is a multiple
    of 1/(k (count - 1)) of the unit that measures the cloth.
    """

    def __init__(self, cloth, count):
        first, last = cloth.leading, cloth.flat_width - cloth.trailing
        seams = [seam - first for seam in cloth.seams if first < seam < last]
        lengths = (cloth.spaces, last - first, cloth.take_up.least, cloth.take_up.most, *seams)
        unit = math.gcd(*lengths)
        whole = math.lcm(*range(1, count + 1))
        self.scale = Fraction(whole * (count - 1), unit)
        assert (last - first) * self.scale < 2**40
        self.seams = seams
        self.model = cp_model.CpModel()
        space = self.exactly(Fraction(cloth.spaces, count - 1))
        self.take_ups = [
            self.model.new_int_var(self.exactly(cloth.take_up.least), self.exactly(cloth.take_up.most), f"take-up {i}")
            for i in range(count)
        ]
        starts = [sum(self.take_ups[:i]) + i * space for i in range(count)]
        ends = [start + take_up for start, take_up in zip(starts, self.take_ups, strict=True)]
        self.model.add(ends[-1] == self.exactly(last - first))
        self.in_space, self.in_take_up = [], []
        changes = [[] for _ in range(count - 1)]
        for seam in map(self.exactly, seams):
            for i, change in enumerate(changes):
                change += [self.place(ends[i] == seam), self.place(starts[i + 1] == seam)]
            inside = [self.place(starts[i] + 1 <= seam, seam <= ends[i] - 1) for i in range(count)]
            between = [self.place(ends[i] + 1 <= seam, seam <= starts[i + 1] - 1) for i in range(count - 1)]
            hidden = [place for change in changes for place in change[-2:]]
            self.model.add_exactly_one(hidden + inside + between)
            self.in_take_up += inside
            self.in_space += between
        for i, change in enumerate(changes):
            self.model.add(self.take_ups[i] == self.take_ups[i + 1]).only_enforce_if([~place for place in change])

    def exactly(self, length):
        scaled = length * self.scale
        assert scaled.denominator == 1
        return int(scaled)

    def place(self, *conditions):
        here = self.model.new_bool_var("")
        for condition in conditions:
            self.model.add(condition).only_enforce_if(here)
        return here

    def solve(self):
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = 1
        solver.parameters.linearization_level = 2
        solver.parameters.max_deterministic_time = 20
        status = solver.solve(self.model)
        assert status == cp_model.OPTIMAL, solver.status_name(status)
        return solver

    def fewest_exposed(self):
        if not self.seams:
            return 0, 0
        self.model.minimize((len(self.seams) + 1) * sum(self.in_space) + sum(self.in_take_up))
        solver = self.solve()
        fewest = tuple(sum(map(solver.value, places)) for places in (self.in_space, self.in_take_up))
        self.model.add(sum(self.in_space) == fewest[0])
        self.model.add(sum(self.in_take_up) == fewest[1])
        return fewest

    def least_difference(self):
        low, high = self.take_ups[0].proto.domain
        least, most = self.model.new_int_var(low, high, "least"), self.model.new_int_var(low, high, "most")
        for take_up in self.take_ups:
            self.model.add(least <= take_up)
            self.model.add(take_up <= most)
        self.model.minimize(most - least)
        solver = self.solve()
        take_ups = [solver.value(take_up) for take_up in self.take_ups]
        return (max(take_ups) - min(take_ups)) / self.scale


def by_cp_sat(cloth):
    """The worth of the best layout, or None. A count is left when what is known of it is already beaten."""
    best = None
    closeness = {count: abs(Fraction(cloth.spaces, count - 1) - cloth.space.usual) for count in counts_within(cloth)}
    for count in sorted(closeness, key=lambda count: (closeness[count], count)):
        if best and best < (0, 0, 0, closeness[count], 0, count):
            continue
        model = PleatByPleat(cloth, count)
        exposed = model.fewest_exposed()
        if best and best < (*exposed, 0, closeness[count], 0, count):
            continue
        difference = model.least_difference()
        excess = max(difference - cloth.forgiven, Fraction(0))
        found = (*exposed, excess, closeness[count], difference, count)
        best = min(best or found, found)
    return best


def by_enumeration(cloth):
    """The worth of the best layout, or None, of every choice of hidden seams, their sides, and pleats between them."""
    first, last = Fraction(cloth.leading), Fraction(cloth.flat_width - cloth.trailing)
    seams = [seam for seam in map(Fraction, cloth.seams) if first < seam < last]
    best = None
    for count in range(2, cloth.spaces // cloth.space.least + 2 if cloth.spaces > 0 else 2):
        space = Fraction(cloth.spaces, count - 1)
        if cloth.pleat_count not in (None, count) or not cloth.space.least <= space <= cloth.space.most:
            continue
        for chosen in range(len(seams) + 1):
            for anchors in combinations(seams, chosen):
                for sides in product(("end", "start"), repeat=chosen):
                    ends = [(first, "start"), *zip(anchors, sides, strict=True), (last, "end")]
                    for edges in every_filling(cloth, space, ends, count):
                        rank = ranked(cloth, seams, space, edges)
                        best = min(best or rank, rank)
    return best


def every_filling(cloth, space, ends, count):
    """Yield the pleats, as pairs of edges, of every way to share out `count` pleats between the `ends`."""
    if len(ends) == 1:
        if count == 0:
            yield []
        return
    (left, left_side), (right, right_side) = ends[:2]
    outer = (left_side == "end") + (right_side == "start")
    if outer == 2 and right - left == space:
        yield from every_filling(cloth, space, ends[1:], count)
    for pleats in range(1, count + 1):
        take_up = (right - left - (pleats - 1 + outer) * space) / pleats
        if not cloth.take_up.least <= take_up <= cloth.take_up.most:
            continue
        start = left + space if left_side == "end" else left
        here = [(start + i * (take_up + space), start + i * (take_up + space) + take_up) for i in range(pleats)]
        for rest in every_filling(cloth, space, ends[1:], count - pleats):
            yield here + rest


def ranked(cloth, seams, space, edges):
    in_space = in_take_up = 0
    for seam in seams:
        begun = [edge for edge in edges if edge[0] <= seam]
        start, end = begun[-1]
        if start < seam < end:
            in_take_up += 1
        elif end < seam and seam != end + space:
            in_space += 1
    sizes = sorted(end - start for start, end in edges)
    difference = sizes[-1] - sizes[0]
    closeness = abs(space - cloth.space.usual)
    return (
        in_space,
        in_take_up,
        max(Fraction(0), difference - cloth.forgiven),
        closeness,
        difference,
        len(edges),
    )


MODELLED = panels(MAKERS, seed=54, each=100, most_seams=4)
ENUMERATED = panels((*MAKERS, a_hair_off), seed=108, each=60, most_seams=3)


def agrees(cloth, expected):
    if expected is None:
        with pytest.raises(Impossible):
            best_layout(cloth)
        return
    layout = best_layout(cloth)
    check(cloth, layout)
    assert worth(cloth, layout) == expected


@pytest.mark.parametrize("cloth", MODELLED)
def test_cp_sat_finds_a_layout_of_the_same_worth(cloth):
    agrees(cloth, by_cp_sat(cloth))


@pytest.mark.parametrize("cloth", ENUMERATED)
def test_plain_enumeration_finds_a_layout_of_the_same_worth(cloth):
    agrees(cloth, by_enumeration(cloth))


def kind(cloth):
    worth_of_best = by_enumeration(cloth)
    if worth_of_best is None:
        return "impossible"
    in_space, in_take_up = worth_of_best[:2]
    if in_space or in_take_up:
        return "in a space" if in_space else "in a take-up"
    inside = any(cloth.leading < seam < cloth.flat_width - cloth.trailing for seam in cloth.seams)
    return "all hidden" if inside else "no seam"


@pytest.mark.parametrize("drawn", [MODELLED, ENUMERATED], ids=["modelled", "enumerated"])
def test_the_panels_are_of_every_kind(drawn):
    kinds = [kind(param.values[0]) for param in drawn]
    for each in ("all hidden", "in a take-up", "in a space", "impossible", "no seam"):
        assert kinds.count(each) >= 20, each


@pytest.mark.parametrize("drawn", [MODELLED, ENUMERATED], ids=["modelled", "enumerated"])
def test_some_panels_hide_two_seams_with_no_pleat_between_them(drawn):
    possible = [param.values[0] for param in drawn if counts_within(param.values[0])]
    empty = sum(any(stretch.pleats == 0 for stretch in best_layout(cloth).stretches) for cloth in possible)
    assert empty >= 10


def test_a_seam_in_the_space_between_two_hidden_seams_is_exposed():
    """Two pleats of 8 in and a space of 4 in, which the middle seam halves."""
    cloth = panel(40, 8, 0, 0, (16, 20, 24), (12, 16, 20), (6, 8, 10))
    assert by_cp_sat(cloth) == by_enumeration(cloth) == (1, 0, 0, 0, 0, 2)
    agrees(cloth, (1, 0, 0, 0, 0, 2))


def test_two_seams_in_take_ups_are_better_than_one_in_a_space():
    """The same panel with take-ups of 4 to 12 in: a pleat of 12 in runs over two seams and ends at the third."""
    cloth = panel(40, 8, 0, 0, (16, 20, 24), (8, 16, 24), (6, 8, 10))
    best = (0, 2, 15 * HALF, 0, 16 * HALF, 2)
    assert by_cp_sat(cloth) == by_enumeration(cloth) == best
    agrees(cloth, best)
