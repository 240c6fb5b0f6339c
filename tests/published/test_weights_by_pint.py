"""Weights of whole estimates by pint: each area by hand from the reply's own widths and lengths, its mass by pint.

Mass per unit area is that of ISO 3801 and ASTM D3776. What a lining, a buckram or a pin weighs when nobody says is the
project's own choice, as the contract tells it: 130, 300 and 280 g/m2 of layers, 180 g/m2 of buckram, 2 g a pin.
"""

import json
import math
import re
from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pleatwright.contract.reading import UnreadableError
from pleatwright.masses import in_mass_units, parse_mass

REPEATABLE = settings(derandomize=True, database=None, deadline=None, max_examples=300)
UNITS = pint.UnitRegistry()
EXACT = pint.UnitRegistry(non_int_type=Fraction)
ROUNDED = 0.0005 + 1e-9
"""Half of the third decimal of a reply's masses."""
LARGE = {"in": "lb", "cm": "kg", "mm": "kg"}


def asked_of(units="in", cloth="310 g/m2", style="three-fold-pinch", window=None, fabric=None, mount=None):
    linen = {"width": "54 in"} | ({"mass_per_area": cloth} if cloth else {}) | (fabric or {})
    one = {
        "rod": {"width": "96 in", "return": "3.5 in"},
        "hang": {"mount": {"kind": "traverse-rod", "height": "90 in"} | (mount or {})},
        "fabric": "linen",
        "heading": {"style": style},
        "lining": None,
    }
    return {"units": units, "windows": [one | (window or {})], "fabrics": {"linen": linen}}


@pytest.fixture
def weighed(ask):
    """Ask for one window of a job."""
    return lambda *given, **more: ask("estimate", asked_of(*given, **more)).windows[0]


@pytest.fixture
def refused(request_reader):
    """The JSON pointers of what is against the contract in such a job."""

    def asked(**more):
        with pytest.raises(UnreadableError) as unreadable:
            request_reader.read("estimate", json.dumps(asked_of(**more)).encode())
        return ["/" + "/".join(map(str, fault.where)) for fault in unreadable.value.faults]

    return asked


def kinds(window):
    return [caution.kind for caution in window.cautions]


def mass(units, width, length, per_area):
    """Mass of a piece of cloth by pint; its sides in the request's units."""
    unit = {"in": UNITS.inch, "cm": UNITS.cm, "mm": UNITS.mm}[units]
    number, per = per_area.split(" ")
    density = float(number) * {"g/m2": UNITS.g / UNITS.m**2, "oz/yd2": UNITS.oz / UNITS.yd**2}[per]
    return (width * unit * (length * unit) * density).to(LARGE[units]).magnitude


def grams(units, number):
    return (number * UNITS.g).to(LARGE[units]).magnitude


SEWN = {
    "in": {"side_hem": 3, "bottom_hem": 8, "top_turning": 8, "seam_allowance": 0.5},
    "cm": {"side_hem": 7.5, "bottom_hem": 20, "top_turning": 20, "seam_allowance": 1.2},
}


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize("cloth", ["310 g/m2", "9.25 oz/yd2", "60g/m2"])
@pytest.mark.parametrize("draw", ["pair", "one-way-left", "off-centre-pair"])
def test_the_face_weighs_what_all_of_its_cloth_does(weighed, units, cloth, draw):
    """Hems, seams and turnings laid open: the flat width, both side hems and both sides of each seam, by the finished
    length, the turning and the bottom hem.
    """
    sewn = SEWN[units]
    rod = {"width": "96 in", "draw": draw} | ({"parting": "40 in"} if draw == "off-centre-pair" else {})
    window = weighed(units, cloth, window={"make_up": sewn, "rod": rod})
    assert len(window.weight.panels) == len(window.panels)
    for panel, weight in zip(window.panels, window.weight.panels, strict=True):
        wide = panel.flat_width + 2 * sewn["side_hem"] + 2 * sewn["seam_allowance"] * len(panel.seams)
        long = panel.finished_length + sewn["top_turning"] + sewn["bottom_hem"]
        text = cloth.replace("60g", "60 g")
        assert weight.face == pytest.approx(mass(units, wide, long, text), abs=ROUNDED)
        assert (weight.side, weight.layers, weight.hem_weights) == (panel.side, {}, 0)
    assert window.weight.units == LARGE[units]


def test_whole_widths_of_cloth_weigh_as_much_as_they_come_off_the_bolt(weighed):
    """Without selvages nothing is thrown away: 54 in times the widths, by the cut."""
    window = weighed(window={"make_up": SEWN["in"]})
    for panel, weight in zip(window.panels, window.weight.panels, strict=True):
        assert weight.face == pytest.approx(mass("in", 54 * panel.widths, panel.cut_length, "310 g/m2"), abs=ROUNDED)


@pytest.mark.parametrize("units", ["in", "cm"])
def test_buckram_and_pins_weigh_what_the_contract_says(weighed, units):
    """Buckram 4 in deep along the flat width at 180 g/m2; 2 g a pin. A gathered heading has no buckram."""
    four = {"in": 4, "cm": 10.16}[units]
    window = weighed(units)
    for panel, weight in zip(window.panels, window.weight.panels, strict=True):
        assert weight.buckram == pytest.approx(mass(units, panel.flat_width, four, "180 g/m2"), abs=ROUNDED)
        assert panel.pins.pin_count == panel.pleats.pleat_count + 2
        assert weight.pins == pytest.approx(grams(units, 2 * panel.pins.pin_count), abs=ROUNDED)
    gathered = weighed(units, style="pencil")
    assert [(each.buckram, each.pins > 0) for each in gathered.weight.panels] == [(0, True)] * 2
    pocket = weighed(units, style="rod-pocket", mount={"kind": "through-heading"})
    assert [(each.pins, each.per_slider) for each in pocket.weight.panels] == [(0, None)] * 2


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize(
    ("name", "usual"), [("lining", "130 g/m2"), ("interlining", "300 g/m2"), ("blackout", "280 g/m2")]
)
@pytest.mark.parametrize("said", [None, "85 g/m2", "5 oz/yd2"])
def test_a_layer_of_its_own_width_weighs_its_turnings_and_seams_as_well(weighed, units, name, usual, said):
    """As wide as the face is flat less half an inch at each edge, an inch turned in at both, half an inch at each side
    of its seams; as long as it is cut.
    """
    allow = {"in": (1, 0.5), "cm": (2.54, 1.27)}[units]
    layer = {"width": "48 in", "side_turning": allow[0], "seam_allowance": allow[1], "mass_per_area": said}
    window = weighed(units, window={name: layer | {"narrower": allow[1]}})
    (cuts,) = window.materials.layers
    for panel, weight, widths in zip(window.panels, window.weight.panels, cuts.widths, strict=True):
        wide = panel.flat_width + 2 * (allow[0] - allow[1]) + 2 * allow[1] * (math.ceil(widths) - 1)
        assert weight.layers == {name: pytest.approx(mass(units, wide, cuts.cut_length, said or usual), abs=ROUNDED)}


def test_a_layer_cut_at_the_widths_of_the_face_is_as_wide_as_the_face_is_flat(weighed):
    """Nothing is said of its turnings: it lies flat within the hems. An inch shorter, 4 of hem and 1 of turning."""
    window = weighed(window={"lining": {}})
    for panel, weight in zip(window.panels, window.weight.panels, strict=True):
        long = panel.finished_length - 1 + 4 + 1
        assert weight.layers["lining"] == pytest.approx(mass("in", panel.flat_width, long, "130 g/m2"), abs=ROUNDED)


def test_hem_weights_are_at_the_corners_and_at_the_seams_and_a_cord_all_along(weighed):
    """25 g in each of two corners, and at each seam if that is asked; 50 g to a metre of the flat width."""

    def sewn_in(**weights):
        window = weighed("cm", window={"make_up": {"hem_weights": weights}})
        return [(len(panel.seams), panel.flat_width) for panel in window.panels], [
            each.hem_weights for each in window.weight.panels
        ]

    panels, found = sewn_in(each="25 g", at="corners")
    assert found == [0.05] * 2
    assert all(seams >= 1 for seams, _ in panels)
    panels, found = sewn_in(each="25 g", at="corners-and-seams")
    assert found == pytest.approx([0.025 * (2 + seams) for seams, _ in panels], abs=ROUNDED)
    panels, found = sewn_in(cord="50 g/m")
    assert found == pytest.approx([0.05 * flat / 100 for _, flat in panels], abs=ROUNDED)
    panels, found = sewn_in(each="0.5 oz", cord="1.5 oz/yd")
    pounds = [(2 + seams) * 0.5 * UNITS.oz + 1.5 * UNITS.oz / UNITS.yd * flat * UNITS.cm for seams, flat in panels]
    assert found == pytest.approx([each.to("kg").magnitude for each in pounds], abs=ROUNDED)


@pytest.mark.parametrize("units", ["in", "cm", "mm"])
def test_the_parts_come_to_the_whole_and_the_panels_to_the_window(weighed, units):
    """Within what the third decimal hides of each part."""
    layers = {"lining": {}, "interlining": {"width": "48 in"}, "blackout": {}}
    sewn = {"make_up": {"hem_weights": {"each": "25 g", "cord": "50 g/m"}}}
    window = weighed(units, window=layers | sewn)
    weight = window.weight
    for panel in weight.panels:
        parts = [panel.face, *panel.layers.values(), panel.buckram, panel.hem_weights, panel.pins]
        assert len(parts) == 7
        assert panel.total == pytest.approx(sum(parts), abs=8 * ROUNDED)
    assert weight.total == pytest.approx(sum(panel.total for panel in weight.panels), abs=3 * ROUNDED)
    for panel, slider in zip(weight.panels, window.rod.sliders, strict=True):
        assert panel.per_slider == pytest.approx(panel.total / slider.sliding, abs=2 * ROUNDED)
    # To a foot or a metre of the rod, closed, and of what the open panels take of it.
    length = {"in": 12, "cm": 100, "mm": 1000}[units]
    assert weight.per_rod_length == pytest.approx(weight.total * length / window.rod.width, abs=2 * ROUNDED)
    stacked = sum(each.stack for each in window.rod.stacks)
    assert weight.per_stack_length == pytest.approx(weight.total * length / stacked, rel=1e-3)


def test_a_load_limit_is_passed_one_step_below_what_the_panel_weighs_and_not_at_it(weighed):
    """In whole figures: turned cloth, 2.2 times 1500 is 3300 flat, 3450 with hems; 2350 + 200 + 200 long.

    3.45 x 2.75 m at 400 g/m2: 3795 g. Buckram 3.3 x 0.1 m at 180: 59.4 g. 16 pins of 2 g: 32 g. 3886.4 g in all, and
    242.9 g on each of 16 carriers.
    """
    sewn = {"side_hem": 75, "bottom_hem": 200, "top_turning": 200}
    window = {
        "rod": {"width": 1500, "return": 0, "draw": "one-way-left"},
        "heading": {"style": "three-fold-pinch", "buckram_depth": 100},
        "fullness": 2.2,
        "pleat_count": 16,
        "make_up": sewn,
    }

    def hung(**limits):
        hang = {"drop": 2350, "heading_above": 0, "clearance": 0, "mount": {"kind": "traverse-rod"} | limits}
        cloth = {"width": 3000, "railroaded": True}
        return weighed("mm", "400 g/m2", window=window | {"hang": hang}, fabric=cloth)

    told = hung(load_limit="3886.4 g", carrier_load_limit="242.9 g")
    assert (told.panels[0].flat_width, told.panels[0].pins.pin_count, told.rod.sliders[0].sliding) == (3300, 16, 16)
    (panel,) = told.weight.panels
    assert (panel.face, panel.buckram, panel.pins, panel.total) == (3.795, 0.059, 0.032, 3.886)
    assert (told.weight.load_limit, told.weight.slider_load_limit) == (3.886, 0.243)
    limits = {"over-load-limit", "over-carrier-load-limit", "weight-not-known"}
    assert not limits & set(kinds(told))
    assert limits & set(kinds(hung(load_limit="3886.3999 g"))) == {"over-load-limit"}
    assert limits & set(kinds(hung(carrier_load_limit="242.8999 g"))) == {"over-carrier-load-limit"}
    both = hung(load_limit="3.8863 kg", carrier_load_limit="0.5 lb")
    assert limits & set(kinds(both)) == {"over-load-limit", "over-carrier-load-limit"}


def test_a_weight_over_the_limit_is_not_told_as_the_limit_itself(weighed):
    """To be read aloud: "weigh 10.1 kg, over the limit of 10.1 kg" is no sense."""
    total = weighed("cm").weight.total
    window = weighed("cm", mount={"load_limit": f"{total - 0.002:.4f} kg"})
    (over,) = (caution.detail for caution in window.cautions if caution.kind == "over-load-limit")
    told, limit = re.findall(r"([0-9.]+) kg", over)
    assert float(told) > float(limit)


def test_no_weight_is_told_where_the_mass_of_the_face_is_not_known(weighed):
    """A lining's alone would mislead; a limit that is known cannot be compared, and that is told."""
    window = weighed(cloth=None, window={"lining": {"mass_per_area": "130 g/m2"}})
    assert window.weight is None
    assert "weight-not-known" not in kinds(window)
    for limit in ("load_limit", "carrier_load_limit"):
        limited = weighed(cloth=None, mount={limit: "1 g"})
        assert limited.weight is None
        assert [kind for kind in kinds(limited) if "limit" in kind or "weight" in kind] == ["weight-not-known"]


MASSES = ["kg", "g", "lb", "oz"]
AREAS = {"g/m2": "g/m**2", "oz/yd2": "oz/yd**2"}
LENGTHS = {"g/m": "g/m", "oz/yd": "oz/yd"}
NUMBERS = st.tuples(st.integers(0, 999_999), st.text("0123456789", max_size=4)).map(
    lambda parts: f"{parts[0]}.{parts[1]}" if parts[1] else str(parts[0])
)


@REPEATABLE
@given(NUMBERS, st.sampled_from([*MASSES, *AREAS, *LENGTHS]), st.sampled_from(["", " "]))
@example("1", "oz", " ")
@example("16", "oz/yd2", "")
@example("999999.9999", "kg", " ")
def test_every_mass_is_read_as_pint_has_it(number, unit, between):
    """Exact fractions from the decimals that are written: no float comes in between."""
    base = "g" if unit in MASSES else "g/m**2" if unit in AREAS else "g/m"
    quantity = EXACT.Quantity(Fraction(Decimal(number)), (AREAS | LENGTHS).get(unit, unit))
    assert parse_mass(f"{number}{between}{unit}") == quantity.to(base).magnitude


def test_an_ounce_is_exactly_28_349523125_grams():
    """NIST SP 811, appendix B.8, from memory: 1 lb = 453.592 37 g, and 16 oz make a pound."""
    assert parse_mass("1 lb") == Fraction("453.59237") == 16 * parse_mass("1 oz")
    # 1 yd = 0.9144 m.
    assert parse_mass("1 oz/yd2") == Fraction("28.349523125") / Fraction("0.9144") ** 2
    assert parse_mass("1 oz/yd") == Fraction("28.349523125") / Fraction("0.9144")


@REPEATABLE
@given(st.fractions(0, 10**8, max_denominator=10**6), st.sampled_from(["kg", "lb"]))
def test_a_mass_is_told_to_three_decimals_as_pint_has_it(number, units):
    told = in_mass_units(number, units)
    exact = EXACT.Quantity(number, "g").to(units).magnitude
    assert abs(Fraction(told) - exact) <= Fraction(1, 2000) + exact / 10**12


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("300 gsm", "300 g/m**2"),
        ("300 g/m²", "300 g/m**2"),
        ("8.8oz/yd²", "8.8 oz/yd**2"),
        ("45 lbs", "45 lb"),
    ],
)
def test_a_mass_may_be_written_as_the_trade_writes_it(text, quantity):
    number, unit = quantity.split()
    base = "g" if unit == "lb" else "g/m**2"
    assert parse_mass(text) == EXACT.Quantity(Fraction(number), unit).to(base).magnitude


BAD = [
    "300",
    "300 gms",
    "-3 kg",
    "1e9 kg",
    "٣ kg",
    "20 kg\n",
    "",
    " kg",
    "1 234 kg",
    "1,5 kg",
    "20  kg",
    "2 KG",
    "1234567 g",
]


@pytest.mark.parametrize("text", [*BAD, "300 g/m2", 20, True])
@pytest.mark.parametrize("limit", ["load_limit", "carrier_load_limit"])
def test_what_is_no_mass_is_against_the_contract(refused, text, limit):
    """Every mass names its unit; 300 alone is of no measure, and a sign or an exponent has no place in one."""
    assert refused(mount={limit: text}) == [f"/windows/0/hang/mount/{limit}"]


@pytest.mark.parametrize("text", [*(text.replace("kg", "g/m2") for text in BAD), "300 g", "8 oz/yd", 300])
def test_what_is_no_mass_of_an_area_is_against_the_contract(refused, text):
    assert refused(fabric={"mass_per_area": text}) == ["/fabrics/linen/mass_per_area"]
    assert refused(window={"lining": {"mass_per_area": text}}) == ["/windows/0/lining/mass_per_area"]


@pytest.mark.parametrize("text", [*(text.replace("kg", "g/m") for text in BAD), "50 g", "50 g/m2", 50])
def test_what_is_no_mass_of_a_length_is_against_the_contract(refused, text):
    weights = {"make_up": {"hem_weights": {"cord": text}}}
    assert refused(window=weights) == ["/windows/0/make_up/hem_weights/cord"]


def test_a_mass_that_is_refused_is_told_how_to_write_one(request_reader):
    with pytest.raises(UnreadableError) as unreadable:
        request_reader.read("estimate", json.dumps(asked_of(cloth="300 gms")).encode())
    (fault,) = unreadable.value.faults
    assert fault.seen == "300 gms"
    assert "300 g/m2 or 8.8 oz/yd2" in fault.detail
