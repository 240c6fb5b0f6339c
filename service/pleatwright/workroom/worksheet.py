"""How each figure was reached: built from what went in and what came out, after the fact.

Each step has the figure's name, its formula in trade words, the figures put in, and the result.
"""

from fractions import Fraction
from itertools import pairwise

from pleatwright.contract.notes import Step
from pleatwright.lengths import Units
from pleatwright.trade.laid_out import EvenPoints, LaidOut
from pleatwright.trade.layout import Layout
from pleatwright.trade.repeat import Run, order_quantity, raised
from pleatwright.workroom.laying import FlatPanel
from pleatwright.workroom.sheet import Sheet


def heading_steps(flat: FlatPanel, laid_out: LaidOut, units: Units, prefix: str = "") -> list[Step]:
    """Return how the figures of a heading were reached."""
    sheet = Sheet(units, prefix)
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


def _pleat_steps(sheet: Sheet, flat: FlatPanel, layout: Layout) -> None:
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


def _point_steps(sheet: Sheet, flat: FlatPanel, points: EvenPoints) -> None:
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
    sheet = Sheet(units, prefix)
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
    sheet = Sheet(units, prefix)
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
