"""The worked example of "How to Make Draperies", instruction booklet, page "Measuring for pleats".

Half width 49 + return 3 + overlap share 1 = 53; 144 flat - 53 = 91 to pleat; 13 pleats take 7 in each.
"""

from fractions import Fraction

from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import best_layout
from pleatwright.trade.panel import finished_widths
from pleatwright.trade.window import Rod

TAKE_UP = Limits(4 * INCH, 6 * INCH, 8 * INCH)
SPACE = Limits(3 * INCH, 4 * INCH, 5 * INCH)


def test_half_the_width_and_the_return_and_the_share_of_the_overlap_are_53_inches():
    """Booklet, "Measuring for pleats": 49 + 3 + 1 = 53. Half of 98 is 49, and 1 is half of an overlap of 2."""
    rod = Rod(width=98 * INCH, return_=3 * INCH, overlap=2 * INCH, draw="pair")
    assert finished_widths(rod) == [("left", 53 * INCH), ("right", 53 * INCH)]


def test_thirteen_pleats_take_up_seven_inches_each():
    """Booklet, "Measuring for pleats": 144 - 53 = 91, and 91 / 13 = 7."""
    cloth = Cloth(144 * INCH, 53 * INCH, 2 * INCH, 3 * INCH, (), TAKE_UP, SPACE, pleat_count=13)
    assert cloth.take_ups == 91 * INCH
    layout = best_layout(cloth)
    assert layout.pleat_count == 13
    assert layout.take_ups == (Fraction(7 * INCH),)


def test_the_twelve_spaces_between_them_are_four_inches():
    """Follows from the booklet's figures: 53 - 2 - 3 = 48 lies between the first pleat and the last, 48 / 12 = 4."""
    layout = best_layout(Cloth(144 * INCH, 53 * INCH, 2 * INCH, 3 * INCH, (), TAKE_UP, SPACE, pleat_count=13))
    assert layout.space == 4 * INCH


def test_thirteen_pleats_are_chosen_too_when_the_count_is_left_open():
    """A usual space of 4 in is met exactly by the booklet's 13 pleats [common practice: 3 1/2 to 4 in]."""
    layout = best_layout(Cloth(144 * INCH, 53 * INCH, 2 * INCH, 3 * INCH, (), TAKE_UP, SPACE))
    assert (layout.pleat_count, layout.space) == (13, 4 * INCH)
