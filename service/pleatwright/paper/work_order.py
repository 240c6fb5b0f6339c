"""The work order: an estimate as text for a terminal, one window after another."""

from collections.abc import Iterator, Sequence

from pleatwright.contract.cut_lists import CutPlace, FabricOrder, RunFigures, Side
from pleatwright.contract.estimates import EstimatedPanel, EstimatedWindow, EstimateReply
from pleatwright.contract.replies import PleatFigures
from pleatwright.lengths import Units, from_units, length_text
from pleatwright.paper.materials import assumed_text, material_lines, shelf_lines
from pleatwright.paper.on_the_wall import on_the_wall
from pleatwright.paper.places import piece_text, seam_place
from pleatwright.paper.plain import printable
from pleatwright.paper.price import price_lines, workroom_lines
from pleatwright.trade.marks import Station, mirrored


def work_order(estimate: EstimateReply) -> str:
    """Return the estimate as a maker would write it up: sizes, cuts, marks, pins, materials and cautions."""
    return "\n".join(_Writer(estimate.units).order(estimate)) + "\n"


class _Writer:
    def __init__(self, units: Units) -> None:
        self._units = units

    def length(self, value: float) -> str:
        return self.text(self.grid(value))

    def grid(self, value: float) -> int:
        return from_units(value, self._units)

    def text(self, length: int) -> str:
        return length_text(length, self._units)

    def order(self, estimate: EstimateReply) -> Iterator[str]:
        yield f"WORK ORDER  {printable(estimate.job or 'no name')}"
        yield f"Finished sizes hold within {self.length(estimate.tolerance)} either way."
        for number, window in enumerate(estimate.windows, 1):
            yield ""
            yield from self.window(number, window)
        for fabric in estimate.materials.fabrics:
            yield ""
            yield from self.cut_list(fabric)
        yield ""
        yield from self.materials(estimate)
        yield ""
        if estimate.price:
            yield from price_lines(estimate.price)
            yield ""
        if estimate.workroom:
            yield from workroom_lines(estimate.workroom)
            yield ""
        yield "CAUTIONS"
        yield from (f"  * {caution.detail}" for caution in estimate.cautions)
        if estimate.assumed:
            yield ""
            yield "ASSUMED, since the job does not say"
            for assumed in estimate.assumed:
                yield f"  {printable(assumed.at)}  {assumed_text(assumed, self._units)}"
        if estimate.worksheet:
            yield ""
            yield "WORKSHEET"
            for step in estimate.worksheet:
                figures = ", ".join(f"{name} {figure:g}" for name, figure in step.figures.items())
                yield f"  {printable(step.name)} = {step.result:g}"
                yield f"      {step.formula}  ({figures})"
        yield ""
        styles = ", ".join(f"{style} ({package})" for style, package in estimate.made_with.styles.items())
        yield f"Made with pleatwright {estimate.made_with.pleatwright}; {styles}"

    def window(self, number: int, window: EstimatedWindow) -> Iterator[str]:
        names = f"{printable(window.label)}: {window.style}, {printable(window.fabric)}"
        yield f"WINDOW {number}  {names}, to the {window.hang_to}"
        for caution in window.cautions:
            yield f"  ! {caution.detail}"
        for cure in [cure for panel in window.panels for cure in panel.pleats.cures]:
            yield f"    {cure.detail}"
        yield from self.cuts(window.cuts)
        for panel in window.panels:
            yield from self.panel(panel)
        yield from on_the_wall(window, self.length)

    def cuts(self, cuts: RunFigures) -> Iterator[str]:
        cut = self.length(cuts.sequence[0].end - cuts.sequence[0].start)
        yield f"  Cut {len(cuts.sequence)} of {cut}; {self.length(cuts.run_length)} of cloth, if made by itself"

    def cut_list(self, fabric: FabricOrder) -> Iterator[str]:
        """Yield what to cut: from the pieces on the shelf if that can be, else in one run."""
        yield f"CUT LIST  {printable(fabric.fabric)}: {fabric.cuts} cuts, {self.length(fabric.run_length)} in one run"
        waste = fabric.rule_of_thumb_waste
        thumb = f"take {self.length(waste)} more" if waste >= 0 else f"fall {self.length(-waste)} short"
        yield f"  (the rule of thumb would {thumb})"
        if fabric.shelf and fabric.shelf.bolts:
            for bolt in fabric.shelf.bolts:
                lot = f", lot {printable(bolt.lot)}" if bolt.lot else ""
                yield f"  from piece {printable(bolt.bolt)}{lot}, {self.length(bolt.left_over)} left over:"
                yield from self.places(bolt.cuts)
        if fabric.shelf:
            yield from (f"  ! {line}" for line in shelf_lines(fabric.shelf, self._units))
        if not (fabric.shelf and fabric.shelf.bolts):
            yield from self.places(fabric.sequence)

    def places(self, places: Sequence[CutPlace]) -> Iterator[str]:
        yield "    cut   from          to            phase         for"
        for place in places:
            marks = "".join(f"{self.length(value):<14}" for value in (place.start, place.end, place.phase))
            pieces = ", ".join(piece_text(piece, printable) for piece in place.pieces or ())
            yield f"    {place.cut:>3}   {marks}{pieces}"

    def panel(self, panel: EstimatedPanel) -> Iterator[str]:
        widths = f"{panel.widths:g} width{'' if panel.widths == 1 else 's'}"
        side = "right" if panel.side == "left" else "left"
        yield f"  {panel.side.upper()} PANEL, face up: the leading edge is at your {side}"
        yield (
            f"    finished {self.length(panel.finished_width)} x {self.length(panel.finished_length)}; {widths}, flat "
            f"{self.length(panel.flat_width)}, fullness {panel.fullness:g}"
        )
        yield f"    {self.heading(panel.pleats)}"
        marks = self.marks(panel.pleats, panel.side)
        if marks:
            yield "    mark, measured from the left:"
            yield from _columns(marks)
        for number, seam in enumerate(panel.pleats.seams, 1):
            yield f"    seam {number}, {self.length(seam.at)} from the leading edge: {seam_place(panel.pleats, seam)}"
        pins = panel.pins
        if pins.pin_depth is not None:
            kind = "pins" if panel.pleats.pleat_count else "hooks"
            yield f"    {pins.pin_count} {kind}, {self.length(pins.pin_depth)} down from the top"

    def marks(self, pleats: PleatFigures, side: Side) -> list[str]:
        """Return what to mark on the flat cloth as it lies; a gathered panel needs no marks."""
        row = [
            Station(station.kind, self.grid(station.start), self.grid(station.end), station.number or None)
            for station in pleats.stations
        ]
        # A surplus is off before the panel is marked.
        flat_width = next(station.end for station in reversed(row) if station.kind != "surplus")
        if pleats.points:
            word = pleats.points.word
            places = [(point.number, self.grid(point.flat)) for point in pleats.hanging_points]
            if side == "left":
                places = [(number, flat_width - at) for number, at in reversed(places)]
            return [f"{word} {number} at {self.text(at)}" for number, at in places]
        if not pleats.pleat_count:
            return []
        laid = mirrored(row, flat_width) if side == "left" else row
        return [f"{_name(station)} to {self.text(station.end)}" for station in laid]

    def heading(self, pleats: PleatFigures) -> str:
        if pleats.take_up and pleats.space is not None:
            least, most = self.length(pleats.take_up.least), self.length(pleats.take_up.most)
            take_up = least if least == most else f"{least} to {most}"
            spaces = f"{pleats.space_count} spaces of {self.length(pleats.space)}"
            return f"{pleats.pleat_count} pleats taking up {take_up}, {spaces}"
        if points := pleats.points:
            flat, finished = self.length(points.gap), self.length(points.finished_gap)
            return f"{points.count} {points.word}s, {flat} of flat cloth from one to the next, hung to {finished}"
        hooks = len(pleats.hanging_points)
        return f"gathered from edge to edge{f', on {hooks} hooks' if hooks else ', on the rod itself'}"

    def materials(self, estimate: EstimateReply) -> Iterator[str]:
        yield "MATERIALS"
        yield from (f"  {what}: {much}" for what, much in material_lines(estimate.materials, self._units))


def _name(station: Station) -> str:
    return f"{station.kind} {station.number}" if station.number else station.kind


def _columns(texts: Sequence[str], across: int = 4) -> Iterator[str]:
    width = max(map(len, texts)) + 2
    for start in range(0, len(texts), across):
        yield "      " + "".join(f"{text:<{width}}" for text in texts[start : start + across]).rstrip()
