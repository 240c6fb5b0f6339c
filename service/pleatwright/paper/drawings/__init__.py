"""Drawings for the table and the wall, made from replies: shapes on paper, which a renderer puts down.

`panel_flat`, `panel_finished`, `heading_section`, `heading_strips`, `hang_section`, `cut_plan` and `layer_plan` return
a `Drawing`; `svg` writes one as SVG, and `parted` parts a tall one for paper.
"""

from pleatwright.paper.drawings.cut_plan import cut_plan, layer_plan
from pleatwright.paper.drawings.hang_section import hang_section
from pleatwright.paper.drawings.heading import heading_section
from pleatwright.paper.drawings.heading_strips import heading_strips
from pleatwright.paper.drawings.panel_finished import panel_finished
from pleatwright.paper.drawings.panel_flat import panel_flat
from pleatwright.paper.drawings.parting import parted
from pleatwright.paper.drawings.shapes import Drawing
from pleatwright.paper.drawings.svg import svg, svg_element

__all__ = [
    "Drawing",
    "cut_plan",
    "hang_section",
    "heading_section",
    "heading_strips",
    "layer_plan",
    "panel_finished",
    "panel_flat",
    "parted",
    "svg",
    "svg_element",
]
