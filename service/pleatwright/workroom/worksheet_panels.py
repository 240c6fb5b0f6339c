"""How the figures of panels were reached: built from what went in and what came out, after the fact."""

from collections.abc import Sequence
from fractions import Fraction

from pleatwright.contract.notes import Step
from pleatwright.headings.made import Made, Points
from pleatwright.lengths import Units
from pleatwright.trade.panel import FlatAsked, Panel
from pleatwright.trade.repeat import raised
from pleatwright.trade.window import Draw, Hang, MakeUp, Rod
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.sheet import Sheet

_FINISHED_WIDTH: dict[Draw, str] = {
    "pair": "rod width / 2 + overlap / 2 + return",
    "one-way-left": "rod width + return + leading return",
    "one-way-right": "rod width + return + leading return",
    "off-centre-pair": "share of the rod + overlap / 2 + return",
    "fixed-pair": "face of the panel + return",
}


def panel_steps(
    made: Made,
    rod: Rod,
    hang: Hang,
    fabric: FaceCloth,
    make_up: MakeUp,
    asked: FlatAsked,
    panels: Sequence[Panel],
    units: Units,
) -> list[Step]:
    """Return how the panels' figures were reached."""
    steps: list[Step] = []
    for panel in panels:
        sheet = Sheet(units, f"{panel.side} panel: ")
        sheet.length("finished width", _FINISHED_WIDTH[rod.draw], panel.finished_width, **_rod_figures(rod, panel.side))
        sheet.length(
            "finished length",
            "carrying height + heading above + drawn up by the rod - height hung to - clearance",
            panel.finished_length,
            carrying_height=hang.carrying_height,
            heading_above=hang.heading_above,
            drawn_up_by_the_rod=hang.drawn_up,
            height_hung_to=hang.level,
            clearance=hang.clearance,
        )
        flat = Fraction(asked(panel.finished_width))
        if isinstance(made, Points) and made.is_fixed:
            sheet.length(
                "flat width asked",
                f"flat pieces + gaps between {made.word}s x gap of the tape",
                flat,
                flat_pieces=panel.leading_return + panel.overlap + panel.return_,
                gap_of_the_tape=made.gap.usual,
            )
        else:
            sheet.mixed(
                "flat width asked",
                "fullness x finished width",
                sheet.shown(flat),
                {
                    "fullness": round(float(flat / panel.finished_width), 3),
                    "finished width": sheet.shown(panel.finished_width),
                },
            )
        _cloth_steps(sheet, fabric, make_up, panel)
        sheet.mixed(
            "fullness",
            "flat width / finished width",
            round(float(panel.fullness), 3),
            {"flat width": sheet.shown(panel.flat_width), "finished width": sheet.shown(panel.finished_width)},
        )
        sheet.length(
            "raised cut length",
            "least whole number of vertical repeats not below the cut length; the cut length for plain cloth",
            raised(panel.cut_length, fabric.vertical_repeat),
            cut_length=panel.cut_length,
            vertical_repeat=fabric.vertical_repeat,
        )
        steps += sheet.steps
    return steps


def _cloth_steps(sheet: Sheet, fabric: FaceCloth, make_up: MakeUp, panel: Panel) -> None:
    """Add how the flat width came of the cloth, and how long it is cut."""
    if panel.runs:
        sheet.mixed(
            "lengths of railroaded cloth",
            "(flat width + 2 x side hem + 2 x seam allowance x seams) / (1 - shrinkage), in bolts",
            len(panel.runs),
            {
                "flat width": sheet.shown(panel.flat_width),
                "side hem": sheet.shown(make_up.side_hem),
                "seam allowance": sheet.shown(make_up.seam_allowance),
                "seams": len(panel.seams),
                "shrinkage": float(make_up.shrinkage),
            },
        )
        return
    sheet.mixed(
        "flat width",
        "widths x (bolt width - 2 x selvage - lost) - 2 x seam allowance x seams - 2 x side hem",
        sheet.shown(panel.flat_width),
        {
            "widths": panel.halves / 2,
            "bolt width": sheet.shown(fabric.width),
            "selvage": sheet.shown(fabric.selvage),
            "lost to shrinkage and ease": sheet.shown(make_up.width_lost),
            "seam allowance": sheet.shown(make_up.seam_allowance),
            "seams": len(panel.seams),
            "side hem": sheet.shown(make_up.side_hem),
        },
    )
    sheet.mixed(
        "cut length",
        "(finished length + top turning + bottom hem + ease) / (1 - shrinkage)",
        sheet.shown(panel.cut_length),
        {
            "finished length": sheet.shown(panel.finished_length),
            "top turning": sheet.shown(make_up.top_turning),
            "bottom hem": sheet.shown(make_up.bottom_hem),
            "ease": sheet.shown(make_up.ease),
            "shrinkage": float(make_up.shrinkage),
        },
    )


def _rod_figures(rod: Rod, side: str) -> dict[str, int]:
    match rod.draw:
        case "pair":
            return {"rod_width": rod.width, "overlap": rod.overlap, "return": rod.return_}
        case "off-centre-pair":
            parting = rod.parting or 0
            share = parting if side == "left" else rod.width - parting
            return {"share_of_the_rod": share, "overlap": rod.overlap, "return": rod.return_}
        case "fixed-pair":
            return {"face_of_the_panel": rod.panel_width or 0, "return": rod.return_}
        case _:
            return {"rod_width": rod.width, "return": rod.return_, "leading_return": rod.leading_return}
