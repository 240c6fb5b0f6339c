"""How each figure was reached: built from what went in and what came out, after the fact.

Each step has the figure's name, its formula in trade words, the figures put in, and the result.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from pleatwright.contract.replies import Step
from pleatwright.headings.made import Made, Points
from pleatwright.lengths import Units, in_units, rounded_in_units
from pleatwright.trade.laid_out import EvenPoints, LaidOut
from pleatwright.trade.layout import Layout
from pleatwright.trade.panel import FlatAsked, Panel
from pleatwright.trade.repeat import Run, order_quantity, raised
from pleatwright.trade.window import Draw, Hang, MakeUp, Rod
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import FlatPanel

_FINISHED_WIDTH: dict[Draw, str] = {
    "pair": "rod width / 2 + overlap / 2 + return",
    "one-way-left": "rod width + return + leading return",
    "one-way-right": "rod width + return + leading return",
    "off-centre-pair": "share of the rod + overlap / 2 + return",
    "fixed-pair": "face of the panel + return",
}


class _Sheet:
    """Steps in the making, in one request's units."""

    def __init__(self, units: Units, prefix: str = "") -> None:
        self.steps: list[Step] = []
        self._units = units
        self._prefix = prefix

    def length(self, name: str, formula: str, result: int | Fraction, **figures: int | Fraction) -> None:
        """Add a step whose figures and result are lengths."""
        shown = {label.replace("_", " "): self.shown(figure) for label, figure in figures.items()}
        self.steps.append(Step(name=self._prefix + name, formula=formula, figures=shown, result=self.shown(result)))

    def mixed(self, name: str, formula: str, result: float, figures: dict[str, float]) -> None:
        """Add a step of ready numbers."""
        self.steps.append(Step(name=self._prefix + name, formula=formula, figures=figures, result=result))

    def shown(self, length: int | Fraction) -> float:
        """Return a length as a number in the request's units."""
        whole = isinstance(length, int) or length.denominator == 1
        return in_units(length, self._units) if whole else rounded_in_units(length, self._units)


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
        sheet = _Sheet(units, f"{panel.side} panel: ")
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
            "fullness",
            "flat width / finished width",
            round(float(panel.fullness), 3),
            {"flat width": sheet.shown(panel.flat_width), "finished width": sheet.shown(panel.finished_width)},
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
        sheet.length(
            "raised cut length",
            "least whole number of vertical repeats not below the cut length; the cut length for plain cloth",
            raised(panel.cut_length, fabric.vertical_repeat),
            cut_length=panel.cut_length,
            vertical_repeat=fabric.vertical_repeat,
        )
        steps += sheet.steps
    return steps


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


def heading_steps(flat: FlatPanel, laid_out: LaidOut, units: Units, prefix: str = "") -> list[Step]:
    """Return how the figures of a heading were reached."""
    sheet = _Sheet(units, prefix)
    if laid_out.pleats:
        _pleat_steps(sheet, flat, laid_out.pleats)
    elif laid_out.points:
        _point_steps(sheet, flat, laid_out.points)
    else:
        sheet.mixed(
            "fullness gathered",
            "flat width / finished width",
            round(flat.flat_width / flat.finished_width, 3),
            {"flat width": sheet.shown(flat.flat_width), "finished width": sheet.shown(flat.finished_width)},
        )
    return sheet.steps


def _pleat_steps(sheet: _Sheet, flat: FlatPanel, layout: Layout) -> None:
    leading = flat.leading_return + flat.overlap
    spaces = flat.finished_width - leading - flat.return_
    sheet.length(
        "spaces together",
        "finished width - flat pieces at the leading edge - return",
        spaces,
        finished_width=flat.finished_width,
        flat_pieces_at_the_leading_edge=leading,
        **{"return": flat.return_},
    )
    sheet.mixed(
        "space",
        "spaces together / (pleats - 1)",
        sheet.shown(layout.space),
        {"spaces together": sheet.shown(spaces), "pleats": layout.pleat_count},
    )
    sheet.length(
        "take-ups together",
        "flat width - finished width",
        flat.flat_width - flat.finished_width,
        flat_width=flat.flat_width,
        finished_width=flat.finished_width,
    )
    for number, stretch in enumerate(layout.stretches, 1):
        if not stretch.pleats:
            continue
        sheet.mixed(
            f"take-up in stretch {number}",
            "(stretch between seams - spaces in it x space) / pleats in it",
            sheet.shown(stretch.take_up),
            {
                "stretch between seams": sheet.shown(stretch.end - stretch.start),
                "spaces in it": stretch.pleats - 1 + stretch.opens_with_space + stretch.closes_with_space,
                "space": sheet.shown(layout.space),
                "pleats in it": stretch.pleats,
            },
        )


def _point_steps(sheet: _Sheet, flat: FlatPanel, points: EvenPoints) -> None:
    edges = flat.leading_return + flat.overlap + flat.return_
    for name, width, gap in (
        ("gap", flat.flat_width - points.surplus, points.gap),
        ("finished gap", flat.finished_width, points.finished_gap),
    ):
        sheet.mixed(
            name,
            "(width between the flat pieces - points x width of a point) / gaps, parts beyond the outer points counted",
            sheet.shown(gap),
            {
                "width between the flat pieces": sheet.shown(width - edges),
                "points": points.count,
                "width of a point": sheet.shown(points.point_width),
                "gaps": float(points.gaps),
            },
        )


def pin_steps(
    heading_above: int, rise: int, depth: int | None, laid_out: LaidOut, units: Units, prefix: str = ""
) -> list[Step]:
    """Return how the pins' depth and count were reached; none where nothing is pinned."""
    if depth is None:
        return []
    sheet = _Sheet(units, prefix)
    sheet.length(
        "pin depth", "heading above the carrying point + rise of the pin", depth, heading_above=heading_above, rise=rise
    )
    pins = len(laid_out.hanging_points)
    if laid_out.pleats:
        pleats = laid_out.pleats.pleat_count
        sheet.mixed(
            "pins",
            "one at each pleat + one in each flat piece",
            pins,
            {"pleats": pleats, "flat pieces": pins - pleats},
        )
    else:
        farthest = max(after.finished - before.finished for before, after in pairwise(laid_out.hanging_points))
        sheet.mixed(
            "hooks",
            "one at each edge and at each bend of the rod, and evenly between",
            pins,
            {"farthest apart": sheet.shown(farthest)},
        )
    return sheet.steps


def run_steps(
    cut_length: int, repeat: int, drop: Fraction, increment: int, run: Run, units: Units, prefix: str = ""
) -> list[Step]:
    """Return how the run of cuts was reached."""
    sheet = _Sheet(units, prefix)
    sheet.length(
        "raised cut length",
        "least whole number of vertical repeats not below the cut length; the cut length for plain cloth",
        raised(cut_length, repeat),
        cut_length=cut_length,
        vertical_repeat=repeat,
    )
    last = run.cuts[-1]
    sheet.length(
        "run length",
        "start of the last cut + cut length, each cut at its own phase, in the best order",
        run.length,
        start_of_the_last_cut=last.start,
        cut_length=cut_length,
    )
    sheet.mixed(
        "rule of thumb",
        "cuts x (raised cut length + drop x vertical repeat)",
        sheet.shown(run.rule_of_thumb),
        {
            "cuts": len(run.cuts),
            "raised cut length": sheet.shown(raised(cut_length, repeat)),
            "drop": round(float(drop), 3),
            "vertical repeat": sheet.shown(repeat),
        },
    )
    sheet.length(
        "order quantity",
        "run length raised to whole increments of the seller's",
        order_quantity(run.length, increment),
        run_length=run.length,
        increment=increment,
    )
    return sheet.steps
