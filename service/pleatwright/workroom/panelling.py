"""Panels from a window's measurements."""

from fractions import Fraction

from msgspec import UNSET

from pleatwright.contract.replies import PanelFigures, PanelReply, PanelSeam, SewnFigures
from pleatwright.contract.requests import PanelRequest
from pleatwright.faults import Fault
from pleatwright.headings.host import Headings
from pleatwright.headings.made import FullnessLimits, Made, Pleat
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import Units, in_units
from pleatwright.trade import window as trade
from pleatwright.trade.panel import FlatAsked, Panel, panels
from pleatwright.trade.railroad import railroaded
from pleatwright.trade.repeat import raised
from pleatwright.workroom import cautions, usual, worksheet_panels
from pleatwright.workroom.fabrics import read_fabric
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import flat_asked
from pleatwright.workroom.measured import UNPINNED, read_hang, read_rod
from pleatwright.workroom.reader import Reader, in_thousandths
from pleatwright.workroom.sewing import read_make_up


def panel(request: PanelRequest[HeadingOptions], headings: Headings) -> PanelReply:
    """Return the panels of one window."""
    reader = Reader(request.units)
    fabric = read_fabric(reader.under("fabric"), request.fabric)
    read = reader.made(headings, request.heading)
    rod = read_rod(reader.under("rod"), request.rod, read)
    hang = read_hang(reader.under("hang"), request.hang, read, UNPINNED)
    make_up = read_make_up(reader.under("make_up"), request.make_up, read, fabric)
    asked = read_fullness(reader, request.fullness, read, rod)
    made = reader.settled(read)
    with reader.collecting():
        cut = panels_in(fabric, rod, hang, asked, make_up)
    return PanelReply(
        units=request.units,
        panels=[panel_figures(each, fabric, make_up, request.units) for each in cut],
        tolerance=in_units(reader.usual(usual.TOLERANCE), request.units),
        cautions=[
            *cautions.of_heading(reader, made),
            *cautions.of_panels(reader, made, rod, fabric, make_up, cut),
            *cautions.of_length(reader, hang),
        ],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=worksheet_panels.panel_steps(made, rod, hang, fabric, make_up, asked, cut, request.units)
        if request.worksheet
        else UNSET,
    )


def panels_in(
    fabric: FaceCloth, rod: trade.Rod, hang: trade.Hang, asked: FlatAsked, make_up: trade.MakeUp
) -> list[Panel]:
    """Return a window's panels in a fabric, in widths of it or railroaded. Raises Impossible with every fault."""
    if fabric.turned:
        return railroaded(rod, hang, fabric.turned, asked, make_up)
    return panels(rod, hang, fabric.width, fabric.selvage, asked, make_up)


def read_fullness(reader: Reader, given: float | None, made: Made | None, rod: trade.Rod) -> FlatAsked:
    """Read the fullness, and return the flat width that it asks for; a heading's usual fullness for None."""
    if made is None:
        return lambda finished_width: finished_width
    fullness = reader.fullness(made.fullness.usual if given is None else given)
    if not isinstance(made, Pleat):
        reader.fault(*_fullness_faults(made.fullness, fullness, given))
    return flat_asked(made, rod, fullness)


def _fullness_faults(limits: FullnessLimits, fullness: Fraction, given: float | None) -> list[Fault]:
    told = [in_thousandths(each) for each in (limits.least, fullness, limits.most)]
    if told == sorted(told):
        return []
    least, most = f"{float(limits.least):.3g}", f"{float(limits.most):.3g}"
    return [
        Fault(
            ("fullness",),
            f"this heading fixes the fullness at {least}: leave it out"
            if least == most
            else f"this heading takes {least} to {most} times the width: ask for a fullness between them",
            str(given),
            least if least == most else f"{least} to {most}",
        )
    ]


def panel_figures(panel: Panel, fabric: FaceCloth, make_up: trade.MakeUp, units: Units) -> PanelFigures:
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
        leading_return=in_units(panel.leading_return, units),
        overlap=in_units(panel.overlap, units),
        return_=in_units(panel.return_, units),
        sewn=SewnFigures(
            side_hem=in_units(make_up.side_hem, units),
            side_hem_depth=_if_known(make_up.side_hem_depth, units),
            bottom_hem=in_units(make_up.bottom_hem, units),
            bottom_hem_depth=_if_known(make_up.bottom_hem_depth, units),
            top_turning=in_units(make_up.top_turning, units),
            seam_allowance=in_units(make_up.seam_allowance, units),
        ),
    )


def _if_known(length: int | None, units: Units) -> float | None:
    return None if length is None else in_units(length, units)
