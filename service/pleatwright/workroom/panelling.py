"""Panels from a window's measurements."""

from fractions import Fraction

from msgspec import UNSET

from pleatwright.contract.replies import PanelFigures, PanelReply, PanelSeam
from pleatwright.contract.requests import Fabric, Hang, MakeUp, PanelRequest, Rod
from pleatwright.faults import Fault
from pleatwright.headings.contract import Pleat, PleatOptions
from pleatwright.headings.host import Headings
from pleatwright.lengths import Units, in_units, quoted
from pleatwright.trade import window as trade
from pleatwright.trade.panel import Panel, panels
from pleatwright.trade.repeat import raised
from pleatwright.workroom import cautions, usual, worksheet
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader

DROPS = {"straight": Fraction(0), "1/2": Fraction(1, 2), "1/3": Fraction(1, 3)}


def panel(request: PanelRequest[PleatOptions], headings: Headings) -> PanelReply:
    """Return the panels of one window."""
    reader = Reader(request.units)
    fabric = read_fabric(reader.under("fabric"), request.fabric)
    pleat = reader.pleat(headings, request.heading)
    rod = read_rod(reader.under("rod"), request.rod)
    hang = read_hang(reader.under("hang"), request.hang)
    make_up = read_make_up(reader.under("make_up"), request.make_up, pleat)
    reader.check()
    with reader.collecting():
        made = panels(rod, hang, fabric.width, fabric.selvage, fraction(request.fullness), make_up)
    return PanelReply(
        units=request.units,
        panels=[panel_figures(each, fabric, request.units) for each in made],
        tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
        cautions=cautions.of_panels(reader, rod, fabric, make_up, made),
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet.panel_steps(rod, hang, fabric, make_up, request.fullness, made, request.units)
        if request.worksheet
        else UNSET,
    )


def read_rod(reader: Reader, rod: Rod) -> trade.Rod:
    """Read the rod's figures."""
    pairs = rod.draw in ("pair", "off-centre-pair")
    return trade.Rod(
        width=reader.positive(rod.width, "width"),
        return_=reader.length(rod.return_, "return"),
        overlap=reader.length(rod.overlap, "overlap", usual=usual.OVERLAP if pairs else usual.NONE),
        draw=rod.draw,
        parting=None if rod.parting is None else reader.length(rod.parting, "parting"),
        panel_width=None if rod.panel_width is None else reader.length(rod.panel_width, "panel_width"),
        leading_return=reader.length(rod.leading_return, "leading_return", usual=usual.NONE),
    )


def read_hang(reader: Reader, hang: Hang) -> trade.Hang:
    """Read the heights."""
    has_level = hang.to in ("sill", "apron")
    if has_level and hang.to_height is None:
        bottom = "the sill" if hang.to == "sill" else "the apron's bottom"
        reader.fault(Fault(("to_height",), f"give the height of {bottom} above the floor", "none", "a height"))
    elif not has_level and hang.to_height is not None:
        reader.fault(
            Fault(
                ("to_height",),
                f"a panel that hangs to the {hang.to} takes none: leave it out",
                quoted(hang.to_height),
                "nothing",
            )
        )
    return trade.Hang(
        carrying_height=reader.positive(hang.carrying_height, "carrying_height"),
        heading_above=reader.length(hang.heading_above, "heading_above", usual=usual.HEADING_ABOVE, signed=True),
        to=hang.to,
        level=reader.length(hang.to_height, "to_height", usual=usual.NONE),
        clearance=reader.length(hang.clearance, "clearance", usual=usual.CLEARANCE[hang.to], signed=True),
    )


def read_fabric(reader: Reader, fabric: Fabric) -> FaceCloth:
    """Read a fabric's figures."""
    return FaceCloth(
        width=reader.positive(fabric.width, "width"),
        selvage=reader.length(fabric.selvage, "selvage", usual=usual.NONE),
        vertical_repeat=reader.length(fabric.vertical_repeat, "vertical_repeat", usual=usual.NONE),
        horizontal_repeat=reader.length(fabric.horizontal_repeat, "horizontal_repeat", usual=usual.NONE),
        drop=DROPS[fabric.drop_match],
        increment=reader.positive(fabric.increment, "increment", usual=usual.INCREMENT),
    )


def read_make_up(reader: Reader, make_up: MakeUp, pleat: Pleat | None) -> trade.MakeUp:
    """Read what sewing takes; the top turning wraps the buckram, front and back [common practice]."""
    buckram = pleat.buckram_depth if pleat else 0
    return trade.MakeUp(
        side_hem=reader.length(make_up.side_hem, "side_hem", usual=usual.SIDE_HEM),
        bottom_hem=reader.length(make_up.bottom_hem, "bottom_hem", usual=usual.BOTTOM_HEM),
        top_turning=reader.length(make_up.top_turning, "top_turning", usual=2 * buckram),
        seam_allowance=reader.length(make_up.seam_allowance, "seam_allowance", usual=usual.SEAM_ALLOWANCE),
        ease=reader.length(make_up.ease, "ease", usual=usual.NONE),
        half_widths=make_up.widths == "half",
        nearest=make_up.nearest,
        halves=None if make_up.width_count is None else round(make_up.width_count * 2),
    )


def fraction(ratio: float) -> Fraction:
    """Return the ratio exactly as it was written."""
    return Fraction(repr(ratio))


def panel_figures(panel: Panel, fabric: FaceCloth, units: Units) -> PanelFigures:
    """Return a panel's figures in the request's units."""
    return PanelFigures(
        side=panel.side,
        finished_width=in_units(panel.finished_width, units),
        finished_length=in_units(panel.finished_length, units),
        widths=panel.halves / 2,
        flat_width=in_units(panel.flat_width, units),
        fullness=round(float(panel.fullness), 3),
        cut_length=in_units(panel.cut_length, units),
        raised_cut_length=in_units(raised(panel.cut_length, fabric.vertical_repeat), units),
        seams=[PanelSeam(at=in_units(seam, units)) for seam in panel.seams],
    )
