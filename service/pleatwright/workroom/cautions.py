"""Cautions that results carry: what to look at before cutting, and what is for others to decide."""

from collections.abc import Sequence
from typing import Final

from pleatwright.contract.replies import Caution
from pleatwright.trade.layout import Layout
from pleatwright.trade.marks import PlacedSeam
from pleatwright.trade.panel import Panel
from pleatwright.trade.window import MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader

STANDING: Final = (
    Caution(
        kind="check-on-the-table",
        detail="These figures are estimates for a competent maker: check them on the table before cutting. Local codes "
        "and licensed practice come first.",
    ),
    Caution(
        kind="cords",
        detail="Cords and chains can strangle a child: for corded or looped operation follow the current ANSI/WCMA "
        "A100.1 or EN 13120, and local rules.",
    ),
    Caution(
        kind="heat-and-flame",
        detail="Keep cloth off heaters and lamps. Public buildings need certified cloth: NFPA 701, BS 5867-2 or the "
        "local code.",
    ),
    Caution(
        kind="load",
        detail="Fix brackets into structure. The rod maker's limit and a qualified installer decide the load.",
    ),
    Caution(kind="tools", detail="Ladders, needles, irons and blades: the usual care."),
)
"""What every estimate carries."""


def of_panels(reader: Reader, rod: Rod, fabric: FaceCloth, make_up: MakeUp, panels: Sequence[Panel]) -> list[Caution]:
    """Return cautions about the panels as measured."""
    found = []
    least = reader.usual(usual.OVERLAP)
    if rod.draw in ("pair", "off-centre-pair") and rod.overlap < least:
        found.append(
            Caution(
                kind="small-overlap",
                detail=f"The leading edges cross by {reader.text(rod.overlap)}; cross them by {reader.text(least)} at "
                "least, to keep light out at the centre (UFGS 12 22 00).",
            )
        )
    seamed = fabric.width - 2 * fabric.selvage - 2 * make_up.seam_allowance
    surplus = seamed % fabric.horizontal_repeat if fabric.horizontal_repeat else 0
    if surplus and any(panel.seams for panel in panels):
        found.append(
            Caution(
                kind="pattern-across-seams",
                detail=f"From seam to seam a width shows {reader.text(seamed)}, no whole number of horizontal repeats: "
                f"the pattern meets across a seam only if each width is trimmed by {reader.text(surplus)} more.",
            )
        )
    return found


def of_layout(reader: Reader, layout: Layout, seams: Sequence[PlacedSeam], where: str = "") -> list[Caution]:
    """Return a caution for each seam that is not beside a pleat, and one if a better layout cannot be ruled out.

    `where` names the panel, when there are several.
    """
    found = []
    for number, seam in enumerate(seams, 1):
        at = f"{where}Seam {number}, {reader.text(seam.at)} from the leading edge,"
        if seam.place == "in-space":
            place = f"in the space after pleat {seam.pleat}" if seam.pleat else "in the flat piece at the edge"
            found.append(Caution(kind="seam-shows", detail=f"{at} shows {place}.", seam=number))
        elif seam.place == "inside-pleat":
            found.append(
                Caution(
                    kind="seam-inside-pleat",
                    detail=f"{at} falls inside pleat {seam.pleat}: hidden, but bulky.",
                    seam=number,
                )
            )
    if not layout.proved:
        found.append(
            Caution(
                kind="not-proved",
                detail=f"{where}Too many seams cannot be hidden to try every layout: a better one may exist.",
            )
        )
    return found
