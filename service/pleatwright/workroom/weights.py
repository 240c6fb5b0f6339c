"""What a window's panels weigh, and what that is to the limits that are known."""

from fractions import Fraction

from pleatwright.contract.hanging import PanelWeight, WeightFigures
from pleatwright.contract.notes import Caution
from pleatwright.headings.made import Pleat
from pleatwright.lengths import GRID
from pleatwright.masses import MassUnits, in_mass_units, mass_texts
from pleatwright.trade.along_rod import sliders_of
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.panel import Panel
from pleatwright.trade.weight import PanelMass, area_mass, face_cloth, layer_cloth
from pleatwright.workroom import usual
from pleatwright.workroom.windows import MadeWindow


def panel_masses(made: MadeWindow) -> list[PanelMass] | None:
    """Return what each panel weighs; None when the mass of the face cloth is not known."""
    per_area = made.read.fabric.mass_per_area
    if per_area is None:
        return None
    return [
        _panel_mass(made, number, panel, laid_out, per_area)
        for number, (panel, laid_out) in enumerate(zip(made.panels, made.laid_out, strict=True))
    ]


def _panel_mass(made: MadeWindow, number: int, panel: Panel, laid_out: LaidOut, per_area: Fraction) -> PanelMass:
    read = made.read
    surplus = laid_out.points.surplus if laid_out.points else 0
    layers: dict[str, Fraction] = {
        layer.cloth.name: area_mass(
            *layer_cloth(panel, layer.cloth, layer.panels[number], surplus), layer.cloth.mass_per_area or Fraction(0)
        )
        for layer in made.layers
    }
    buckram = read.made.buckram_depth if isinstance(read.made, Pleat) else 0
    return PanelMass(
        face=area_mass(*face_cloth(panel, read.make_up, surplus), per_area),
        layers=layers,
        buckram=area_mass(panel.flat_width, buckram, usual.BUCKRAM_MASS),
        hem_weights=read.hem_weights.mass(panel) if read.hem_weights else Fraction(0),
        pins=len(laid_out.hanging_points) * usual.PIN_MASS if made.pin else Fraction(0),
    )


def weight_figures(made: MadeWindow, masses: list[PanelMass], stacked: int) -> WeightFigures:
    """Return the weights as a reply has them, in kilograms or pounds as the request works in metric or inches.

    `stacked` is the length of rod that the panels occupy when they are open.
    """
    units = _units(made)
    total = sum((mass.total for mass in masses), Fraction(0))
    length = GRID["ft"] if units == "lb" else GRID["m"]
    mount = made.read.hang.mount
    limit = mount.load_limit if mount else None
    slider_limit = mount.slider_load_limit if mount else None
    return WeightFigures(
        units=units,
        panels=[
            PanelWeight(
                side=panel.side,
                face=in_mass_units(mass.face, units),
                layers={name: in_mass_units(each, units) for name, each in mass.layers.items()},
                buckram=in_mass_units(mass.buckram, units),
                hem_weights=in_mass_units(mass.hem_weights, units),
                pins=in_mass_units(mass.pins, units),
                total=in_mass_units(mass.total, units),
                per_slider=None if each is None else in_mass_units(each, units),
            )
            for panel, mass, each in zip(made.panels, masses, _per_slider(made, masses), strict=True)
        ],
        total=in_mass_units(total, units),
        per_rod_length=in_mass_units(total * length / made.read.rod.width, units),
        per_stack_length=in_mass_units(total * length / max(stacked, 1), units),
        load_limit=None if limit is None else in_mass_units(limit, units),
        slider_load_limit=None if slider_limit is None else in_mass_units(slider_limit, units),
    )


def _units(made: MadeWindow) -> MassUnits:
    return "lb" if made.read.reader.units == "in" else "kg"


def _per_slider(made: MadeWindow, masses: list[PanelMass]) -> list[Fraction | None]:
    """Return what hangs on each carrier or ring, those at the flat ends taken to bear nothing."""
    if not made.read.made.overlaps:
        return [None] * len(masses)
    counts = [
        sliders_of(panel, each.hanging_points).sliding for panel, each in zip(made.panels, made.laid_out, strict=True)
    ]
    return [mass.total / count if count else None for mass, count in zip(masses, counts, strict=True)]


def of_weight(made: MadeWindow, masses: list[PanelMass] | None) -> list[Caution]:
    """Return cautions where a stated limit is passed, or cannot be compared; others decide what a rod may carry."""
    mount = made.read.hang.mount
    if mount is None or (mount.load_limit is None and mount.slider_load_limit is None):
        return []
    if masses is None:
        detail = "A load limit is stated and the cloth's mass per unit area is not: it cannot be compared."
        return [Caution(kind="weight-not-known", detail=detail)]
    units, found = _units(made), []
    total = sum((mass.total for mass in masses), Fraction(0))
    decides = "The maker of the rod and a qualified installer decide: choose a stronger one, or lighter cloth."
    if mount.load_limit is not None and total > mount.load_limit:
        weight, limit = mass_texts(units, total, mount.load_limit)
        detail = f"The panels weigh {weight}, over the limit of {limit} stated for the rod. {decides}"
        found.append(Caution(kind="over-load-limit", detail=detail))
    heaviest = max((each for each in _per_slider(made, masses) if each is not None), default=Fraction(0))
    if mount.slider_load_limit is not None and heaviest > mount.slider_load_limit:
        weight, limit = mass_texts(units, heaviest, mount.slider_load_limit)
        detail = f"Each carrier or ring bears {weight}, over its limit of {limit}. {decides}"
        found.append(Caution(kind="over-carrier-load-limit", detail=detail))
    return found
