"""What open panels take of the rod, and how thick their headings are."""

from collections.abc import Sequence
from fractions import Fraction
from math import ceil
from typing import assert_never

from msgspec import Struct

from pleatwright.headings.host import Headings
from pleatwright.headings.made import Gather, Made, Pleat, Points
from pleatwright.headings.options import HeadingOptions
from pleatwright.trade.along_rod import sliders_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import Panel
from pleatwright.trade.sewing import LayerCloth
from pleatwright.trade.stack import heading_thickness, stack
from pleatwright.trade.window import MakeUp
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader


class Stacker(Struct, frozen=True):
    """What the stack of any panel of one window depends on, but for the panel itself."""

    reader: Reader
    headings: Headings
    options: HeadingOptions
    made: Made
    thickness: int
    slider_length: int

    def stack(self, panel: Panel, laid_out: LaidOut) -> int:
        """Return the length of rod that a panel occupies when it is open."""
        folded, each = self.folded(panel, laid_out)
        if not isinstance(self.made, Gather):
            return stack(folded, each, self.slider_length, panel.overlap)
        # Several folds of a gather hang on one carrier.
        sliding = sliders_of(panel, laid_out.hanging_points).sliding
        return max(stack(folded, each, 0, panel.overlap), sliding * self.slider_length + panel.overlap)

    def folded(self, panel: Panel, laid_out: LaidOut) -> tuple[int, float]:
        """Return how many pleats, folds or points a panel has, and the rod that each takes when it is open."""
        piece: tuple[float, ...]
        match self.made:
            case Pleat():
                assert laid_out.pleats, "a pleated panel has been laid out in pleats"
                folded, piece = laid_out.pleats.pleat_count, (float(laid_out.pleats.most_take_up),)
            case Gather():
                fullness = Fraction(panel.flat_width, panel.finished_width)
                folded = ceil(Fraction(panel.flat_width, self.made.fold))
                piece = (float(self.made.fold), float(self.made.fold / fullness))
            case Points():
                assert laid_out.points, "a panel hung from points has been laid out in points"
                folded, width = laid_out.points.count, self.made.point_width
                piece = (2 * float(laid_out.points.gap + width), 2 * float(laid_out.points.finished_gap + width))
            case _:
                assert_never(self.made)
        shape = self.reader.shape(self.headings, self.options, self.made, *piece)
        return folded, self.made.stack_each(shape, self.thickness)


def thickness_in_heading(
    reader: Reader, made: Made, fabric: FaceCloth, make_up: MakeUp, layers: Sequence[LayerCloth]
) -> int:
    """Return how thick the face, its turning, the stiffening and the layers are together in a heading."""
    behind = sum(layer.thickness for layer in layers)
    stiffening = reader.usual(usual.STIFFENING)
    return heading_thickness(fabric.thickness, made.depth, make_up.top_turning, stiffening, behind)
