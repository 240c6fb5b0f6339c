"""Pleating to the pattern against every pitch, count and trim tried one by one, in exact fractions [arithmetic].

The rule [common practice]: the pitch of the pleats is a whole part of the horizontal repeat, so that every space shows
the same motif; the finished width settles the space, the pitch the take-up, and the surplus goes off the two edges.
"""

import random
from collections import Counter
from fractions import Fraction
from itertools import pairwise

import pytest
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.marks import placed_seams, stations
from pleatwright.trade.to_pattern import to_pattern

TAKE_UP = Limits(4 * INCH, 11 * INCH // 2, 7 * INCH)
SPACE = Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2)
FEW_UNITS = 3
LATTICE = 40


def inches(text):
    return Fraction(text) * INCH


def panel(flat, finished, *seams, count=None, edges=("3", "3.5")):
    lengths = [int(inches(text)) for text in (flat, finished, *edges)]
    return Cloth(*lengths, tuple(int(inches(seam)) for seam in seams), TAKE_UP, SPACE, pleat_count=count)


def random_panel(rng):
    """A panel, and a repeat: seams whole repeats apart or anywhere, now and then too little cloth or an odd repeat."""
    finished = rng.randint(20, 60) * INCH + rng.randrange(INCH)
    repeat = rng.choice((rng.randint(3 * INCH, 40 * INCH), rng.randint(14, 54) * INCH // 2, 27 * INCH))
    leading, trailing = (rng.choice((0, 3 * INCH, rng.randrange(1, 4 * INCH))) for _ in range(2))
    flat = finished * rng.randint(160, 330) // 100
    step = rng.choice((repeat, 2 * repeat, rng.randint(10 * INCH, 60 * INCH)))
    seams = [rng.randrange(1, 54 * INCH)]
    while seams[-1] + step < flat and len(seams) < 5:
        seams.append(seams[-1] + step)
    seams = tuple(seam for seam in seams if seam < flat)
    count = rng.randint(4, 14) if rng.random() < 0.2 else None
    return Cloth(flat, finished, leading, trailing, seams, TAKE_UP, SPACE, pleat_count=count), repeat


def every_pitch(cloth, repeat):
    """Each whole part of the repeat with each count of pleats that keeps within the limits and the cloth."""
    spaces = cloth.finished_width - cloth.leading - cloth.trailing
    for count in range(2, 40):
        space = Fraction(spaces, count - 1)
        for parts in range(1, 61):
            take_up = Fraction(repeat, parts) - space
            used = cloth.leading + count * take_up + (count - 1) * space + cloth.trailing
            if (
                cloth.pleat_count in (None, count)
                and SPACE.least <= space <= SPACE.most
                and TAKE_UP.least <= take_up <= TAKE_UP.most
                and used <= cloth.flat_width
            ):
                yield parts, count, space, take_up, used


def fate(place, cloth, count, space, take_up, used):
    """Say where a seam lies at a place of the trimmed panel."""
    if place <= 0 or place >= used:
        return "gone"
    for number in range(count):
        start = cloth.leading + number * (take_up + space)
        if place in (start, start + take_up):
            return "beside"
        if start < place < start + take_up:
            return "inside"
    return "space"


def best_trim(cloth, count, space, take_up, used):
    """Try trims on a lattice, those that bring a seam beside a pleat or to an edge, and the even one."""
    surplus = cloth.flat_width - used
    trims = {surplus * step / LATTICE for step in range(LATTICE + 1)} | {surplus / 2}
    for seam in cloth.seams:
        trims |= {Fraction(seam), seam - used}
        for number in range(count):
            start = cloth.leading + number * (take_up + space)
            trims |= {seam - start, seam - start - take_up}
    tried = []
    for trim in trims:
        if 0 <= trim <= surplus:
            fates = Counter(fate(seam - trim, cloth, count, space, take_up, used) for seam in cloth.seams)
            tried.append((fates["space"], fates["inside"], abs(surplus - 2 * trim), trim))
    return min(tried)


def every_choice(cloth, repeat):
    """Each pitch and count with its best trim, the best first."""
    found = []
    for parts, count, space, take_up, used in every_pitch(cloth, repeat):
        in_space, inside, _, trim = best_trim(cloth, count, space, take_up, used)
        rank = (in_space, inside, abs(space - SPACE.usual), cloth.flat_width - used, count, parts)
        found.append((rank, trim, take_up))
    return sorted(found)


def check(cloth, repeat, choice):
    """Hold one choice against the rule."""
    layout = choice.layout
    trimmed = cloth.flat_width - choice.leading_trim - choice.return_trim
    assert min(choice.leading_trim, choice.return_trim) >= 0
    assert choice.take_up + layout.space == Fraction(repeat, choice.parts)
    assert TAKE_UP.least <= choice.take_up <= TAKE_UP.most
    assert SPACE.least <= layout.space <= SPACE.most
    assert layout.space * (layout.pleat_count - 1) == cloth.finished_width - cloth.leading - cloth.trailing
    assert abs(trimmed - cloth.finished_width - layout.pleat_count * choice.take_up) <= Fraction(1, 2)
    assert layout.proved
    assert layout.stretches[0].start == cloth.leading
    assert layout.stretches[-1].end == trimmed - cloth.trailing
    assert sum(stretch.pleats for stretch in layout.stretches) == layout.pleat_count
    spaces = 0
    for number, stretch in enumerate(layout.stretches):
        held = stretch.pleats - 1 + stretch.opens_with_space + stretch.closes_with_space
        spaces += held
        assert stretch.end - stretch.start == stretch.pleats * stretch.take_up + held * layout.space
        assert abs(stretch.take_up - choice.take_up) < FEW_UNITS
        if number:
            before = layout.stretches[number - 1]
            assert stretch.start == before.end
            # Two pleats meet at no seam: a space lies on one side of it, and one only.
            if before.pleats and stretch.pleats:
                assert stretch.opens_with_space != before.closes_with_space
            assert stretch.start + choice.leading_trim in cloth.seams
    assert spaces == layout.pleat_count - 1


def check_marks(cloth, repeat, choice, division=1):
    """Hold the marks of one choice against the cloth, and the seams against what was counted."""
    layout = choice.layout
    trimmed = cloth.flat_width - choice.leading_trim - choice.return_trim
    row = stations(layout, [("overlap", cloth.leading)], [("return", cloth.trailing)], division)
    assert [piece.start for piece in row] == [0, *(piece.end for piece in row[:-1])]
    assert row[-1].end == trimmed
    pleats = [piece for piece in row if piece.kind == "pleat"]
    for before, after in pairwise(pleats):
        assert abs(after.start - before.start - Fraction(repeat, choice.parts)) <= FEW_UNITS * division
    assert sum(piece.end - piece.start for piece in row if piece.kind == "space") == cloth.spaces
    seams = [seam - choice.leading_trim for seam in cloth.seams if 0 < seam - choice.leading_trim < trimmed]
    return Counter(seam.place for seam in placed_seams(row, seams))


def test_the_choices_are_those_of_trying_everything():
    rng = random.Random(8128)
    met = Counter()
    for _ in range(220):
        cloth, repeat = random_panel(rng)
        expected = every_choice(cloth, repeat)
        if not expected:
            met["refused"] += 1
            with pytest.raises(Impossible):
                to_pattern(cloth, repeat)
            continue
        choices = to_pattern(cloth, repeat)
        assert len(choices) == len(expected)
        for choice, (rank, trim, take_up) in zip(choices, expected, strict=True):
            layout = choice.layout
            assert (layout.seams_in_space, layout.seams_in_take_up) == rank[:2]
            assert (layout.pleat_count, choice.parts, choice.take_up) == (rank[4], rank[5], take_up)
            assert abs(choice.leading_trim - trim) <= Fraction(1, 2)
            check(cloth, repeat, choice)
            places = check_marks(cloth, repeat, choice)
            # A seam a grid unit from a pleat's side may be told otherwise once the marks are whole units.
            if not rank[0] and not rank[1]:
                assert set(places) <= {"beside-pleat"}
            else:
                met["fault"] += 1
        met["pleated"] += 1
        met["split"] += any(len(choice.layout.stretches) > 1 for choice in choices)
        met["trim gone"] += any(seam < choices[0].leading_trim for seam in cloth.seams)
        met["hidden"] += len(cloth.seams) > 1 and not any(expected[0][0][:2])
    assert all(met[what] >= 20 for what in ("refused", "pleated", "split", "fault", "hidden")), met


def test_a_repeat_of_27_in_three_parts():
    """27 / 3 = 9 in pitch; (53 - 6 1/2) / 12 = 3 7/8 in of space; 9 - 3 7/8 = 5 1/8 in of take-up.

    Flat: 53 + 13 * 5 1/8 = 119 5/8 in, so that of 127 in 7 3/8 in come off, 3 11/16 in at each edge.
    """
    (choice,) = to_pattern(panel("127", "53", count=13), 27 * INCH)
    assert (choice.parts, choice.layout.pleat_count) == (3, 13)
    assert (choice.layout.space, choice.take_up) == (inches("3.875"), inches("5.125"))
    assert (choice.leading_trim, choice.return_trim) == (inches("59/16"), inches("59/16"))
    (stretch,) = choice.layout.stretches
    assert (stretch.start, stretch.end, stretch.pleats) == (inches("3"), inches("116.125"), 13)
    row = stations(choice.layout, [("overlap", 3 * INCH)], [("return", 7 * INCH // 2)], INCH // 16)
    pleats = [piece for piece in row if piece.kind == "pleat"]
    assert [piece.start for piece in pleats] == [inches("3") + number * inches("9") for number in range(13)]
    assert {piece.end - piece.start for piece in pleats} == {inches("5.125")}


@pytest.mark.parametrize(
    ("seams", "trim", "splits", "pleats", "sides"),
    [
        # Starts at 3 + 9 i, ends at 8 1/8 + 9 i. 49 1/2 - 3 - 9 * 4 = 10 1/2, - 9 * 5 = 1 1/2; 49 1/2 - 8 1/8 - 9 * 4
        # = 5 3/8, the nearest to 3 11/16 (by 1 11/16; 1 1/2 is off by 2 3/16). 103 1/2 is 6 pitches further on.
        pytest.param(("49.5", "103.5"), "5.375", ("44.125", "98.125"), (5, 6, 2), "AA", id="two repeats apart"),
        # 52 - 3 - 9 * 5 = 4, nearer than 52 - 8 1/8 - 36 = 7 7/8 (too much) or 52 - 8 1/8 - 45 < 0.
        pytest.param(("52", "79"), "4", ("48", "75"), (5, 3, 5), "BB", id="one repeat apart"),
        # 50 3/8 - 44 1/8 = 6 1/4 and 55 1/2 - 48 = 7 1/2 > 7 3/8; 50 3/8 - 48 = 2 3/8 and 55 1/2 - 53 1/8 = 2 3/8.
        pytest.param(("50.375", "55.5"), "2.375", ("48", "53.125"), (5, 1, 7), "BA", id="a take-up apart"),
        # 50 - 44 1/8 = 5 7/8 and 53 7/8 - 48 = 5 7/8: a space between two seams, and no pleat.
        pytest.param(("50", "53.875"), "5.875", ("44.125", "48"), (5, 0, 8), "AB", id="a space apart"),
        # 2 in is gone once 2 in are off, as the even trim has it; no seam is left to hide.
        pytest.param(("2",), "59/16", (), (13,), "", id="a seam in what is cut off"),
    ],
)
def test_seams_are_brought_beside_pleats(seams, trim, splits, pleats, sides):
    cloth = panel("127", "53", *seams, count=13)
    (choice,) = to_pattern(cloth, 27 * INCH)
    assert choice.leading_trim == inches(trim)
    assert choice.leading_trim + choice.return_trim == inches("7.375")
    stretches = choice.layout.stretches
    assert tuple(stretch.start for stretch in stretches[1:]) == tuple(map(inches, splits))
    assert tuple(stretch.pleats for stretch in stretches) == pleats
    assert {stretch.take_up for stretch in stretches} == {inches("5.125")}
    assert "".join("A" if stretch.opens_with_space else "B" for stretch in stretches[1:]) == sides
    assert (choice.layout.seams_in_space, choice.layout.seams_in_take_up) == (0, 0)
    check_marks(cloth, 27 * INCH, choice, INCH // 16)


def test_without_surplus_a_seam_stays_where_it_is():
    """119 5/8 in leave nothing to trim: 9 in lies in the first space (8 1/8 to 12), 14 in in the second take-up."""
    (choice,) = to_pattern(panel("119.625", "53", "9", "14", count=13), 27 * INCH)
    assert (choice.leading_trim, choice.return_trim) == (0, 0)
    assert (choice.layout.seams_in_space, choice.layout.seams_in_take_up) == (1, 1)


def test_a_seam_in_a_flat_piece_that_stays_counts_as_in_a_space():
    """Of 119 5/8 + 1/4 in, a seam at 2 in stays in the 3 in of the leading flat piece whatever is trimmed."""
    (choice,) = to_pattern(panel("119.875", "53", "2", count=13), 27 * INCH)
    assert (choice.leading_trim, choice.return_trim) == (inches("1/8"), inches("1/8"))
    assert choice.layout.seams_in_space == 1


def faults_of(cloth, repeat):
    with pytest.raises(Impossible) as refusal:
        to_pattern(cloth, repeat)
    for fault in refusal.value.faults:
        text = " ".join(filter(None, (fault.detail, fault.seen, fault.allowed)))
        text.format(**fault.lengths)
    return refusal.value.faults


def test_too_little_cloth_is_told_the_least_that_does():
    """13 pleats take 119 5/8 in; less than that by a grid unit is too little, and that much is enough."""
    cloth = panel("119.625", "53", count=13)
    assert to_pattern(cloth, 27 * INCH)
    (fault,) = faults_of(replace(cloth, flat_width=cloth.flat_width - 1), 27 * INCH)
    assert fault.where == ("flat_width",)
    assert fault.lengths["least"] == inches("119.625")
    assert "13 pleats, 3 to a repeat" in fault.detail


def test_of_all_counts_the_one_that_takes_the_least_cloth_is_named():
    """Spaces of 46 1/2 / 11 to 46 1/2 / 15; pitch 9: 53 + n (9 - 46 1/2 / (n - 1)).

    12 pleats: 53 + 12 * (9 - 4 5/22) = 110 3/11 in. A fourth of 27 in, 6 3/4, leaves under 4 in of take-up always.
    """
    (fault,) = faults_of(panel("100", "53"), 27 * INCH)
    assert fault.where == ("flat_width",)
    assert abs(fault.lengths["least"] - inches("1213/11")) < 1
    assert "12 pleats, 3 to a repeat" in fault.detail


def test_a_repeat_no_pitch_divides_is_told_the_nearest_that_does():
    """13 to 16 pleats or 12: the least pitch is 46 1/2 / 15 + 4 = 7.1 in. The most is 46 1/2 / 11 + 7 = 11 5/22 in."""
    (fault,) = faults_of(panel("127", "53"), 5 * INCH)
    assert fault.where == ("horizontal_repeat",)
    assert fault.allowed == "from {above}"
    assert 0 <= fault.lengths["above"] - inches("7.1") < 1
    assert to_pattern(panel("127", "53"), fault.lengths["above"])
    (fault,) = faults_of(panel("127", "53"), 13 * INCH)
    assert 0 <= inches("247/22") - fault.lengths["below"] < 1
    assert 0 <= fault.lengths["above"] - inches("14.2") < 1


def test_a_repeat_of_far_too_many_pitches_is_refused():
    (fault,) = faults_of(panel("127", "53"), 800 * INCH)
    assert fault.where == ("horizontal_repeat",)
    assert fault.allowed == "up to {below}"
    assert 0 <= 60 * inches("247/22") - fault.lengths["below"] < 1


def test_a_count_that_cannot_be_is_told_those_that_can():
    """12 to 14 pleats at 9 in take up to 53 + 14 * (9 - 46 1/2 / 13) = 128 12/13 in, over 127."""
    (fault,) = faults_of(panel("127", "53", count=30), 27 * INCH)
    assert (fault.where, fault.seen, fault.allowed) == (("pleat_count",), "30", "12 to 13")
    (fault,) = faults_of(panel("127", "53", count=14), 27 * INCH)
    assert fault.where == ("flat_width",)
    assert fault.detail.endswith("or ask for 12 to 13 pleats")
    assert [fault.where for fault in faults_of(panel("100", "53", count=30), 27 * INCH)] == [
        ("pleat_count",),
        ("flat_width",),
    ]


@pytest.mark.parametrize(
    ("cloth", "repeat", "where"),
    [
        pytest.param(panel("127", "53"), 0, [("horizontal_repeat",)], id="plain cloth"),
        pytest.param(panel("127", "6.5"), 27 * INCH, [("finished_width",)], id="nothing between the flat pieces"),
        pytest.param(panel("127", "11.6"), 27 * INCH, [("finished_width",)], id="no whole number of spaces"),
        pytest.param(panel("90000", "40000"), 27 * INCH, [("finished_width",)], id="over a thousand pleats"),
        pytest.param(panel("127", "53", "60", "50"), 27 * INCH, [("seams", 1)], id="seams out of order"),
    ],
)
def test_what_cannot_be_is_refused_where_it_is_wrong(cloth, repeat, where):
    assert [fault.where for fault in faults_of(cloth, repeat)] == where


def test_a_stage_curtain_is_chosen_for_in_good_time():
    """Sixty widths of matched cloth: every seam is hidden, in one trim."""
    seams = [str(49 + 54 * number) for number in range(59)]
    choices = to_pattern(panel("3240", "1400", *seams), 27 * INCH)
    assert choices[0].layout.seams_in_space == choices[0].layout.seams_in_take_up == 0
    check(panel("3240", "1400", *seams), 27 * INCH, choices[0])
