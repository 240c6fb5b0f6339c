"""Reads what sewing takes, and the layers behind the face; and orders the layers."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

import msgspec
from msgspec import Struct

from pleatwright.contract import sewing as contract
from pleatwright.contract.cut_lists import LayerCuts, LayerOrder
from pleatwright.contract.sewing import Layer, MakeUp
from pleatwright.faults import Fault
from pleatwright.headings.made import Made
from pleatwright.lengths import in_units
from pleatwright.masses import parse_mass
from pleatwright.trade import window as trade
from pleatwright.trade.cuts import Pattern, Served, WindowCuts, cuts_of
from pleatwright.trade.panel import Panel
from pleatwright.trade.repeat import Run, Wanted, order_quantity, shortest_run
from pleatwright.trade.sewing import LayerCloth, LayerName, hem_takes
from pleatwright.trade.weight import HemWeights
from pleatwright.workroom import usual
from pleatwright.workroom.cut_figures import cut_place, order
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.usual import Usual

PLAIN = Pattern(0, 0, Fraction(0))


def read_make_up(reader: Reader, make_up: MakeUp, made: Made | None, fabric: FaceCloth | None) -> trade.MakeUp:
    """Read what sewing takes; the heading says what is turned over at the top, and the fabric what shrinks away."""
    width_ease = reader.length(make_up.width_ease, "width_ease", usual=usual.NONE)
    shrinks = ceil((fabric.width - 2 * fabric.selvage) * fabric.shrinks_wide) if fabric else 0
    side_hem, side_hem_depth = _hem(reader, make_up, "side_hem", usual.SIDE_HEM, usual.SIDE_HEM_DEPTH)
    bottom_hem, bottom_hem_depth = _hem(reader, make_up, "bottom_hem", usual.BOTTOM_HEM, usual.BOTTOM_HEM_DEPTH)
    return trade.MakeUp(
        side_hem=side_hem,
        bottom_hem=bottom_hem,
        top_turning=reader.length(make_up.top_turning, "top_turning", usual=made.top_turning if made else 0),
        seam_allowance=_seam(reader, make_up),
        ease=reader.length(make_up.ease, "ease", usual=usual.NONE),
        half_widths=make_up.widths == "half",
        nearest=make_up.nearest,
        halves=None if make_up.width_count is None else round(make_up.width_count * 2),
        width_lost=width_ease + shrinks,
        shrinkage=fabric.shrinks_long if fabric else Fraction(0),
        side_hem_depth=side_hem_depth,
        bottom_hem_depth=bottom_hem_depth,
    )


def _hem(reader: Reader, make_up: MakeUp, field: str, taken: Usual, depth: Usual) -> tuple[int, int | None]:
    """Read what a hem takes, and how deep it is where its type is given: what it takes does not say."""
    given, kind = getattr(make_up, field), getattr(make_up, f"{field}_type")
    own_depth = getattr(make_up, f"{field}_depth")
    if kind is None:
        if own_depth is not None:
            detail = "a depth goes with the type of the hem: give that too, or what the hem takes in all"
            reader.fault(Fault((f"{field}_depth",), detail, None, "null, or a type of hem"))
        return reader.length(given, field, usual=taken), None
    if given is not None:
        reader.fault(Fault((field,), "the type of the hem says what it takes: leave one of the two out", None, "null"))
    read = reader.length(own_depth, f"{field}_depth", usual=depth)
    return hem_takes(kind, read, reader.usual(usual.TURNED_UNDER)), None if kind == "faced" else read


def _seam(reader: Reader, make_up: MakeUp) -> int:
    if make_up.seam_type is None:
        return reader.length(make_up.seam_allowance, "seam_allowance", usual=usual.SEAM_ALLOWANCE)
    if make_up.seam_allowance is not None:
        detail = "the type of the seam says what it takes: leave one of the two out"
        reader.fault(Fault(("seam_allowance",), detail, None, "null"))
    return reader.usual(usual.SEAM_TYPES[make_up.seam_type])


def read_layer(reader: Reader, name: LayerName, layer: Layer, *, weighed: bool) -> LayerCloth:
    """Read a layer; only a lining is hemmed and turned in unless it is asked for. It is `weighed` if its face is."""
    hemmed = name == "lining"

    def length(given: float | str | None, field: str, of_lining: Usual) -> int:
        return reader.length(given, field, usual=of_lining if hemmed else usual.NONE)

    return LayerCloth(
        name=name,
        width=None if layer.width is None else reader.positive(layer.width, "width"),
        selvage=reader.length(layer.selvage, "selvage", usual=usual.NONE),
        seam_allowance=length(layer.seam_allowance, "seam_allowance", usual.SEAM_ALLOWANCE) if layer.width else 0,
        side_turning=length(layer.side_turning, "side_turning", usual.LINING_TURNING) if layer.width else 0,
        narrower=reader.length(layer.narrower, "narrower", usual=usual.NONE),
        shorter=length(layer.shorter, "shorter", usual.LINING_SHORTER),
        bottom_hem=length(layer.bottom_hem, "bottom_hem", usual.LINING_HEM),
        top_turning=length(layer.top_turning, "top_turning", usual.LINING_TURNING),
        increment=reader.positive(layer.increment, "increment", usual=usual.INCREMENT),
        thickness=reader.length(layer.thickness, "thickness", usual=usual.LAYER_THICKNESS[name]),
        mass_per_area=reader.mass_per_area(layer.mass_per_area, "mass_per_area", usual=usual.MASS_PER_AREA[name])
        if weighed
        else None,
        cloth=layer.cloth,
    )


def read_layers(reader: Reader, given: Mapping[LayerName, Layer | None], fabric: FaceCloth | None) -> list[LayerCloth]:
    """Read the layers that there are."""
    weighed = fabric is not None and fabric.mass_per_area is not None
    return [read_layer(reader.under(name), name, layer, weighed=weighed) for name, layer in given.items() if layer]


def read_hem_weights(given: contract.HemWeights | None) -> HemWeights | None:
    """Read what is sewn into the bottom hem."""
    if given is None:
        return None
    return HemWeights(
        each=parse_mass(given.each) if given.each else Fraction(0),
        at=given.at,
        cord=parse_mass(given.cord) if given.cord else Fraction(0),
    )


class LayerOfWindow(Struct, frozen=True):
    """One layer of one window: its cloth, its panels, and the cuts for the window by itself."""

    cloth: LayerCloth
    panels: Sequence[Panel]
    cuts: WindowCuts
    wanted: Sequence[Wanted]
    served: Sequence[Sequence[Served]]
    label: str

    @property
    def kind(self) -> tuple[LayerName, int | None, str | None]:
        """What it is ordered with: layers of its name, of its width and of its cloth."""
        return self.cloth.name, self.cloth.width, self.cloth.cloth

    def figures(self, reader: Reader) -> LayerCuts:
        """Return it as a reply has it."""
        return LayerCuts(
            layer=self.cloth.name,
            widths=[panel.halves / 2 for panel in self.panels],
            cut_length=in_units(self.panels[0].cut_length, reader.units),
            cuts=len(self.wanted),
            length=in_units(sum(cut.length for cut in self.wanted), reader.units),
        )


def layer_of_window(cloth: LayerCloth, panels: Sequence[Panel], division: int, label: str) -> LayerOfWindow:
    """Return a layer of a window, whose panels in it these are, cut by a division of the rule."""
    cuts = WindowCuts(panels, 0, division)
    return LayerOfWindow(cloth, panels, cuts, *cuts_of([cuts], PLAIN), label)


class LayerRun(Struct, frozen=True):
    """One cloth of one layer for a whole job: its cuts in one run. `cloth` is its name, where the job gives one."""

    name: LayerName
    width: int | None
    cloth: str | None
    layers: Sequence[LayerOfWindow]
    cuts: int
    served: Sequence[Sequence[Served]]
    run: Run

    @property
    def increment(self) -> int:
        """What it is sold in: the largest that any window names."""
        return max(layer.cloth.increment for layer in self.layers)

    @property
    def ordered(self) -> int:
        """The run raised to whole increments of the seller's."""
        return order_quantity(self.run.length, self.increment)


def layer_runs(layers: Sequence[LayerOfWindow]) -> list[LayerRun]:
    """Return each layer of each width and cloth, for a whole job."""
    found = []
    for kind in dict.fromkeys(layer.kind for layer in layers):
        its = [layer for layer in layers if layer.kind == kind]
        if len(its) == 1:
            wanted, served = its[0].wanted, its[0].served
        else:
            wanted, served = cuts_of([layer.cuts for layer in its], PLAIN)
        found.append(LayerRun(*kind, its, len(wanted), served, shortest_run(wanted, 0, Fraction(0))))
    return found


def layer_orders(reader: Reader, layers: Sequence[LayerOfWindow]) -> list[LayerOrder]:
    """Order each layer of each width and cloth for the whole job."""
    return [
        LayerOrder(
            **msgspec.structs.asdict(order(reader, each.run.length, each.increment)),
            layer=each.name,
            cloth=each.cloth,
            width=None if each.width is None else in_units(each.width, reader.units),
            cuts=each.cuts,
            sequence=[
                cut_place(reader, cut, each.served[cut.number - 1], [layer.label for layer in each.layers])
                for cut in each.run.cuts
            ],
        )
        for each in layer_runs(layers)
    ]
