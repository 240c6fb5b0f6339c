"""The hang section: a window's panels on the wall seen from the side, every height, and the top and the hem closer."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Final

from pleatwright.contract.estimates import EstimatedWindow
from pleatwright.contract.hanging import HeightOf
from pleatwright.lengths import MILLIMETRE, Units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.hung import Hung, hung
from pleatwright.paper.drawings.placing import Frame, scale_for, scale_text, spread
from pleatwright.paper.drawings.shapes import (
    FIGURE,
    NOTE,
    Dimension,
    Drawing,
    Fill,
    Line,
    Pen,
    Polyline,
    Rectangle,
    Shape,
    Text,
)
from pleatwright.paper.drawings.side import side_shapes
from pleatwright.paper.drawings.words import clean, figure, listed, width_of
from pleatwright.paper.on_the_wall import HEIGHT_NAMES

_TALL: Final = 132.0
_HEAD_TALL, _HEM_TALL = 72.0, 38.0
_APART: Final = 4.3
_WHOLE_LEFT: Final = sheet.MARGIN + 10.0
_LABELS: Final = 88.0
"""Where the heights stand, from the left of the paper."""
_CLOSER: Final = 190.0
"""Where the wall of the closer views is."""

_ROOM: Final[tuple[HeightOf, ...]] = ("ceiling", "sill", "apron", "floor")
_Figures = Callable[[Frame, int], Iterator[Shape]]


def hang_section(window: EstimatedWindow, windows: Sequence[EstimatedWindow], units: Units) -> Drawing:
    """Return how a window's panels hang; with a sheer that hangs behind them, or the over-drapery before them.

    `windows` are all those of the job, among which the other layer is looked for.
    """
    layers = [hung(window, units)]
    layers += [hung(each, units) for each in windows if each is not window and _together(window, each)]
    return _Section(window, layers, units).drawing()


def _together(window: EstimatedWindow, other: EstimatedWindow) -> bool:
    return other.behind == window.label or window.behind == other.label


class _Section:
    def __init__(self, window: EstimatedWindow, layers: Sequence[Hung], units: Units) -> None:
        self.window, self.units = window, units
        # What one layer's request did not say of the room, the other's may.
        room = {point: layer.heights[point] for layer in reversed(layers) for point in _ROOM if point in layer.heights}
        self.own = replace(layers[0], heights=room | layers[0].heights)
        self.layers = [self.own, *layers[1:]]
        self.top = max(max(layer.heights.values()) for layer in layers)
        lowest = min(min(layer.heights.values()) for layer in layers)
        # What is longer than the drop lies on the floor, not below it.
        self.level = max(lowest, self.own.heights.get("floor", lowest))
        over = (self.top - self.level) // 40
        self.top += 0 if "ceiling" in self.own.heights else over
        out = max(layer.farthest for layer in layers)
        scale = max(scale_for(self.top - self.level, _TALL), scale_for(out, _LABELS - _WHOLE_LEFT - 24.0))
        self.whole = Frame(_WHOLE_LEFT, sheet.HEAD + 9.0, scale)
        self.bottom = self.whole.top + self.whole.along(self.top - self.level)

    def drawing(self) -> Drawing:
        heights = [f"{name} at {figure(height, self.units)}" for height, name, _ in self.labels()]
        measured = f"the {self.window.hang.measured_from}"
        description = (
            f"Seen from the side, the wall at the left and the room at the right. Heights from {measured}: "
            f"{listed(heights)}."
        )
        shapes: list[Shape] = [*side_shapes(self.layers, self.whole, self.top, self.level, self.bottom)]
        shapes += [*self.heights(), *self.length(), *self.closer()]
        words = f"Heights from {measured}"
        shapes.append(Text((_LABELS, sheet.HEAD + 2.0), words, NOTE, face="note", of="measured from"))
        names = [self.window.label, self.window.style, self.window.fabric]
        names += [f"with {clean(layer.label)}" for layer in self.layers[1:]]
        bottom = max(self.bottom + 14.0, sheet.HEAD + _HEAD_TALL + _HEM_TALL + 45.0)
        return sheet.finished("On the wall", names, description, shapes, bottom, self.whole.scale, self.units)

    def labels(self) -> list[tuple[int, str, float]]:
        """Return each height with its name and the place on paper of what it is of, from the top down."""
        found = []
        for number, layer in enumerate(self.layers):
            for point, height in layer.heights.items():
                if number and point in _ROOM:
                    continue
                whose = "" if number == 0 else ("over-drapery, " if self.window.behind else "sheer behind, ")
                found.append((height, f"{whose}{HEIGHT_NAMES[point]}", self.whole.x(layer.out)))
        return sorted(found, key=lambda label: -label[0])

    def heights(self) -> Iterator[Shape]:
        labels = self.labels()
        wanted = [self.y(max(height, self.level)) for height, _, _ in labels]
        places = spread(wanted, _APART, self.whole.top - 4.0, self.bottom + 8.0)
        for (height, name, x), at, place in zip(labels, wanted, places, strict=True):
            leader = ((x + 1.6, at), (_LABELS - 12.0, at), (_LABELS - 1.5, place))
            yield Polyline(leader, Pen.THIN, of=f"{name} leader")
            words = figure(height, self.units)
            yield Text((_LABELS + 16.0, place + 0.9), words, FIGURE, "end", "bold", of=f"{name} height")
            yield Text((_LABELS + 18.5, place + 0.9), name, FIGURE, of=name)

    def length(self) -> Iterator[Shape]:
        """Yield the length as it hangs and the depth of the return, within the whole view."""
        units, own = self.units, self.own
        x = self.whole.x(own.out) + 9.0
        top, hem = self.y(own.heights["heading-top"]), self.y(max(own.heights["hem"], self.level))
        if own.heights["hem"] >= self.level:
            length = own.heights["heading-top"] - own.heights["hem"]
            yield Dimension((x, top), (x, hem), length, f"hangs {figure(length, units)}", of="hung length")
        if own.returned:
            y = self.bottom + 7.5
            start, end = self.whole.x(0), self.whole.x(own.returned)
            words = f"return {figure(own.returned, units)}"
            yield Dimension((start, y), (end, y), own.returned, words, beyond=end - start < 22, of="return")
        else:
            words = "no return: its distance from the wall is not to scale"
            yield Text((self.whole.x(0), self.bottom + 8.5), words, FIGURE, face="note", of="no return")

    def y(self, height: int) -> float:
        return self.whole.y(self.top - height)

    def closer(self) -> Iterator[Shape]:
        """Yield the top and the hem of the panel, drawn larger."""
        heights = self.own.heights
        high = max(heights[point] for point in ("ceiling", "rod-top", "heading-top") if point in heights)
        low = min(heights["heading-foot"], heights["carrying-point"])
        spare = (high - low) // 6
        top = high if heights.get("ceiling") == high else high + spare
        yield from self._view("The top", top, low - spare, sheet.HEAD + 11.0, _HEAD_TALL, self._top_figures)
        level = heights["hem"] - self.own.clearance
        hem = heights["hem"] + self.own.hem.depth
        spare = max(abs(self.own.clearance), self.own.hem.depth, 10 * MILLIMETRE) // 3
        low = min(level, heights["hem"]) - (spare if self.own.hangs_to != "floor" else 0)
        low = max(low, heights.get("floor", low))
        start = sheet.HEAD + 11.0 + _HEAD_TALL + 18.0
        yield from self._view("The hem", max(hem, level) + spare, low, start, _HEM_TALL, self._hem_figures)

    def _view(self, word: str, high: int, low: int, start: float, tall: float, figures: _Figures) -> Iterator[Shape]:
        # What lies on the floor is seen by the hem alone.
        out = max(layer.farthest if low <= self.level else layer.out for layer in self.layers)
        scale = max(scale_for(high - low, tall, enlarged=True), scale_for(out, 48.0, enlarged=True))
        frame = Frame(_CLOSER, start, scale)
        words = f"{word}, {scale_text(scale)}"
        yield Text((_CLOSER - 3.2, start - 5.5), words, NOTE, face="note", of=f"{word} view")
        yield from side_shapes(self.layers, frame, high, low, frame.y(high - low))
        yield from figures(frame, high)

    def _top_figures(self, frame: Frame, high: int) -> Iterator[Shape]:
        heights = self.own.heights
        spans = [("heading-top", "heading-foot", "heading"), ("heading-top", "pin", "pin depth")]
        above = heights["heading-top"] >= heights["carrying-point"]
        carried = "above carrying point" if above else "below carrying point"
        spans += [("heading-top", "carrying-point", carried), ("ceiling", "heading-top", "to ceiling")]
        spans += [("rod-top", "rod-underside", "rod")]
        yield from self._spans(
            frame, high, [(high_, low, of) for high_, low, of in spans if {high_, low} <= {*heights}]
        )

    def _hem_figures(self, frame: Frame, high: int) -> Iterator[Shape]:
        own, hem = self.own, self.own.heights["hem"]
        found = []
        if own.clearance > 0:
            found.append((hem, hem - own.clearance, "clear", ""))
        elif own.clearance < 0 and hem >= self.level:
            found.append((hem - own.clearance, hem, "below", ""))
        elif own.clearance < 0:
            # It lies on the floor, out into the room.
            start, end = frame.x(own.out), frame.x(own.out - own.clearance)
            y = frame.y(high - self.level) - 5.0
            words = f"on the floor {figure(-own.clearance, self.units)}"
            yield Dimension((start, y), (end, y), -own.clearance, words, of="on the floor")
        if own.hem.depth and hem >= self.level:
            found.append((hem + own.hem.depth, hem, "hem", own.hem.proviso))
        yield from self._columns(frame, high, found)

    def _spans(self, frame: Frame, high: int, spans: Sequence[tuple[str, str, str]]) -> Iterator[Shape]:
        heights = {str(point): height for point, height in self.own.heights.items()}
        yield from self._columns(frame, high, [(heights[top], heights[foot], of, "") for top, foot, of in spans])

    def _columns(self, frame: Frame, high: int, spans: Sequence[tuple[int, int, str, str]]) -> Iterator[Shape]:
        """Yield dimensions side by side, the longest outermost, each named beyond its foot, with its proviso."""
        edge = frame.x(self.own.out)
        words: list[Shape] = []
        for number, (top, foot, of, proviso) in enumerate(sorted(spans, key=lambda span: abs(span[0] - span[1]))):
            x = edge + 8.0 * (number + 1)
            start, end = sorted((frame.y(high - top), frame.y(high - foot)))
            yield Line((edge + 1.8, start), (x, start), Pen.FAINT)
            yield Line((edge + 1.8, end), (x, end), Pen.FAINT)
            yield Dimension((x, start), (x, end), abs(top - foot), "", of=of)
            text = f"{of} {figure(abs(top - foot), self.units)}{proviso}"
            wide = width_of(text, FIGURE)
            words.append(Rectangle((x - 1.6, end + 1.4), 3.2, wide, None, Fill.PAPER))
            words.append(Text((x + 0.9, end + 1.6), text, FIGURE, "end", turned=90, of=f"{of} figure"))
        # The figures stand on blank paper, above the lines of those farther out.
        yield from words
