"""Ways ranked and beaten, against brute force that is written without the ranking's own figures."""

from decimal import Decimal
from fractions import Fraction
from itertools import combinations, permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from pleatwright.trade.ranking import Merits, beaten_by, ranked

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)

# So few figures of each that ties are common, and equal ways are.
PRICES = st.sampled_from([None, Decimal("0.00"), Decimal("9.99"), Decimal("10.00")])
WAYS = st.builds(
    Merits,
    kind=st.sampled_from(["box", "goblet"]),
    seams_not_hidden=st.integers(0, 2),
    price=PRICES,
    cloth=st.integers(1, 3),
    fullness=st.sampled_from([Fraction(2), Fraction(5, 2), Fraction(5001, 2000)]),
    unevenness=st.sampled_from([Fraction(0), Fraction(1, 3), Fraction(1)]),
)


def goes_before(one, other):
    """Tell whether one way is better than another: a price at all, then seams, price, cloth, fullness and evenness."""
    if (one.price is None) != (other.price is None):
        return other.price is None
    if one.seams_not_hidden != other.seams_not_hidden:
        return one.seams_not_hidden < other.seams_not_hidden
    if one.price is not None and one.price != other.price:
        return one.price < other.price
    if one.cloth != other.cloth:
        return one.cloth < other.cloth
    if one.fullness != other.fullness:
        return one.fullness > other.fullness
    return one.unevenness < other.unevenness


def is_better_in_one_and_worse_in_none(one, other):
    if one.kind != other.kind or (one.price is None) != (other.price is None):
        return False
    worse = [
        one.seams_not_hidden > other.seams_not_hidden,
        one.price is not None and one.price > other.price,
        one.cloth > other.cloth,
        one.fullness < other.fullness,
        one.unevenness > other.unevenness,
    ]
    better = [
        one.seams_not_hidden < other.seams_not_hidden,
        one.price is not None and one.price < other.price,
        one.cloth < other.cloth,
        one.fullness > other.fullness,
        one.unevenness < other.unevenness,
    ]
    return any(better) and not any(worse)


@REPEATABLE
@given(st.lists(WAYS, max_size=8))
def test_no_way_stands_after_one_that_it_should_go_before_and_equal_ones_keep_their_order(ways):
    order = ranked(ways)
    assert sorted(order) == list(range(len(ways)))
    for before, after in combinations(order, 2):
        assert not goes_before(ways[after], ways[before])
        if not goes_before(ways[before], ways[after]):
            assert before < after


@REPEATABLE
@given(st.lists(WAYS, max_size=4))
def test_the_order_is_the_only_one_of_all_the_orders_that_could_be(ways):
    """Brute force: of every permutation, those in which nothing stands out of turn. There is one, and it is that."""
    sound = [
        list(order)
        for order in permutations(range(len(ways)))
        if all(
            goes_before(ways[before], ways[after]) or (not goes_before(ways[after], ways[before]) and before < after)
            for before, after in combinations(order, 2)
        )
    ]
    assert sound == [ranked(ways)]


@REPEATABLE
@given(st.lists(WAYS, max_size=8))
def test_each_way_is_beaten_by_the_first_that_is_better_in_one_thing_and_worse_in_none(ways):
    expected = []
    for each in ways:
        winners = [place for place, other in enumerate(ways) if is_better_in_one_and_worse_in_none(other, each)]
        expected.append(winners[0] if winners else None)
    assert beaten_by(ways) == expected


@REPEATABLE
@given(st.lists(WAYS, max_size=8))
def test_in_order_no_way_is_beaten_by_one_that_stands_after_it(ways):
    in_order = [ways[place] for place in ranked(ways)]
    beaten = beaten_by(in_order)
    assert all(winner is None or winner < place for place, winner in enumerate(beaten))
    # And so the one by which it is said to be beaten is beaten by none itself.
    assert all(winner is None or beaten[winner] is None for winner in beaten)


@REPEATABLE
@given(WAYS, WAYS, WAYS)
def test_to_beat_is_a_strict_order(one, two, three):
    assert not one.beats(one)
    assert not (one.beats(two) and two.beats(one))
    if one.beats(two) and two.beats(three):
        assert one.beats(three)


def test_a_free_way_is_not_taken_for_one_without_a_price():
    """A customer's own cloth and no labour may come to nothing at all."""
    free, unpriced = (Merits("box", 0, price, 1, Fraction(2), Fraction(0)) for price in (Decimal("0.00"), None))
    worse = Merits("box", 1, Decimal("0.00"), 1, Fraction(2), Fraction(0))
    assert ranked([unpriced, worse, free]) == [2, 1, 0]
    assert beaten_by([unpriced, worse, free]) == [None, 2, None]
