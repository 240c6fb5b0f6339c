"""What a panel weighs: the area of each cloth by its mass per unit area, and what is sewn into it."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Final, Literal

from msgspec import Struct

from pleatwright.trade.panel import Panel
from pleatwright.trade.sewing import LayerCloth
from pleatwright.trade.window import MakeUp

METRE: Final = 320_000
"""Grid units in a metre."""


class HemWeights(Struct, frozen=True):
    """What is sewn into a hem: weights at its corners, or at its seams too, of so many grams, and a cord all along it.

    The cord is in grams a metre.
    """

    each: Fraction
    at: Literal["corners", "corners-and-seams"]
    cord: Fraction

    def count(self, panel: Panel) -> int:
        """Return how many weights a panel takes."""
        if not self.each:
            return 0
        return 2 + (len(panel.seams) if self.at == "corners-and-seams" else 0)

    def mass(self, panel: Panel) -> Fraction:
        """Return what they weigh in a panel, the cord as long as it is flat."""
        return self.count(panel) * self.each + self.cord * Fraction(panel.flat_width, METRE)


class PanelMass(Struct, frozen=True):
    """What a panel weighs, part by part, in grams."""

    face: Fraction
    layers: Mapping[str, Fraction]
    buckram: Fraction
    hem_weights: Fraction
    pins: Fraction

    @property
    def total(self) -> Fraction:
        """All of it."""
        return self.face + sum(self.layers.values(), Fraction(0)) + self.buckram + self.hem_weights + self.pins


def area_mass(width: int, length: int, per_area: Fraction) -> Fraction:
    """Return the mass of a piece of cloth, in grams, by its mass per unit area in grams a square metre.

    ISO 3801 and ASTM D3776 define the measure.

    >>> area_mass(2 * METRE, METRE // 2, Fraction(300))
    Fraction(300, 1)
    """
    return Fraction(width * length, METRE * METRE) * per_area


def face_cloth(panel: Panel, make_up: MakeUp, surplus: int) -> tuple[int, int]:
    """Return the width and length of all the face cloth that stays in a panel, hems, seams and turnings laid open.

    `surplus` is what comes off at the return edge.
    """
    width = panel.flat_width - surplus + 2 * make_up.side_hem + 2 * make_up.seam_allowance * len(panel.seams)
    return width, panel.finished_length + make_up.top_turning + make_up.bottom_hem


def layer_cloth(panel: Panel, layer: LayerCloth, layer_panel: Panel, surplus: int) -> tuple[int, int]:
    """Return the same for a layer of the panel, cut as `layer_panel`."""
    width = panel.flat_width - surplus
    if layer.width is not None:
        width += 2 * (layer.side_turning - layer.narrower) + 2 * layer.seam_allowance * (layer_panel.pieces - 1)
    return width, layer_panel.cut_length
