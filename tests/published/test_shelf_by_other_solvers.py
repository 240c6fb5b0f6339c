"""The best plan for a shelf, found again by two oracles that share nothing with the planner.

The first tries every piece for every cut and every order along a piece, each cut at the first place it can have. The
second is an integer programme solved by HiGHS, with a variable for each cut, piece and start on a lattice. Shelves are
small, and their lengths few units long, so that both are exact.
"""

import random
from fractions import Fraction
from itertools import accumulate, pairwise, product
from math import ceil, lcm

import highspy
import pytest

from pleatwright.trade.bolts import Flaw, Piece, Plan, Shortfall, Undecided
from pleatwright.trade.repeat import Wanted
from pleatwright.trade.shelf import plan

FURTHER = "further"


def drawn_flaw(rng, length):
    start = rng.randint(0, length)
    return Flaw(start, start if rng.random() < 0.4 else min(length, start + rng.randint(1, 3)))


def drawn_pieces(rng, count, total, lots, repeat):
    """Pieces that hold all the cuts together, or nearly, or amply."""
    room = max(count, round(total * rng.uniform(0.9, 2.6)))
    marks = sorted(rng.sample(range(1, room), min(count, room) - 1))
    for start, end in pairwise((0, *marks, room)):
        length = end - start + rng.randint(0, 2)
        flaws = [drawn_flaw(rng, length) for _ in range(rng.choice((0, 0, 0, 1, 1, 2, 3)))]
        yield Piece(length, rng.choice("AB"[:lots]), rng.randrange(repeat or 1), tuple(flaws))


def drawn_cut(rng, lengths, repeat, drop, motif):
    phase = rng.randrange(6) * drop % 1 * repeat
    return Wanted(rng.choice(lengths), (phase + motif) % repeat if repeat else Fraction(0))


def shelf(rng, most_pieces, most_cuts, longest, repeats):
    """Draw the cuts of up to three windows, and pieces for them."""
    repeat, drop = rng.choice(repeats), Fraction(rng.choice(("0", "1/2", "1/2", "1/3")))
    windows = rng.randint(1, 3)
    groups = [rng.randrange(windows) for _ in range(rng.randint(1, most_cuts))]
    lengths = [[rng.randint(1, longest) for _ in range(rng.randint(1, 2))] for _ in range(windows)]
    motifs = [rng.choice((0, 0, rng.randrange(repeat or 1))) for _ in range(windows)]
    cuts = [drawn_cut(rng, lengths[group], repeat, drop, motifs[group]) for group in groups]
    total = sum(cut.length for cut in cuts)
    pieces = drawn_pieces(rng, rng.randint(1, most_pieces), total, rng.randint(1, 2), repeat)
    return cuts, groups, tuple(pieces), repeat


def shelves(seed, count, **sizes):
    rng = random.Random(seed)
    return [pytest.param(*shelf(rng, **sizes), id=f"{seed}-{number}") for number in range(1, count + 1)]


PLAIN, PATTERNED = (0,), (2, 3, 4, 5, 6, 8)
ENUMERATED = [
    *shelves("plain, tried", 150, most_pieces=3, most_cuts=6, longest=12, repeats=PLAIN),
    *shelves("patterned, tried", 350, most_pieces=3, most_cuts=6, longest=12, repeats=PATTERNED),
]
MODELLED = [
    *shelves("plain, modelled", 100, most_pieces=4, most_cuts=7, longest=6, repeats=PLAIN),
    *shelves("patterned, modelled", 250, most_pieces=4, most_cuts=7, longest=7, repeats=PATTERNED),
]
each_enumerated = pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), ENUMERATED)
each_modelled = pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), MODELLED)


def whole(piece, start, end):
    """Whether a cut lies on its piece with no flaw inside it; it may touch one."""
    return end <= piece.length and all(end <= flaw.start or flaw.end <= start for flaw in piece.flaws)


def first_place(piece, cut, at, repeat):
    """The first place for a cut that does not start before `at`; None when there is none."""
    # The cut can be brought forward until it starts at `at`, at the end of a flaw, or there but for the pattern.
    places = []
    for start in (at, *(flaw.end for flaw in piece.flaws if flaw.end > at)):
        if repeat:
            start += (cut.phase - piece.phase - start) % repeat
        if whole(piece, start, start + cut.length):
            places.append(start)
    return min(places, default=None)


def least_ends(piece, cuts, repeat):
    """The least end on the piece of every set of cuts that fits on it, over all orders along it."""
    least = {}

    def onwards(taken, at):
        least[taken] = min(at, least.get(taken, at))
        for index, cut in enumerate(cuts):
            if index not in taken:
                start = first_place(piece, cut, at, repeat)
                if start is not None:
                    onwards(taken | {index}, start + cut.length)

    onwards(frozenset(), Fraction(0))
    return least


def every_plan(cuts, groups, lots, ends):
    """Yield what each piece gives, as sets of cuts, of every plan."""
    for where in product(range(len(lots)), repeat=len(cuts)):
        if len({(group, lots[at]) for group, at in zip(groups, where, strict=True)}) > len(set(groups)):
            continue
        sets = [frozenset(cut for cut, place in enumerate(where) if place == at) for at in range(len(lots))]
        if all(taken in fits for taken, fits in zip(sets, ends, strict=True)):
            yield sets


def best_by_trying(cuts, groups, pieces, repeat):
    """The fewest pieces and then the least cloth; None when there is no plan."""
    ends = [least_ends(piece, cuts, repeat) for piece in pieces]
    return min(
        (
            (sum(map(bool, sets)), sum(end[taken] for end, taken in zip(ends, sets, strict=True)))
            for sets in every_plan(cuts, groups, [piece.lot for piece in pieces], ends)
        ),
        default=None,
    )


def shortfall_by_trying(cuts, groups, pieces, repeat):
    """The least whole length of one further piece, of each lot there is and of a lot of its own."""
    ends = [least_ends(piece, cuts, repeat) for piece in pieces]
    # A further piece may be cut so that it starts just where the pattern stands as its first cut needs it.
    ample = sum(cut.length + repeat for cut in cuts)
    phases = {cut.phase for cut in cuts}
    further = [least_ends(Piece(ample, phase=phase), cuts, repeat) for phase in phases]
    spans = {taken: min(span[taken] for span in further) for taken in further[0]}
    lots = [piece.lot for piece in pieces]
    return {
        None if lot == FURTHER else lot: min(
            ceil(spans[sets[-1]]) for sets in every_plan(cuts, groups, [*lots, lot], [*ends, spans])
        )
        for lot in {*lots, FURTHER}
    }


class OnALattice:
    """Where each cut starts on each piece, in units in which every phase is a whole number."""

    def __init__(self, cuts, groups, pieces, repeat):
        self.unit = lcm(*(cut.phase.denominator for cut in cuts))
        self.solver = highspy.Highs()
        for option, value in (("output_flag", False), ("threads", 1), ("mip_rel_gap", 0.0)):
            self.solver.setOptionValue(option, value)
        self.columns = 0
        lots = {piece.lot for piece in pieces}
        chosen = {(group, lot): self.binary() for group in set(groups) for lot in lots}
        for group in set(groups):
            self.row(1, 1, {chosen[group, lot]: 1 for lot in lots})
        self.dear = sum(piece.length for piece in pieces) * self.unit + 1
        of_cut = [{} for _ in cuts]
        for piece in pieces:
            used, end = self.binary(self.dear), self.column(1, piece.length * self.unit)
            cover = [{} for _ in range(piece.length * self.unit)]
            for index, cut in enumerate(cuts):
                here = {}
                for start in self.starts(piece, cut, repeat):
                    here[self.binary()] = 1
                    for at in range(start, start + cut.length * self.unit):
                        cover[at][self.columns - 1] = 1
                self.row(-highspy.kHighsInf, 0, {**here, chosen[groups[index], piece.lot]: -1})
                of_cut[index] |= here
            for at, over in enumerate(cover):
                self.row(-highspy.kHighsInf, 0, {**over, used: -1})
                self.row(-highspy.kHighsInf, 0, dict.fromkeys(over, at + 1) | {end: -1})
        for places in of_cut:
            self.row(1, 1, places)

    def starts(self, piece, cut, repeat):
        for start in range((piece.length - cut.length) * self.unit + 1):
            place = Fraction(start, self.unit)
            if whole(piece, place, place + cut.length) and not (repeat and (piece.phase + place - cut.phase) % repeat):
                yield start

    def column(self, cost, most):
        self.solver.addCol(cost, 0, most, 0, [], [])
        self.columns += 1
        return self.columns - 1

    def binary(self, cost=0):
        column = self.column(cost, 1)
        self.solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
        return column

    def row(self, least, most, coefficients):
        self.solver.addRow(least, most, len(coefficients), list(coefficients), list(coefficients.values()))

    def best(self):
        self.solver.run()
        status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        assert status == highspy.HighsModelStatus.kOptimal, status
        count, end = divmod(round(self.solver.getObjectiveValue()), self.dear)
        return count, Fraction(end, self.unit)


def worth(found):
    return sum(map(bool, found.cuts)), sum((placed[-1].end for placed in found.cuts if placed), Fraction(0))


def check(found, cuts, groups, pieces, repeat):
    """See that a plan can be cut from the shelf as it says."""
    assert sorted(place.index for placed in found.cuts for place in placed) == list(range(len(cuts)))
    lots = set()
    for piece, placed in zip(pieces, found.cuts, strict=True):
        end = Fraction(0)
        for place in placed:
            cut = cuts[place.index]
            assert end <= place.start
            assert place.end - place.start == cut.length
            assert place.end <= piece.length
            assert not any(place.start < flaw.end and flaw.start < place.end for flaw in piece.flaws)
            if repeat:
                assert (piece.phase + place.start - cut.phase) % repeat == 0
            lots.add((groups[place.index], piece.lot))
            end = place.end
    assert len(lots) == len(set(groups))


def agrees(found, expected, cuts, groups, pieces, repeat):
    if expected is None:
        assert isinstance(found, Shortfall)
    else:
        assert isinstance(found, Plan)
        check(found, cuts, groups, pieces, repeat)
        assert worth(found) == expected
    assert found.proved


@each_enumerated
def test_no_other_choice_of_pieces_and_orders_is_better(cuts, groups, pieces, repeat):
    expected = best_by_trying(cuts, groups, pieces, repeat)
    agrees(plan(cuts, groups, pieces, repeat), expected, cuts, groups, pieces, repeat)


@each_modelled
def test_highs_finds_a_plan_of_the_same_worth(cuts, groups, pieces, repeat):
    expected = OnALattice(cuts, groups, pieces, repeat).best()
    agrees(plan(cuts, groups, pieces, repeat), expected, cuts, groups, pieces, repeat)


@pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), [*ENUMERATED[::7], *MODELLED[::7]])
def test_the_two_oracles_agree_with_each_other(cuts, groups, pieces, repeat):
    assert OnALattice(cuts, groups, pieces, repeat).best() == best_by_trying(cuts, groups, pieces, repeat)


@each_enumerated
def test_what_is_missing_is_the_shortest_further_piece_with_which_there_is_a_plan(cuts, groups, pieces, repeat):
    found = plan(cuts, groups, pieces, repeat)
    if isinstance(found, Shortfall):
        lengths = shortfall_by_trying(cuts, groups, pieces, repeat)
        assert found.length == min(lengths.values()) == lengths[found.lot]


@pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), ENUMERATED[::2])
def test_with_what_is_missing_there_is_a_plan_and_with_less_there_is_none(cuts, groups, pieces, repeat):
    """Asked of the planner itself, with the further piece at every phase of a cut that a piece can have."""
    found = plan(cuts, groups, pieces, repeat)
    phases = {int(cut.phase) for cut in cuts if cut.phase.denominator == 1}
    if isinstance(found, Plan) or len(phases) < len({cut.phase for cut in cuts}):
        return
    lot = FURTHER if found.lot is None else found.lot

    def with_further(length):
        return [isinstance(plan(cuts, groups, [*pieces, Piece(length, lot, phase)], repeat), Plan) for phase in phases]

    assert any(with_further(found.length))
    assert not any(with_further(found.length - 1))


@pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), MODELLED[::2])
def test_the_same_shelf_gives_the_same_plan(cuts, groups, pieces, repeat):
    """Also when the work runs out."""
    for most_work in (1e-4, 1.0):
        first, second = (plan(cuts, groups, pieces, repeat, most_work) for _ in range(2))
        assert first == second


@pytest.mark.parametrize("most_work", [1e-6, 1e-4, 1e-3])
@pytest.mark.parametrize(("cuts", "groups", "pieces", "repeat"), ENUMERATED[::4])
def test_with_next_to_no_work_allowed_nothing_is_said_that_is_not_so(cuts, groups, pieces, repeat, most_work):
    found = plan(cuts, groups, pieces, repeat, most_work)
    if isinstance(found, Undecided):
        return
    best = best_by_trying(cuts, groups, pieces, repeat)
    if isinstance(found, Shortfall):
        assert best is None
        lengths = shortfall_by_trying(cuts, groups, pieces, repeat)
        assert found.length >= lengths[found.lot]
        assert found.length == min(lengths.values()) or not found.proved
        return
    check(found, cuts, groups, pieces, repeat)
    count, cloth = worth(found)
    assert count - found.pieces_gap <= best[0] <= count
    assert cloth - found.cloth_gap <= best[1]
    assert worth(found) == best or not found.proved


def made_to_fit(rng, count, each, repeat):
    """Pieces cut up without waste at phases that follow, some cloth added to each, and two pieces to spare."""
    cuts, pieces = [], []
    for _ in range(count):
        start = at = rng.randrange(repeat or 1)
        for _ in range(each):
            cuts.append(Wanted(rng.randint(20, 90), Fraction(at % repeat if repeat else 0)))
            at += cuts[-1].length
        pieces.append(Piece(at - start + rng.randint(0, 3), "", start))
    pieces += [Piece(piece.length - rng.randint(5, 20), "", rng.randrange(repeat or 1)) for piece in pieces[:2]]
    rng.shuffle(cuts)
    rng.shuffle(pieces)
    return cuts, [0] * len(cuts), pieces, repeat


def test_a_plan_that_is_not_proved_says_by_how_much_it_may_be_beaten():
    """Of shelves too large for the work allowed, whose best plan is known: every cut where it was first cut from."""
    rng = random.Random(61)
    beaten = {"pieces": 0, "cloth": 0}
    for most_work in (0.003, 0.01, 0.02, 0.04):
        for repeat in (0, 24, 24, 64, 64) * 3:
            cuts, groups, pieces, repeat = made_to_fit(rng, rng.randint(3, 4), rng.randint(3, 4), repeat)
            total = sum(cut.length for cut in cuts)
            longest_first = accumulate(sorted((piece.length for piece in pieces), reverse=True))
            fewest = 1 + sum(length < total for length in longest_first)
            assert fewest == len(pieces) - 2
            found = plan(cuts, groups, pieces, repeat, most_work)
            assert not isinstance(found, Shortfall)
            if isinstance(found, Undecided):
                continue
            check(found, cuts, groups, pieces, repeat)
            count, cloth = worth(found)
            assert count - found.pieces_gap <= fewest <= count
            assert cloth - found.cloth_gap <= total <= cloth
            beaten["pieces"] += count > fewest
            beaten["cloth"] += cloth > total
    assert min(beaten.values()) >= 3, beaten


def test_with_next_to_no_work_allowed_every_answer_is_given_by_some_shelf():
    found = [plan(*param.values, most_work=1e-4) for param in ENUMERATED[::4]]
    for kind in (Plan, Shortfall):
        proved = [each.proved for each in found if isinstance(each, kind)]
        assert min(proved.count(True), proved.count(False)) >= 5, kind
    assert sum(isinstance(each, Undecided) for each in found) >= 5


@pytest.mark.parametrize("drawn", [ENUMERATED, MODELLED], ids=["enumerated", "modelled"])
def test_the_shelves_are_of_every_kind(drawn):
    shelves = [param.values for param in drawn]
    plans = [found for found in (plan(*each) for each in shelves) if isinstance(found, Plan)]
    assert 100 < len(plans) < len(shelves) - 100
    assert sum(sum(map(bool, found.cuts)) > 1 for found in plans) > 40
    assert {len(cuts) for cuts, *_ in shelves} >= set(range(1, 7))
    assert {len(pieces) for _, _, pieces, _ in shelves} >= {1, 2, 3}
    assert {len(set(groups)) for _, groups, _, _ in shelves} == {1, 2, 3}
    for count, kind in (
        (60, lambda _, pieces: any(flaw.start == flaw.end for piece in pieces for flaw in piece.flaws)),
        (60, lambda _, pieces: any(flaw.start < flaw.end for piece in pieces for flaw in piece.flaws)),
        (60, lambda _, pieces: len({piece.lot for piece in pieces}) > 1),
        (20, lambda cuts, _: any(cut.phase.denominator > 1 for cut in cuts)),
        (60, lambda cuts, _: len(set(cuts)) < len(cuts)),
    ):
        assert sum(kind(cuts, pieces) for cuts, _, pieces, _ in shelves) > count


def test_rounds_of_the_pattern_that_do_not_meet_are_joined():
    """By 6, cuts of 6 from 0 and from 2: from one round to the other is 2, which 24 of cloth leave no room for."""
    cuts = [Wanted(6), Wanted(6), Wanted(6, Fraction(2)), Wanted(6, Fraction(2))]
    best = plan(cuts, [0] * 4, [Piece(26)], 6)
    check(best, cuts, [0] * 4, [Piece(26)], 6)
    assert worth(best) == (1, 26)
    assert plan(cuts, [0] * 4, [Piece(25)], 6) == Shortfall(6, "", True)


def test_a_shelf_with_nothing_on_it_lacks_all_the_cloth():
    assert plan([Wanted(5), Wanted(7)], [0, 0], [], 0) == Shortfall(12, None, True)
