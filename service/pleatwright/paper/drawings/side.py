"""Wall, floor, ceiling, rod and cloth from the side, between two heights: to scale but for the cloth's thickness."""

from collections.abc import Iterator, Sequence
from typing import Final

from pleatwright.paper.drawings.hung import Hung
from pleatwright.paper.drawings.placing import Frame
from pleatwright.paper.drawings.shapes import Circle, Fill, Line, Pen, Point, Polyline, Rectangle, Shape, hatched

_SOLID: Final = 3.2
"""How thick wall, floor and ceiling are drawn, in millimetres."""
_STIFF: Final = 1.5
"""How thick a heading or a hem is drawn."""
_PIN_BACK: Final = 1.0


def side_shapes(layers: Sequence[Hung], frame: Frame, high: int, low: int, bottom: float) -> Iterator[Shape]:
    """Yield what is there between the heights `high`, at the top of the frame, and `low`, at `bottom` on paper."""
    wall, top = frame.x(0), frame.top
    out = max(frame.x(layer.farthest) for layer in layers) + 6.0
    yield hatched(wall - _SOLID, top, _SOLID, bottom - top, 1.4)
    yield Line((wall, top), (wall, bottom), Pen.EDGE, of="wall")
    own = layers[0].heights
    if own.get("floor", low - 1) >= low:
        y = frame.y(high - own["floor"])
        yield hatched(wall - _SOLID, y, out - wall + _SOLID, _SOLID, 1.4, rising=False)
        yield Line((wall - _SOLID, y), (out, y), Pen.EDGE, of="floor line")
    if own.get("ceiling", high + 1) <= high:
        y = frame.y(high - own["ceiling"])
        yield hatched(wall - _SOLID, y - _SOLID, out - wall + _SOLID, _SOLID, 1.4, rising=False)
        yield Line((wall - _SOLID, y), (out, y), Pen.EDGE, of="ceiling line")
    for point in ("sill", "apron"):
        height = own.get("sill" if point == "sill" else "apron")
        if height is not None and low <= height <= high:
            y = frame.y(high - height)
            deep = min(4.0, max(frame.x(layers[0].out) - wall - 1.0, 1.5))
            yield Rectangle(
                (wall, y if point == "sill" else y - 1.6), deep, 1.6, Pen.FOLD, Fill.PAPER, of=f"{point} line"
            )
    for layer in layers:
        yield from _mount(layer, frame, high, low)
        yield from _cloth(layer, frame, high, low, bottom)


def _cloth(layer: Hung, frame: Frame, high: int, low: int, bottom: float) -> Iterator[Shape]:
    heights, x = layer.heights, frame.x(layer.out)

    def y(height: int) -> float:
        return min(frame.y(high - height), bottom)

    top, hem = y(heights["heading-top"]), y(heights["hem"])
    floor = heights.get("floor")
    pen = Pen.STITCH if layer.is_behind else Pen.EDGE
    path: list[Point] = [(x, frame.top if heights["heading-top"] > high else top), (x, hem)]
    if floor is not None and heights["hem"] < floor and low <= floor:
        # What is longer than the drop lies on the floor, out into the room.
        path[1:] = [(x, y(floor)), (frame.x(layer.out + floor - heights["hem"]), y(floor))]
        hem = y(floor)
    if len(path) > 2:
        # On the line of the floor it could not be seen.
        (start, floor_y), (end, _) = path[1:]
        yield Rectangle((start, floor_y - _STIFF), end - start, _STIFF, Pen.FOLD, Fill.CLOTH, of="cloth on the floor")
    yield Polyline(tuple(path), pen, of=f"{'sheer' if layer.is_behind else 'cloth'}")
    foot = heights["heading-foot"]
    if heights["heading-top"] > low and foot < high:
        start, end = max(top, frame.top), y(foot)
        yield Rectangle((x, start), _STIFF, end - start, Pen.FOLD, Fill.CLOTH, of="heading")
        if not layer.is_behind:
            yield hatched(x, start, _STIFF, end - start, 0.9)
    if layer.hem.depth and heights["hem"] >= (floor or low) and heights["hem"] + layer.hem.depth <= high:
        edge = y(heights["hem"] + layer.hem.depth)
        yield Polyline(((x, hem), (x - _STIFF, hem), (x - _STIFF, edge), (x, edge)), Pen.FOLD, of="turned hem")
    if "pin" in heights and heights["pin"] >= low:
        pin, carried = y(heights["pin"]), y(heights["carrying-point"])
        yield Polyline(((x, pin), (x - _PIN_BACK, pin), (x - _PIN_BACK, carried)), Pen.MARK, of="pin")
        yield Circle((x - _PIN_BACK, carried), 0.6, None, Fill.CHALK, of="carrying point")
    elif heights["carrying-point"] >= low and heights["carrying-point"] <= high:
        yield Circle((x, y(heights["carrying-point"])), 0.7, None, Fill.CHALK, of="carrying point")


def _mount(layer: Hung, frame: Frame, high: int, low: int) -> Iterator[Shape]:
    heights, kind = layer.heights, layer.mount
    if kind is None or "rod-top" not in heights or not low < heights["rod-top"] <= high:
        return
    x = frame.x(layer.out)
    top, under = frame.y(high - heights["rod-top"]), frame.y(high - heights["rod-underside"])
    deep, middle = under - top, (top + under) / 2
    carried = frame.y(high - heights["carrying-point"])
    round_rod = kind in ("rings", "clip-rings", "through-heading")
    # A rod through the heading, or with rings, is straight above the cloth; a track stands behind it.
    centre = x if round_rod else x - _PIN_BACK - deep / 2
    if kind != "ceiling-track":
        yield Line((frame.x(0), middle), (centre, middle), Pen.FOLD, of="bracket")
    if round_rod:
        yield Circle((centre, middle), deep / 2, Pen.EDGE, Fill.PAPER, of="rod")
        if kind == "through-heading":
            # What tabs leave between the rod and the heading.
            yield Line((x, under), (x, max(under, frame.y(high - heights["heading-top"]))), Pen.FOLD, of="tab")
        else:
            ring = (carried - top) / 2
            yield Circle((x, top + ring), max(ring, deep / 2), Pen.FOLD, None, of="ring")
    else:
        yield Rectangle((centre - deep / 2, top), deep, deep, Pen.EDGE, Fill.PAPER, of="rod")
        yield Line((x - _PIN_BACK, min(under, carried)), (x - _PIN_BACK, carried), Pen.FOLD, of="carrier")
