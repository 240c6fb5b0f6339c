"""The outline of every installed style, integrated numerically from its SVG path: no cloth made, none lost [geometry].

The path's grammar is that of SVG 2, chapter "Paths"; arcs go from endpoints to centres by its appendix of
implementation notes, "Conversion from endpoint to center parameterization". Lengths and bounds are shapely's, from
points so fine that a chord differs from its arc by less than a part in ten million.
"""

import math

import msgspec
import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, box

from pleatwright.headings.host import find_headings
from pleatwright.lengths import INCH

STYLES = find_headings().installed
STEPS = 4_096
CLOSE = 1e-6
REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=30)
OVER_THE_RANGE = st.floats(0, 1)


def choices():
    """Each installed style by itself, and with each of its own options turned to each way there is to turn it."""
    for style, installed in STYLES.items():
        yield pytest.param(style, {}, id=style)
        for option in msgspec.inspect.type_info(installed.heading.options).fields:
            match getattr(option.type, "type", option.type):
                case msgspec.inspect.LiteralType(values):
                    ways = values
                case msgspec.inspect.BoolType():
                    ways = (False, True)
                case _:
                    ways = ()
            for way in ways:
                yield pytest.param(style, {option.name: way}, id=f"{style}, {option.name} {way}")


CHOICES = list(choices())


def in_inches(value, usual, *field, least=1):
    """Read an option that is given in inches."""
    return usual if value is None else round(float(value) * INCH)


def pleat_of(style, given=None):
    """What a style makes of options whose lengths are given in inches."""
    heading = STYLES[style].heading
    return heading.make(heading.options(**(given or {})), in_inches)


def piece_at(style, part, given=None):
    """What to draw, in inches, `part` of the way from the least that is allowed to the most: its cloth and, if it is
    no pleat, the width that it goes along the face."""
    return tuple(side / INCH for side in pleat_of(style, given).piece(part))


def take_up_at(style, part, given=None):
    """A take-up in inches, `part` of the way from the least that is allowed to the most."""
    limits = pleat_of(style, given).take_up
    return (limits.least + part * (limits.most - limits.least)) / INCH


def sampled(path):
    """Points along an SVG path of M, L and A, in absolute coordinates."""
    words = path.replace(",", " ").split()
    pieces, at = [], None
    while words:
        command = words.pop(0)
        given_numbers = [float(words.pop(0)) for _ in range({"M": 2, "L": 2, "A": 7}[command])]
        end = np.array(given_numbers[-2:])
        if command == "M":
            assert at is None, "one path, drawn in one go"
            pieces.append(end[None, :])
        elif command == "L":
            pieces.append(end[None, :])
        else:
            pieces.append(arc(at, end, *given_numbers[:5]))
        at = end
    return LineString(np.concatenate(pieces))


def arc(start, end, rx, ry, rotation, large, sweep):
    """Points of an elliptical arc after its start."""
    assert not np.array_equal(start, end), "SVG draws no arc from a point to itself"
    turn = math.radians(rotation)
    to_axes = np.array([[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]])
    x, y = to_axes @ (start - end) / 2
    short = (x / rx) ** 2 + (y / ry) ** 2
    if short > 1:
        rx, ry = rx * math.sqrt(short), ry * math.sqrt(short)
    over = (rx * y) ** 2 + (ry * x) ** 2
    root = math.sqrt(max(0.0, ((rx * ry) ** 2 - over) / over)) * (1 if large != sweep else -1)
    centre = np.array([root * rx * y / ry, -root * ry * x / rx])
    first = math.atan2((y - centre[1]) / ry, (x - centre[0]) / rx)
    last = math.atan2((-y - centre[1]) / ry, (-x - centre[0]) / rx)
    swept = (last - first) % math.tau if sweep else -((first - last) % math.tau)
    angles = first + swept * np.arange(1, STEPS + 1) / STEPS
    points = np.stack([rx * np.cos(angles), ry * np.sin(angles)], axis=1) + centre
    return points @ to_axes + (start + end) / 2


def in_front(line):
    """The part of the path that stands in front of the face, by a hair or more."""
    return line.intersection(box(-100, 1e-9, 100, 100))


def test_the_sampler_knows_the_length_of_a_quarter_circle_and_of_three_quarters():
    """By hand: pi / 2 and 3 pi / 2 of a radius of 1 [geometry]."""
    assert sampled("M 1 0 A 1 1 0 0 1 0 1").length == pytest.approx(math.pi / 2, rel=1e-7)
    assert sampled("M 1 0 A 1 1 0 0 1 0 1").bounds == pytest.approx((0, 0, 1, 1), abs=1e-9)
    for sweep, bounds in ((0, (-1, -1, 1, 1)), (1, (0, 0, 2, 2))):
        line = sampled(f"M 1 0 A 1 1 0 1 {sweep} 0 1")
        assert line.length == pytest.approx(3 * math.pi / 2, rel=1e-7)
        assert line.bounds == pytest.approx(bounds, abs=1e-6)


def test_the_sampler_knows_the_length_of_an_ellipse():
    """Ramanujan's approximation for semi-axes 2 and 1, good to a part in ten million here [geometry]."""
    h = (1 / 3) ** 2
    whole = math.pi * 3 * (1 + 3 * h / (10 + math.sqrt(4 - 3 * h)))
    assert sampled("M 2 0 A 2 1 0 0 1 -2 0 A 2 1 0 0 1 2 0").length == pytest.approx(whole, rel=1e-6)
    assert sampled("M 0 2 A 2 1 90 0 1 0 -2 A 2 1 90 0 1 0 2").length == pytest.approx(whole, rel=1e-6)


@pytest.mark.parametrize(("style", "given_options"), CHOICES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_the_path_of_a_style_is_as_long_as_its_take_up(style, given_options, part):
    """Cloth is neither made nor lost [geometry]."""
    piece = piece_at(style, part, given_options)
    line = sampled(pleat_of(style, given_options).shape(*piece).outline.svg_path())
    # A path is written to six decimals, and a wave has up to nine ends.
    assert line.length == pytest.approx(piece[0], rel=CLOSE, abs=6e-6)


@pytest.mark.parametrize(("style", "given_options"), CHOICES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_style_says_it_is_as_long_as_its_take_up(style, given_options, part):
    """Cloth is neither made nor lost [geometry]: in inches and in grid units."""
    piece = piece_at(style, part, given_options)
    for scale in (1, INCH):
        outline = pleat_of(style, given_options).shape(*(side * scale for side in piece)).outline
        assert outline.developed_length == pytest.approx(piece[0] * scale, rel=1e-9)


@pytest.mark.parametrize(("style", "given_options"), CHOICES)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_style_projects_and_shows_as_much_as_its_path(style, given_options, part):
    """The bounds of the path [geometry]; cloth that lies flat on the face shows as well as what stands in front."""
    shape = pleat_of(style, given_options).shape(*piece_at(style, part, given_options))
    outline = shape.outline
    line = sampled(outline.svg_path())
    assert outline.projection == pytest.approx(max(0, line.bounds[3]), abs=2e-6)
    front = in_front(line)
    least, _, most, _ = (0, 0, 0, 0) if front.is_empty else front.bounds
    assert outline.width_shown == pytest.approx(most - least, abs=2e-6)
    left, _, right, _ = line.bounds
    assert 0 <= shape.lies_wide <= right - left + 2e-6
    assert shape.width_shown == pytest.approx(max(most - least, shape.lies_wide), abs=2e-6)


@pytest.mark.parametrize(("style", "given_options"), CHOICES)
@REPEATABLE
@given(OVER_THE_RANGE)
def test_a_style_starts_and_ends_where_it_is_fixed(style, given_options, part):
    """The two marks of a pleat are sewn together; another piece goes as far along the face as it is wide [geometry]."""
    _, *shown = piece = piece_at(style, part, given_options)
    line = sampled(pleat_of(style, given_options).shape(*piece).outline.svg_path())
    assert line.coords[0] == pytest.approx((0, 0), abs=1e-6)
    assert line.coords[-1] == pytest.approx((*(shown or [0]), 0), abs=1e-6)


@pytest.mark.parametrize(("style", "given_options"), CHOICES)
@REPEATABLE
@given(OVER_THE_RANGE, st.floats(0.01, 100))
def test_a_style_has_one_shape_at_any_scale(style, given_options, part, scale):
    """A shape is drawn in the unit of its take-up [geometry]."""
    piece = piece_at(style, part, given_options)
    one, other = (pleat_of(style, given_options).shape(*(side * times for side in piece)) for times in (1, scale))
    assert other.depth_of_fold == pytest.approx(one.depth_of_fold * scale)
    assert other.outline.projection == pytest.approx(one.outline.projection * scale)
    assert other.outline.width_shown == pytest.approx(one.outline.width_shown * scale)
    assert other.width_shown == pytest.approx(one.width_shown * scale)
    assert (one.filler is None) == (other.filler is None)
    assert (other.filler or 0) == pytest.approx((one.filler or 0) * scale)
    assert other.stack(scale) == pytest.approx(one.stack(1) * scale)


DEPTHS = {
    # Each fold goes out and back, so n folds stand take-up / 2n proud.
    "three-fold-pinch": lambda take_up: take_up / 6,
    "two-fold-pinch": lambda take_up: take_up / 4,
    "single-fold-pinch": lambda take_up: take_up / 2,
    "euro-three-fold": lambda take_up: take_up / 6,
    "euro-two-fold": lambda take_up: take_up / 4,
    "butterfly": lambda take_up: take_up / 4,
    # The circumference of a cup or a tube is its take-up: the depth is the diameter.
    "goblet": lambda take_up: take_up / math.pi,
    "cartridge": lambda take_up: take_up / math.pi,
    # A box is half the take-up wide, a quarter to either side of its stitching.
    "box": lambda take_up: take_up / 4,
    # One fold, out to one side and back.
    "knife": lambda take_up: take_up / 2,
    # The underlay is half the take-up wide, a quarter to either side of where the edges meet.
    "inverted": lambda take_up: take_up / 4,
}


@pytest.mark.parametrize("style", DEPTHS)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_fold_is_as_deep_as_its_share_of_the_take_up(style, part):
    """[geometry]: by the formula, and by the farthest that the cloth gets from the stitching."""
    take_up = take_up_at(style, part)
    shape = pleat_of(style).shape(take_up)
    assert shape.depth_of_fold == pytest.approx(DEPTHS[style](take_up), rel=1e-12)
    points = np.array(sampled(shape.outline.svg_path()).coords)
    assert shape.depth_of_fold == pytest.approx(np.hypot(*points.T).max(), abs=2e-6)


@REPEATABLE
@given(OVER_THE_RANGE)
def test_an_inverted_pleat_lies_behind_the_face_under_edges_that_meet(part):
    """An underlay take-up / 2 wide, nothing in front [geometry]."""
    take_up = take_up_at("inverted", part)
    outline = pleat_of("inverted").shape(take_up).outline
    left, low, right, high = sampled(outline.svg_path()).bounds
    assert right - left == pytest.approx(take_up / 2, abs=2e-6)
    assert low <= high <= 0
    assert (outline.projection, outline.width_shown) == (0, 0)


FOLDS = {
    "three-fold-pinch": 3,
    "two-fold-pinch": 2,
    "single-fold-pinch": 1,
    "butterfly": 2,
    "euro-three-fold": 3,
    "euro-two-fold": 2,
}


@pytest.mark.parametrize(("style", "folds"), FOLDS.items(), ids=FOLDS)
def test_a_folded_pleat_has_as_many_tips_as_folds(style, folds):
    """A tip is where the cloth turns back [geometry]."""
    points = np.array(sampled(pleat_of(style).shape(6.0).outline.svg_path()).coords)
    assert np.isclose(np.hypot(*points.T), DEPTHS[style](6.0), atol=2e-6).sum() == folds


@REPEATABLE
@given(OVER_THE_RANGE)
def test_a_single_fold_stands_straight_out_half_its_take_up_proud(part):
    """Out and back along one line [geometry]."""
    take_up = take_up_at("single-fold-pinch", part)
    shape = pleat_of("single-fold-pinch").shape(take_up)
    assert sampled(shape.outline.svg_path()).bounds == pytest.approx((0, 0, 0, take_up / 2), abs=2e-6)
    assert (shape.width_shown, shape.filler) == (0, None)


@pytest.mark.parametrize("style", ["goblet", "cartridge"])
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_round_pleat_is_a_circle_as_far_around_as_its_take_up_and_its_filler_fits_it(style, part):
    """A circle of circumference c is c / pi across and holds c x c / 4 pi, the most that any curve can [geometry]."""
    take_up = take_up_at(style, part)
    shape = pleat_of(style).shape(take_up)
    line = sampled(shape.outline.svg_path())
    across = take_up / math.pi
    assert Polygon(line).area == pytest.approx(take_up**2 / (4 * math.pi), rel=1e-5)
    assert line.bounds == pytest.approx((-across / 2, 0, across / 2, across), abs=2e-6)
    assert shape.filler == pytest.approx(across, rel=1e-12)
    assert shape.width_shown == pytest.approx(across, rel=1e-12)


LYING = {
    # Where it lies, as parts of the take-up to either side of the stitching.
    "box": ({}, -1 / 4, 1 / 4),
    "box beside box": ({"spaced": False}, -1 / 4, 1 / 4),
    "box at 2 in centres": ({"centres": 2}, -1 / 4, 1 / 4),
    "box at 12 in centres": ({"centres": 12}, -1 / 4, 1 / 4),
    "box at 30 in centres": ({"centres": 30}, -1 / 4, 1 / 4),
    "knife": ({}, 0, 1 / 2),
    "knife turned left": ({"turned": "left"}, -1 / 2, 0),
    "knife turned right": ({"turned": "right"}, 0, 1 / 2),
    "knife turned to the centre": ({"turned": "centre"}, 0, 1 / 2),
}


@pytest.mark.parametrize(
    ("style", "given_options", "left", "right"), [(name.split()[0], *each) for name, each in LYING.items()], ids=LYING
)
@REPEATABLE
@given(OVER_THE_RANGE)
@example(0.0)
@example(1.0)
def test_a_flat_pleat_lies_on_the_face_half_its_take_up_wide(style, given_options, left, right, part):
    """A box to both sides of its stitching, a knife to one; neither loses cloth nor stands out [geometry]."""
    take_up = take_up_at(style, part, given_options)
    shape = pleat_of(style, given_options).shape(take_up)
    line = sampled(shape.outline.svg_path())
    # A path is written to six decimals, and this one has three ends.
    assert line.length == pytest.approx(take_up, abs=4e-6)
    assert line.bounds == pytest.approx((left * take_up, 0, right * take_up, 0), abs=2e-6)
    assert shape.lies_wide == pytest.approx(take_up / 2, rel=1e-12)
    assert shape.width_shown == pytest.approx(take_up / 2, rel=1e-12)
    assert (shape.outline.projection, shape.outline.width_shown) == (0, 0)


@pytest.mark.parametrize(("style", "take_up", "shown"), [("box", 6.0, 3.0), ("box", 8.0, 4.0), ("knife", 3.0, 1.5)])
def test_a_flat_pleat_of_whole_inches_is_as_wide_as_worked_by_hand(style, take_up, shown):
    """A 3 in box takes up 6 in [common practice, stage curtains]; half of any take-up [geometry]."""
    assert pleat_of(style).shape(take_up).width_shown == shown
