"""What is taken when a request leaves a figure out, for makers who work in inches and for those who work in metric."""

from fractions import Fraction
from typing import Final

from msgspec import Struct

from pleatwright.lengths import parse_length


class Usual(Struct, frozen=True):
    """A usual length, in inch measure and in metric, in grid units."""

    inch: int
    metric: int


def usual(inch: str, metric: str) -> Usual:
    """Return a usual length from its two texts."""
    return Usual(parse_length(inch, signed=True), parse_length(metric, signed=True))


NONE: Final = Usual(0, 0)

OVERLAP: Final = usual("3 in", "75 mm")
"""At least this at the centre [P: UFGS 12 22 00]."""
TOLERANCE: Final = usual("1/4 in", "6 mm")
"""Finished sizes hold within this, either way [P: UFGS 12 22 00]."""
CLEARANCE: Final = {
    "floor": usual("1 in", "25 mm"),
    "sill": usual("1/2 in", "13 mm"),
    "apron": usual("-1 in", "-25 mm"),
    "break": usual("-1 in", "-25 mm"),
    "puddle": usual("-6 in", "-150 mm"),
}
"""Floor, sill and apron [P: UFGS 12 22 00]; break and puddle [common practice]."""

HEADING_ABOVE: Final = usual("1/4 in", "6 mm")
"""Above the carrying point [common practice]."""
PIN_RISE: Final = usual("1 3/8 in", "35 mm")
"""[common practice]."""
PIN_INSET: Final = usual("1/2 in", "12 mm")
"""From a panel's edge; our choice."""

SHORT_TO_FLOOR: Final = usual("40 in", "1 m")
"""A panel that hangs to the floor and is shorter was hardly measured in the units that it is given in; our choice."""

RETURN: Final = usual("3 1/2 in", "90 mm")
"""Depth of a rod from the wall [common practice]."""
GIRTH_READ: Final = usual("1/32 in", "1 mm")
"""How much thicker a rod may be than its girth, taped to the nearest 1/8 in or 3 mm, makes it [geometry]."""
ROD_STEP: Final = usual("1/2 in", "10 mm")
"""The step in which rods are tried; our choice."""
CEILING_CLEARANCE: Final = usual("1/4 in", "6 mm")
"""From the top of a heading up to the ceiling, so that it does not scrape; our choice."""
BEND_CLEARANCE: Final = usual("1 in", "25 mm")
"""From a bend of a rod to the nearest carrier; our choice."""
ROOM_BETWEEN: Final = usual("1/2 in", "12 mm")
"""Between the folds of a sheer and those of the over-drapery; our choice."""
LOWER_AT_HEADING: Final = usual("1/2 in", "12 mm")
SHORTER_AT_HEM: Final = usual("1/2 in", "12 mm")
"""Of a sheer behind an over-drapery, so that it does not show [common practice]."""

TRACK_DEPTH: Final = {"traverse-rod": usual("1 in", "25 mm"), "ceiling-track": usual("5/8 in", "15 mm")}
CARRIER_BELOW: Final = usual("3/4 in", "20 mm")
CARRIER_LENGTH: Final = usual("1/2 in", "12 mm")
ROD_DIAMETER: Final = usual("1 3/8 in", "35 mm")
RING: Final = usual("2 in", "50 mm")
RING_LENGTH: Final = usual("1/4 in", "6 mm")
EYE: Final = {"rings": usual("1/2 in", "12 mm"), "clip-rings": usual("1 1/4 in", "32 mm")}
CLIP_GRIP: Final = usual("3/8 in", "10 mm")
"""Rods, tracks, rings and clips differ: these are our choice, and a maker measures her own."""

SIDE_HEM: Final = usual("3 in", "75 mm")
"""A double hem of 1 1/2 in [common practice]."""
BOTTOM_HEM: Final = usual("8 in", "200 mm")
"""A double hem of 4 in [common practice]."""
SEAM_ALLOWANCE: Final = usual("1/2 in", "12 mm")
"""[common practice]."""

SIDE_HEM_DEPTH: Final = usual("1 1/2 in", "38 mm")
BOTTOM_HEM_DEPTH: Final = usual("4 in", "100 mm")
TURNED_UNDER: Final = usual("1/2 in", "12 mm")
"""At a raw edge, and what the seam of a facing takes [common practice]."""
SEAM_TYPES: Final = {
    "plain": usual("1/2 in", "12 mm"),
    "french": usual("5/8 in", "15 mm"),
    "flat-felled": usual("5/8 in", "15 mm"),
    "overlocked": usual("1/4 in", "6 mm"),
}
"""What each side of a seam takes, on the average of the two [common practice]."""

WIDTH: Final = usual("54 in", "137 cm")
"""What a width of turned cloth counts as, where labour goes by the width [common practice]."""
FULLNESS_EITHER_WAY: Final = Fraction(1, 4)
"""How far from the usual fullness the range of a price reaches; our choice."""
DEEPEST_RETURN: Final = usual("6 in", "150 mm")
"""How deep a return the range of a price reaches; our choice."""
LINING_SHORTER: Final = usual("1 in", "25 mm")
"""At the hem [common practice]."""
LINING_HEM: Final = usual("4 in", "100 mm")
"""A double hem of 2 in [common practice]."""
LINING_TURNING: Final = usual("1 in", "25 mm")
"""At the top and at each side; our choice."""

INCREMENT: Final = usual("1/8 yd", "0.1 m")
"""What the seller cuts [common practice]."""
CLOTH_THICKNESS: Final = usual("1/32 in", "0.8 mm")
"""Of a furnishing cloth with its lining; our choice."""
LAYER_THICKNESS: Final = {
    "lining": usual("1/64 in", "0.4 mm"),
    "interlining": usual("1/16 in", "1.6 mm"),
    "blackout": usual("1/64 in", "0.4 mm"),
}
STIFFENING: Final = usual("1/40 in", "0.6 mm")
"""Thickness of a layer, and of the buckram or tape in a heading; our choice."""
MASS_PER_AREA: Final = {"lining": Fraction(130), "interlining": Fraction(300), "blackout": Fraction(280)}
BUCKRAM_MASS: Final = Fraction(180)
"""In grams a square metre; our choice."""
PIN_MASS: Final = Fraction(2)
"""In grams; our choice."""
MARK: Final = usual("1/16 in", "1 mm")
"""The division of the workroom's rule; our choice."""
FORGIVEN: Final = usual("3/4 in", "19 mm")
"""The difference between take-ups that the eye forgives; our choice, not a trade figure."""
STRIP: Final = usual("1/2 in", "10 mm")
"""The step in which strips are tried for trimming; our choice."""
