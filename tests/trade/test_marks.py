"""Marks on the rule: they cover the flat width, the finished width comes out exact, and hidden seams stay hidden."""

import json
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pleatwright.faults import Impossible
from pleatwright.lengths import INCH, MILLIMETRE, Limits, in_units, parse_length
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import Layout, Stretch, best_layout
from pleatwright.trade.marks import PlacedSeam, Station, mirrored, placed_seams, shared_out, stations
from pleatwright.workroom import pleats

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)
SIXTEENTH = INCH // 16
DIVISIONS = st.sampled_from((SIXTEENTH, MILLIMETRE, INCH // 8, INCH // 4, INCH // 64, 5 * MILLIMETRE, 1, 333))


@st.composite
def cloths(draw, step=1):
    """Widths of cloth seamed together, every figure a whole number of `step`, pleated about as full as is usual.

    Some have pieced seams anywhere, or take-ups so alike that not every seam can be hidden.
    """

    def length(least, most):
        return draw(st.integers(int(least * INCH) // step, int(most * INCH) // step)) * step

    width, hem, allowance = length(36, 60), length(1, 4), length(0, 1)
    pieces = [width] * draw(st.integers(1, 5))
    if draw(st.booleans()):
        pieces.append(width // 2 // step * step)
    flat = sum(pieces) - 2 * allowance * (len(pieces) - 1) - 2 * hem
    seams = [sum(pieces[:end]) - (2 * end - 1) * allowance - hem for end in range(1, len(pieces))]
    pieced = draw(st.lists(st.integers(1, flat // step - 1), max_size=3))
    seams = sorted({*seams, *(seam * step for seam in pieced)})
    leading, trailing = length(0, 4), length(0, 6)
    part = Fraction(draw(st.integers(34, 52)), 100)
    finished = leading + trailing + int((flat - leading - trailing) * part) // step * step
    usual = int(Fraction(7 * INCH, 2) * (1 - part) / part) // step * step
    to_either_side = length(0.25, 2)
    take_up = Limits(usual - to_either_side, usual, usual + to_either_side)
    space = Limits(5 * INCH // 2, 7 * INCH // 2, 9 * INCH // 2)
    return Cloth(flat, finished, leading, trailing, tuple(seams), take_up, space, forgiven=length(0, 1))


def laid_out(cloth):
    try:
        return best_layout(cloth)
    except Impossible:
        assume(False)


def marked(cloth, division):
    layout = laid_out(cloth)
    return layout, stations(layout, [("overlap", cloth.leading)], [("return", cloth.trailing)], division)


def sizes(row, *kinds):
    return [piece.end - piece.start for piece in row if piece.kind in kinds]


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_stations_cover_the_flat_width_end_to_end(cloth, division):
    layout, row = marked(cloth, division)
    assert (row[0].start, row[-1].end) == (0, cloth.flat_width)
    assert all(left.end == right.start for left, right in pairwise(row))
    assert all(piece.start < piece.end for piece in row)
    pleated = [piece for piece in row if piece.kind in ("pleat", "space")]
    assert [piece.kind for piece in pleated] == ["pleat", *["space", "pleat"] * (layout.pleat_count - 1)]
    assert [piece.number for piece in pleated if piece.kind == "pleat"] == list(range(1, layout.pleat_count + 1))
    assert [piece.number for piece in pleated if piece.kind == "space"] == list(range(1, layout.pleat_count))
    assert all(piece.centre * 2 == piece.start + piece.end for piece in row)


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_spaces_and_flat_pieces_come_to_the_finished_width_exactly(cloth, division):
    _, row = marked(cloth, division)
    assert sum(sizes(row, "overlap", "space", "return")) == cloth.finished_width
    assert sum(sizes(row, "pleat")) == cloth.flat_width - cloth.finished_width


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_equal_spaces_differ_by_one_division_at_most(cloth, division):
    layout, row = marked(cloth, division)
    spaces = sizes(row, "space")
    assert max(spaces) - min(spaces) <= division
    assert all(abs(space - layout.space) < division for space in spaces)


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_take_ups_within_a_stretch_differ_by_one_division_at_most(cloth, division):
    layout, row = marked(cloth, division)
    take_ups = iter(sizes(row, "pleat"))
    for stretch in layout.stretches:
        within = [next(take_ups) for _ in range(stretch.pleats)]
        assert not within or max(within) - min(within) <= division
    assert not list(take_ups)


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_a_hidden_seam_stays_on_the_stitching_line_of_a_pleat(cloth, division):
    layout, row = marked(cloth, division)
    hidden = [stretch.end for stretch in layout.stretches[:-1]]
    exposed = layout.seams_in_space + layout.seams_in_take_up
    within = [seam for seam in cloth.seams if cloth.leading < seam < cloth.flat_width - cloth.trailing]
    assert len(hidden) + exposed == len(within)
    lines = {line for piece in row if piece.kind == "pleat" for line in (piece.start, piece.end)}
    assert lines.issuperset(hidden)
    assert all(seam.place == "beside-pleat" for seam in placed_seams(row, hidden))


@REPEATABLE
@given(cloths(), DIVISIONS, st.data())
def test_a_seam_is_said_to_be_where_it_is(cloth, division, data):
    _, row = marked(cloth, division)
    lines = [line for piece in row for line in (piece.start, piece.end)]
    anywhere = st.integers(1, cloth.flat_width - 1)
    seams = data.draw(st.lists(anywhere | st.sampled_from(lines), min_size=1, max_size=6))
    for seam, placed in zip(seams, placed_seams(row, seams), strict=True):
        assert placed.at == seam
        touched = [piece for piece in row if piece.kind == "pleat" and piece.start <= seam <= piece.end]
        if not touched:
            assert (placed.place, placed.side) == ("in-space", None)
            continue
        (pleat,) = touched
        side = {pleat.start: "leading", pleat.end: "return"}.get(seam)
        place = "beside-pleat" if side else "inside-pleat"
        assert placed == PlacedSeam(seam, place, pleat.number, side)


@REPEATABLE
@given(cloths(), DIVISIONS)
def test_a_row_mirrored_twice_is_the_same_row(cloth, division):
    _, row = marked(cloth, division)
    once = mirrored(row, cloth.flat_width)
    assert mirrored(once, cloth.flat_width) == row
    assert [piece.end - piece.start for piece in once] == [piece.end - piece.start for piece in reversed(row)]
    assert (once[0].start, once[-1].end) == (0, cloth.flat_width)


@REPEATABLE
@given(cloths(step=INCH // 64))
def test_the_same_cloth_in_inches_and_in_millimetres_has_the_same_layout(cloth):
    """A sixty-fourth is exactly 0.396875 mm, so that the figures of both are exact."""

    def again(units):
        def read(length):
            return parse_length(in_units(length, units), units)

        def limits(limits):
            return Limits(read(limits.least), read(limits.usual), read(limits.most))

        return Cloth(
            read(cloth.flat_width),
            read(cloth.finished_width),
            read(cloth.leading),
            read(cloth.trailing),
            tuple(map(read, cloth.seams)),
            limits(cloth.take_up),
            limits(cloth.space),
        )

    assert laid_out(again("in")) == best_layout(again("mm")) == best_layout(again("cm"))


@REPEATABLE
@given(cloths(step=INCH // 64), st.sampled_from((2, 3, 7)))
def test_a_cloth_some_times_as_large_has_a_layout_as_many_times_as_large(cloth, times):
    def larger(limits):
        return Limits(limits.least * times, limits.usual * times, limits.most * times)

    layout = laid_out(cloth)
    large = best_layout(
        Cloth(
            cloth.flat_width * times,
            cloth.finished_width * times,
            cloth.leading * times,
            cloth.trailing * times,
            tuple(seam * times for seam in cloth.seams),
            larger(cloth.take_up),
            larger(cloth.space),
            cloth.forgiven * times,
        )
    )
    assert large.pleat_count == layout.pleat_count
    assert large.space == layout.space * times
    assert large.take_ups == tuple(take_up * times for take_up in layout.take_ups)
    assert [stretch.pleats for stretch in large.stretches] == [stretch.pleats for stretch in layout.stretches]


@pytest.fixture
def ask(headings, request_reader):
    """Ask for the pleats of a panel of 127 in, with some of its figures changed."""

    def asked(**changes):
        panel = {
            "units": "in",
            "heading": {"style": "three-fold-pinch"},
            "flat_width": "127 in",
            "finished_width": "53 in",
            "overlap": "3 in",
            "return": "3 1/2 in",
            "seams": ["50 1/2 in", "103 1/2 in"],
            "take_up_difference": "3/4 in",
            "mark": "1/16 in",
        }
        return pleats(request_reader.read("pleats", json.dumps(panel | changes).encode()), headings)

    return asked


@pytest.mark.parametrize("units", ["mm", "cm"])
def test_the_same_request_in_metric_has_the_same_marks(ask, units):
    inch, metric = ask(), ask(units=units)
    assert metric.pleat_count == inch.pleat_count == 13
    for one, other in zip(inch.stations, metric.stations, strict=True):
        assert (one.kind, one.number) == (other.kind, other.number)
        assert parse_length(one.start, "in") == parse_length(other.start, units)
        assert parse_length(one.end, "in") == parse_length(other.end, units)
    assert [(seam.place, seam.pleat, seam.side) for seam in inch.seams] == [
        (seam.place, seam.pleat, seam.side) for seam in metric.seams
    ]


def test_a_panel_worked_by_hand_is_marked_in_sixteenths(ask):
    """Spaces of 3 7/8 and take-ups of 5 5/8, 5 29/48 and 6 1/8: only those of the second stretch need sharing out.

    33 5/8 in for six pleats are 538 sixteenths: 89 each and 4 over, so two of the six take a sixteenth less.
    """
    row = ask().stations
    assert {piece.end - piece.start for piece in row if piece.kind == "space"} == {3.875}
    take_ups = [(piece.end - piece.start) * 16 for piece in row if piece.kind == "pleat"]
    assert take_ups[:5] == [90] * 5
    assert sorted(take_ups[5:11]) == [89, 89, 90, 90, 90, 90]
    assert take_ups[11:] == [98, 98]
    assert [(piece.start, piece.end) for piece in row if piece.kind in ("overlap", "return")] == [(0, 3), (123.5, 127)]


def test_a_rule_too_coarse_for_the_pleats_is_refused(ask):
    """Spaces of 3 7/8 hold no division of ten inches: rounded to it, some would have no width at all."""
    with pytest.raises(Impossible) as impossible:
        ask(mark="10 in")
    assert ("mark",) in [fault.where for fault in impossible.value.faults]


@REPEATABLE
@given(st.integers(0, 10**6), st.integers(1, 200), st.integers(1, 5_000))
def test_shares_come_to_the_total_and_differ_by_a_division_at_most(total, parts, division):
    shares = shared_out(total, parts, division)
    assert len(shares) == parts
    assert sum(shares) == total
    assert max(shares) - min(shares) <= division
    assert sum(share % division != 0 for share in shares) <= 1


@REPEATABLE
@given(st.integers(0, 3_000), st.integers(1, 200), st.sampled_from((1, 508)))
def test_the_larger_shares_are_spread_evenly(divisions, parts, division):
    """Up to any part, the sum is less than a division from an exact share."""
    shares = shared_out(divisions * division, parts, division)
    for part in range(1, parts + 1):
        assert abs(sum(shares[:part]) - Fraction(divisions * division * part, parts)) < division


def test_a_space_between_two_seams_keeps_its_exact_width():
    """Pleats of 75 and spaces of 50, the middle one from seam to seam; on a rule of twelves the other two share 100.

    That is 8 divisions and 4 over: one is 4 x 12 + 4, the other 4 x 12.
    """
    layout = Layout(
        pleat_count=4,
        space=Fraction(50),
        stretches=(
            Stretch(0, 200, 2, Fraction(75), opens_with_space=False, closes_with_space=False),
            Stretch(200, 250, 0, Fraction(0), opens_with_space=True, closes_with_space=True),
            Stretch(250, 450, 2, Fraction(75), opens_with_space=False, closes_with_space=False),
        ),
        seams_in_space=0,
        seams_in_take_up=0,
        proved=True,
        least_take_up=Fraction(75),
        most_take_up=Fraction(75),
    )
    row = stations(layout, [], [], 12)
    assert sizes(row, "space") == [52, 50, 48]
    assert [piece for piece in row if piece.kind == "space"][1] == Station("space", 200, 250, 2)
    assert [seam.side for seam in placed_seams(row, (200, 250))] == ["return", "leading"]
    assert (row[0].start, row[-1].end) == (0, 450)


def test_flat_pieces_are_in_the_order_given_and_one_of_no_width_has_no_station():
    layout = best_layout(
        Cloth(30, 14, 3, 1, (), Limits(4, 5, 6), Limits(4, 5, 6)),
    )
    row = stations(layout, [("return", 1), ("overlap", 2)], [("return", 1)], 1)
    assert [piece.kind for piece in row][:2] == ["return", "overlap"]
    assert row[-1] == Station("return", 29, 30)
    bare = stations(best_layout(Cloth(26, 10, 0, 0, (), Limits(4, 5, 6), Limits(4, 5, 6))), [("overlap", 0)], [], 1)
    assert {piece.kind for piece in bare} == {"pleat", "space"}


def test_a_seam_in_a_flat_piece_touches_no_pleat():
    row = [Station("overlap", 0, 3), Station("pleat", 3, 8, 1), Station("space", 8, 12, 1), Station("pleat", 12, 17, 2)]
    row.append(Station("return", 17, 20))
    assert placed_seams(row, (2, 3, 5, 8, 10, 12, 17, 18)) == [
        PlacedSeam(2, "in-space", None, None),
        PlacedSeam(3, "beside-pleat", 1, "leading"),
        PlacedSeam(5, "inside-pleat", 1, None),
        PlacedSeam(8, "beside-pleat", 1, "return"),
        PlacedSeam(10, "in-space", 1, None),
        PlacedSeam(12, "beside-pleat", 2, "leading"),
        PlacedSeam(17, "beside-pleat", 2, "return"),
        PlacedSeam(18, "in-space", None, None),
    ]


def test_a_mirrored_row_is_measured_from_the_other_edge():
    row = [Station("overlap", 0, 3), Station("pleat", 3, 8, 1), Station("space", 8, 12, 1), Station("pleat", 12, 20, 2)]
    assert mirrored(row, 20) == [
        Station("pleat", 0, 8, 2),
        Station("space", 8, 12, 1),
        Station("pleat", 12, 17, 1),
        Station("overlap", 17, 20),
    ]


@pytest.mark.parametrize("trimmed", [0, 1, 17, 127])
def test_a_flat_width_off_the_rule_keeps_its_sums(trimmed):
    """A panel measured as sewn need not fall on the rule; what is over goes to one piece of the stretch."""
    cloth = Cloth(
        127 * INCH - trimmed,
        53 * INCH,
        3 * INCH,
        7 * INCH // 2,
        (101 * INCH // 2, 207 * INCH // 2),
        Limits(4 * INCH, 11 * INCH // 2, 7 * INCH),
        Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2),
    )
    for measured in (cloth, replace(cloth, finished_width=53 * INCH - 5 * trimmed)):
        _, row = marked(measured, SIXTEENTH)
        assert row[-1].end == measured.flat_width
        assert sum(sizes(row, "overlap", "space", "return")) == measured.finished_width
