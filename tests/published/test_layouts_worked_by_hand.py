"""Three pairs of panels worked out by hand, with exact fractions, as the trade would: seams beside pleats.

Three-fold pinch: take-up 4 to 7 in, usually 5 1/2; space 3 to 4 1/2 in, usually 3 3/4 [common practice]. Cloth of
54 in, 3 in to each side hem and 1/2 in to each seam allowance [common practice]; overlap 3 in and return 3 1/2 in.

The first seam lies 54 - 3 - 1/2 = 50 1/2 in from the leading edge, each next one 54 - 1 = 53 in further on. The first
pleat starts at 3 in. With n pleats the space is (finished width - 6 1/2) / (n - 1). A seam lies after a pleat ("A": a
space follows it) or before one ("B": a space leads up to it); a stretch of k pleats has k - 1 spaces, one more if its
left seam is A, one more if its right seam is B.
"""

from fractions import Fraction

import pytest

from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import best_layout

TAKE_UP = Limits(4 * INCH, 11 * INCH // 2, 7 * INCH)
SPACE = Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2)

# Rod 120: 60 + 1 1/2 + 3 1/2 = 65 finished; 3 widths: 162 - 6 - 2 = 154 flat; 58 1/2 / 15 = 3.9.
#   47 1/2 - 5 spaces = 28, 53 - 5 spaces = 33 1/2, 150 1/2 - 103 1/2 - 5 spaces = 27 1/2.
# Rod 96: 48 + 5 = 53 finished; 2 1/2 widths: 135 - 6 - 2 = 127 flat; 46 1/2 / 12 = 3.875.
#   47 1/2 - 5 spaces = 28.125, 53 - 5 spaces = 33.625, 123 1/2 - 103 1/2 - 2 spaces = 12.25.
# Rod 144: 72 + 5 = 77 finished; 4 widths: 216 - 6 - 3 = 207 flat; 70 1/2 / 19 = 141/38.
#   47 1/2 - 4 spaces = 1241/38, 53 - 5 = 1309/38, 53 - 6 = 1168/38, 203 1/2 - 156 1/2 - 4 = 1222/38.
BY_HAND = [
    pytest.param(
        (154, 65, ("50.5", "103.5")),
        (16, "3.9", (5, 6, 5), ("5.6", "67/12", "5.5"), "BA"),
        id="rod of 120",
    ),
    pytest.param(
        (127, 53, ("50.5", "103.5")),
        (13, "3.875", (5, 6, 2), ("5.625", "269/48", "6.125"), "BA"),
        id="rod of 96",
    ),
    pytest.param(
        (207, 77, ("50.5", "103.5", "156.5")),
        (20, "141/38", (5, 5, 5, 5), ("1241/190", "1309/190", "584/95", "611/95"), "AAB"),
        id="rod of 144",
    ),
]


def inches(text):
    return Fraction(text) * INCH


@pytest.mark.parametrize(("panel", "worked"), BY_HAND)
def test_the_best_layout_is_the_one_worked_by_hand(panel, worked):
    flat, finished, seams = panel
    count, space, pleats, take_ups, sides = worked
    at = tuple(int(inches(seam)) for seam in seams)
    layout = best_layout(Cloth(flat * INCH, finished * INCH, 3 * INCH, 7 * INCH // 2, at, TAKE_UP, SPACE))
    assert layout.pleat_count == count
    assert layout.space == inches(space)
    assert tuple(stretch.pleats for stretch in layout.stretches) == pleats
    assert layout.take_ups == tuple(map(inches, take_ups))
    assert "".join("B" if stretch.closes_with_space else "A" for stretch in layout.stretches[:-1]) == sides
    assert "".join("A" if stretch.opens_with_space else "B" for stretch in layout.stretches[1:]) == sides
    assert [stretch.end for stretch in layout.stretches[:-1]] == list(at)
    assert (layout.seams_in_space, layout.seams_in_take_up, layout.proved) == (0, 0, True)
    together = sum(inches(take_up) * taken for take_up, taken in zip(take_ups, pleats, strict=True))
    assert together == (flat - finished) * INCH
