"""The cut plan: each piece of cloth along the paper, with its cuts, where the pattern starts anew, and its flaws."""

from collections.abc import Iterator, Sequence
from typing import Final

from pleatwright.contract.cut_lists import CutPlace, FabricOrder, LayerOrder
from pleatwright.lengths import MILLIMETRE, Units, from_units
from pleatwright.paper.drawings import sheet
from pleatwright.paper.drawings.bolt import Bolt, Cut, bolt_strips, room_below, strip_shapes
from pleatwright.paper.drawings.placing import SCALES, Frame
from pleatwright.paper.drawings.shapes import FIGURE, NOTE, Drawing, Shape, Text
from pleatwright.paper.drawings.words import clean, counted, figure, isolated, listed, shortened

_WIDE: Final = 26.0
"""How wide cloth is drawn, in millimetres, if its cuts are not short beside that."""
_WIDEST: Final = 70.0
_SHORTEST: Final = 13.0
"""What a cut needs for its number and its words."""
_UNKNOWN_WIDTH: Final = 1370 * MILLIMETRE
"""Of a layer cut at as many widths as the face, whose bolt was not measured."""


def cut_plan(fabric: FabricOrder, units: Units) -> Drawing:
    """Return how a fabric is cut: from the pieces on the shelf where there is such a plan, else in one run.

    The tops of the cuts are at the left. A cut that is split has its left half, face up and its top away from you, at
    the foot of the drawing.
    """
    repeat = from_units(fabric.vertical_repeat, units)
    bolts = []
    for bolt in fabric.shelf.bolts if fabric.shelf else ():
        lot = f", lot {clean(bolt.lot)}" if bolt.lot else ""
        length = from_units(bolt.length, units)
        words = f"{figure(length, units)} long, {figure(from_units(bolt.left_over, units), units)} left over"
        bolts.append(
            Bolt(
                name=f"Piece {clean(bolt.bolt)}{lot}",
                words=words,
                length=length,
                cuts=_cuts(bolt.cuts, units),
                flaws=[(from_units(flaw.start, units), from_units(flaw.end, units)) for flaw in bolt.flaws],
                pattern=_pattern(length, repeat, from_units(bolt.phase, units)),
            )
        )
    if not bolts:
        cuts = _cuts(fabric.sequence, units)
        length = max(cut.end for cut in cuts)
        phase = from_units(fabric.sequence[0].phase, units) - cuts[0].start
        words = f"{figure(length, units)} in all; order {fabric.quantity}"
        bolts = [Bolt("One run of new cloth", words, length, cuts, [], _pattern(length, repeat, phase))]
    heading = f"Cut plan, {counted(len(fabric.sequence), 'cut')}"
    return _drawing(heading, [fabric.fabric], bolts, from_units(fabric.width, units), repeat, units)


def layer_plan(layer: LayerOrder, units: Units) -> Drawing:
    """Return how a lining, an interlining or a blackout is cut, in one run."""
    cuts = _cuts(layer.sequence, units)
    length = max(cut.end for cut in cuts)
    bolt = Bolt("One run", f"{figure(length, units)} in all; order {layer.quantity}", length, cuts, [], [])
    width = _UNKNOWN_WIDTH if layer.width is None else from_units(layer.width, units)
    heading = f"Cut plan, {layer.layer}, {counted(layer.cuts, 'cut')}"
    return _drawing(heading, [layer.cloth or ""], [bolt], width, 0, units)


def _cuts(places: Sequence[CutPlace], units: Units) -> list[Cut]:
    found = []
    for place in sorted(places, key=lambda each: each.start):
        served = [
            (_served(piece.window or "", piece.panel, piece.width), piece.half, piece.half_of_cut or "")
            for piece in place.pieces or ()
        ]
        start, end, phase = (from_units(value, units) for value in (place.start, place.end, place.phase))
        found.append(Cut(place.cut, start, end, phase, served))
    return found


def _served(window: str, panel: str, width: int) -> str:
    name = isolated(clean(window))
    return f"{name}, {panel} {width}" if name else f"{panel} {width}"


def _pattern(length: int, repeat: int, phase: int) -> list[int]:
    """Return where the pattern starts anew along a piece that starts so far into the repeat.

    >>> _pattern(30, 10, 3)
    [7, 17, 27]
    """
    return list(range(-phase % repeat, length + 1, repeat)) if repeat else []


def _drawing(
    heading: str, names: Sequence[str], bolts: Sequence[Bolt], width: int, repeat: int, units: Units
) -> Drawing:
    shortest = min(cut.end - cut.start for bolt in bolts for cut in bolt.cuts)
    scale = _scale(width, shortest)
    below = room_below(bolts, units)
    shapes: list[Shape] = []
    breaks: list[float] = []
    top = sheet.HEAD + 2.0
    across = width / MILLIMETRE / scale
    for bolt in bolts:
        parts = bolt_strips(bolt, int(sheet.ROOM * scale * MILLIMETRE))
        for number, (start, end) in enumerate(parts):
            if shapes:
                breaks.append(top - 3.5)
            title = f"{bolt.name}: {bolt.words}" if number == 0 else f"{bolt.name}, going on"
            title = shortened(title, sheet.ROOM, FIGURE)
            shapes.append(Text((sheet.MARGIN, top + 1.0), title, FIGURE, face="bold", of="piece"))
            shapes += strip_shapes(bolt, start, end, Frame(sheet.MARGIN, top + 7.5, scale, start), across, units)
            top += 7.5 + across + below
    shapes += _notes(top, repeat, bolts, units)
    description = " ".join(_in_words(bolt, units) for bolt in bolts)
    return sheet.finished(heading, names, description, shapes, top + 8.0, scale, units, breaks)


def _scale(width: int, shortest: int) -> float:
    """Return the scale at which cloth is not too wide, and the shortest cut long enough for its words if it can be."""
    for scale in SCALES:
        wide, cut = width / MILLIMETRE / scale, shortest / MILLIMETRE / scale
        if wide <= _WIDE or (wide <= _WIDEST and cut / 1.25 < _SHORTEST):
            return scale
    return SCALES[-1]


def _notes(top: float, repeat: int, bolts: Sequence[Bolt], units: Units) -> Iterator[Text]:
    notes = ["Tops of the cuts are at the left, cloth face up."]
    if repeat:
        notes.append(f"The pattern starts anew at each fine line, every {figure(repeat, units)}.")
    if any(bolt.flaws for bolt in bolts):
        notes.append("Cross-hatched: flaws.")
    ends = ((0, *(cut.end for cut in bolt.cuts)) for bolt in bolts)
    starts = ((cut.start for cut in bolt.cuts) for bolt in bolts)
    if any(end < start for pair in zip(ends, starts, strict=True) for end, start in zip(*pair, strict=False)):
        notes.append("Hatched: lost before and between the cuts.")
    yield Text((sheet.MARGIN, top + 3.0), " ".join(notes), NOTE, face="note", of="notes")


def _in_words(bolt: Bolt, units: Units) -> str:
    cuts = [
        f"cut {cut.number} from {figure(cut.start, units)} to {figure(cut.end, units)}"
        + (f" for {listed([words for words, _, _ in cut.served])}" if cut.served else "")
        for cut in bolt.cuts
    ]
    flaws = [
        f"a flaw at {figure(start, units)}" + (f" to {figure(end, units)}" if end > start else "")
        for start, end in bolt.flaws
    ]
    return f"{bolt.name}, {bolt.words}: {listed(cuts + flaws)}."
