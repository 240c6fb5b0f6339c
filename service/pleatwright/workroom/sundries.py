"""What headings take besides cloth: how many, or how much of a length."""

from collections.abc import Iterable, Iterator, Mapping
from math import ceil
from typing import Final, assert_never

import msgspec
from msgspec import UNSET, Struct

from pleatwright.contract.estimates import Sundry, SundryOrder
from pleatwright.contract.replies import Range
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Material, Pleat
from pleatwright.lengths import in_units, rounded_in_units
from pleatwright.trade.along_rod import sliders_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.mounts import MountKind
from pleatwright.trade.panel import Panel
from pleatwright.workroom import usual
from pleatwright.workroom.cut_figures import order
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.rods import rod_length
from pleatwright.workroom.windows import MadeWindow

FILLER = "filler"


class Item(Struct, frozen=True):
    """A sundry by its kind and size. Sizes are in grid units, 0 where it has none."""

    kind: str
    least_size: int
    most_size: int
    is_length: bool


class Sundries(Struct, frozen=True):
    """Amounts of sundries: a count, or a length in grid units."""

    reader: Reader
    amounts: Mapping[Item, int]

    def figures(self) -> list[Sundry]:
        """Return them as a reply has them."""
        units = self.reader.units
        return [
            Sundry(
                kind=item.kind,
                size=Range(least=rounded_in_units(item.least_size, units), most=rounded_in_units(item.most_size, units))
                if item.most_size
                else UNSET,
                count=UNSET if item.is_length else amount,
                length=in_units(amount, units) if item.is_length else UNSET,
            )
            for item, amount in self.amounts.items()
        ]

    def orders(self) -> list[SundryOrder]:
        """Return them as they are ordered."""
        found = []
        for figures, (item, amount) in zip(self.figures(), self.amounts.items(), strict=True):
            plain = msgspec.structs.asdict(figures)
            if item.is_length:
                asked = order(self.reader, amount, self.reader.usual(usual.INCREMENT))
                found.append(SundryOrder(**plain | {"length": asked.length}, quantity=asked.quantity))
            else:
                found.append(SundryOrder(**plain, quantity=str(amount)))
        return found


def sundries_of(made: MadeWindow, headings: Headings) -> Sundries:
    """Return what one window's headings take."""
    read = made.read
    amounts: dict[Item, int] = {}
    if isinstance(read.made, Pleat):
        length = sum(panel.flat_width for panel in made.panels)
        amounts[Item("buckram", read.made.buckram_depth, read.made.buckram_depth, is_length=True)] = length
        amounts |= _fillers(made, headings)
    for material in read.made.materials:
        size = material.size or 0
        item = Item(material.kind, size, size, is_length=material.per in ("flat-width", "finished-width"))
        for panel, laid_out in zip(made.panels, made.laid_out, strict=True):
            amounts[item] = amounts.get(item, 0) + _amount(material, panel, laid_out)
    for item, amount in (*_of_mount(made), *_of_hem(made)):
        amounts[item] = amounts.get(item, 0) + amount
    return Sundries(read.reader, amounts)


_RODS: Final[dict[MountKind, str]] = {
    "traverse-rod": "traverse rod",
    "ceiling-track": "track",
    "rings": "rod",
    "clip-rings": "rod",
    "through-heading": "rod",
}
_SLIDERS: Final[dict[MountKind, str]] = {
    "traverse-rod": "carrier",
    "ceiling-track": "carrier",
    "rings": "ring",
    "clip-rings": "clip ring",
}


def _of_mount(made: MadeWindow) -> Iterator[tuple[Item, int]]:
    """Yield what a window hangs from, if the workroom supplies it: the rod with its returns, its carriers or rings."""
    mount = made.read.hang.mount
    if mount is None or not mount.is_supplied:
        return
    yield Item(_RODS[mount.kind], 0, 0, is_length=True), rod_length(made.read.rod)
    if kind := _SLIDERS.get(mount.kind):
        needed = sum(
            sliders_of(panel, laid_out.hanging_points).sliding
            for panel, laid_out in zip(made.panels, made.laid_out, strict=True)
        )
        yield Item(kind, 0, 0, is_length=False), max(needed, (mount.sliders or 0) * len(made.panels))


def _of_hem(made: MadeWindow) -> Iterator[tuple[Item, int]]:
    """Yield the weights and the cord that are sewn into the hems."""
    weights = made.read.hem_weights
    if weights is None:
        return
    if count := sum(weights.count(panel) for panel in made.panels):
        yield Item("weight", 0, 0, is_length=False), count
    if weights.cord:
        yield Item("weighted cord", 0, 0, is_length=True), sum(panel.flat_width for panel in made.panels)


def together(reader: Reader, several: Iterable[Sundries]) -> Sundries:
    """Return the sundries of several windows in one, by kind and size."""
    amounts: dict[Item, int] = {}
    for each in several:
        for item, amount in each.amounts.items():
            amounts[item] = amounts.get(item, 0) + amount
    return Sundries(reader, dict(sorted(amounts.items(), key=lambda found: (found[0].kind, found[0].least_size))))


def _amount(material: Material, panel: Panel, laid_out: LaidOut) -> int:
    match material.per:
        case "flat-width":
            surplus = laid_out.points.surplus if laid_out.points else 0
            return panel.flat_width - surplus + material.extra
        case "finished-width":
            return panel.finished_width + material.extra
        case "pleat":
            return laid_out.pleats.pleat_count if laid_out.pleats else 0
        case "point":
            return laid_out.points.count if laid_out.points else 0
        case "panel":
            return 1
        case _:
            assert_never(material.per)


def _fillers(made: MadeWindow, headings: Headings) -> dict[Item, int]:
    """Return the fillers that keep round pleats open, if the style has any."""
    read = made.read
    layouts = [each.pleats for each in made.laid_out if each.pleats]
    largest = max(float(layout.most_take_up) for layout in layouts)
    most = read.reader.shape(headings, read.request.heading, read.made, largest).filler
    if most is None:
        return {}
    smallest = min(float(layout.least_take_up) for layout in layouts)
    least = read.reader.shape(headings, read.request.heading, read.made, smallest).filler
    if least is None:
        return {}
    item = Item(FILLER, round(least), ceil(most), is_length=False)
    return {item: sum(layout.pleat_count for layout in layouts)}
