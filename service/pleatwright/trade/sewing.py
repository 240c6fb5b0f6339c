"""What hems and seams take by their names [common practice], and the layers behind the face."""

from fractions import Fraction
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.panel import Panel, halves_for
from pleatwright.trade.window import MakeUp

HemType = Literal["double", "single", "faced"]
LayerName = Literal["lining", "interlining", "blackout"]


def hem_takes(kind: HemType, depth: int, turned_under: int) -> int:
    """Return the cloth that a hem takes: twice its depth, once and the edge turned under, or the seam of its facing.

    >>> hem_takes("double", 4, 1), hem_takes("single", 4, 1), hem_takes("faced", 4, 1)
    (8, 5, 1)
    """
    match kind:
        case "double":
            return 2 * depth
        case "single":
            return depth + turned_under
        case "faced":
            return turned_under


class LayerCloth(Struct, frozen=True):
    """A layer behind the face, in grid units. Without a `width` of its own it is cut at as many widths as the face.

    `mass_per_area` is in grams a square metre, None where no weight is worked out; `cloth` names it in a rate book.
    """

    name: LayerName
    width: int | None
    selvage: int
    seam_allowance: int
    side_turning: int
    narrower: int
    shorter: int
    bottom_hem: int
    top_turning: int
    increment: int
    thickness: int = 0
    mass_per_area: Fraction | None = None
    cloth: str | None = None


def layer_panel(panel: Panel, layer: LayerCloth) -> Panel:
    """Return a panel as a layer of it is cut: its widths and its cut length.

    Its flat width is the face's, less what it is narrower by at each edge; what is turned in at the edges comes on top.

    Raises Impossible, under the layer's name, when nothing is left of it.
    """
    if panel.finished_length <= layer.shorter:
        raise Impossible(_nothing_left(layer.name, "shorter", layer.shorter, panel.finished_length))
    length = panel.finished_length - layer.shorter + layer.bottom_hem + layer.top_turning
    halves = panel.halves
    if layer.width is None and panel.runs:
        detail = f"railroaded cloth has no widths for the {layer.name} to go by: give the width of its bolt"
        raise Impossible(Fault((layer.name, "width"), detail, "none", "a width"))
    if layer.width is not None:
        flat = panel.flat_width - 2 * layer.narrower
        if flat <= 0:
            raise Impossible(_nothing_left(layer.name, "narrower", layer.narrower, -(-panel.flat_width // 2)))
        usable = layer.width - 2 * layer.selvage
        if usable <= 2 * layer.seam_allowance:
            detail = "selvages and seam allowances use up the whole width of this cloth: it must be more than {least}"
            lengths = {"width": layer.width, "least": 2 * (layer.selvage + layer.seam_allowance)}
            raise Impossible(Fault((layer.name, "width"), detail, "{width}", "more than {least}", lengths))
        sewn = MakeUp(layer.side_turning, 0, 0, layer.seam_allowance, 0)
        try:
            halves = halves_for(flat, usable, sewn)
        except Impossible:
            detail = "this cloth takes too many widths, or its side turnings use it up: use a wider one"
            raise Impossible(Fault((layer.name, "width"), detail, "{width}", None, {"width": layer.width})) from None
    return replace(panel, halves=halves, cut_length=length, runs=())


def _nothing_left(name: LayerName, field: str, given: int, most: int) -> Fault:
    return Fault(
        (name, field),
        f"this leaves nothing of the {name}: it must be less than {{most}}",
        "{given}",
        "less than {most}",
        {"given": given, "most": most},
    )
