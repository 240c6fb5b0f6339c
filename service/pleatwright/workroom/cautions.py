"""Cautions that results carry: what to look at before cutting, and what is for others to decide."""

from collections.abc import Sequence
from typing import Final

from pleatwright.contract.notes import Caution
from pleatwright.headings.made import Made, Shape
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.marks import SeamPlace
from pleatwright.trade.panel import Panel
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.reader import Reader

CHECK: Final = Caution(
    kind="check-on-the-table",
    detail="These figures are estimates for a competent maker: check them on the table before cutting. Local codes "
    "and licensed practice come first.",
)
OF_HANGING: Final = (
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
"""What every result carries that is about a panel on the wall."""
STANDING: Final = (CHECK, *OF_HANGING)
"""What every estimate carries."""


def of_panels(
    reader: Reader, made: Made, rod: Rod, fabric: FaceCloth, make_up: MakeUp, panels: Sequence[Panel]
) -> list[Caution]:
    """Return cautions about the panels as measured."""
    found = []
    least = reader.usual(usual.OVERLAP)
    if made.overlaps and rod.draw in ("pair", "off-centre-pair") and rod.overlap < least:
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


def of_length(reader: Reader, hang: Hang) -> list[Caution]:
    """Return a caution where a panel is so short for the floor that its drop may have been meant in other units."""
    if hang.to in ("sill", "apron") or hang.finished_length >= reader.usual(usual.SHORT_TO_FLOOR):
        return []
    length = reader.text(hang.finished_length)
    detail = f"The panel hangs to the floor and is only {length} long: check the drop and its unit."
    return [Caution(kind="short-for-the-floor", detail=detail)]


def of_fullness(made: Made, panels: Sequence[Panel], *, unusual: bool) -> list[Caution]:
    """Return a caution where nobody asked for a fullness and the usual one cannot be had in the cloth."""
    if not unusual:
        return []
    had = " and ".join(dict.fromkeys(f"{float(panel.fullness):.2f}" for panel in panels))
    detail = (
        f"The usual fullness of {float(made.fullness.usual):.2f} cannot be had in this width of cloth: {had} is taken. "
        "Ask for a fullness, or for another width of cloth."
    )
    return [Caution(kind="fullness-not-usual", detail=detail)]


def of_heading(reader: Reader, made: Made) -> list[Caution]:
    """Return the cautions that the style itself gives, in the request's units."""
    return [
        Caution(
            kind=notice.kind,
            detail=notice.detail.format_map({name: reader.text(length) for name, length in notice.lengths.items()}),
        )
        for notice in made.notices
    ]


def of_layout(reader: Reader, made: Made, laid_out: LaidOut, largest: Shape | None, where: str = "") -> list[Caution]:
    """Return a caution for each seam that is not hidden, and for whatever else to look at in a panel laid out.

    `largest` is the shape of its largest pleat, in grid units; `where` names the panel, when there are several.
    """
    found = []
    for number, seam in enumerate(laid_out.seams, 1):
        if seam.is_hidden:
            continue
        kind, words = _SEAMS[seam.place]
        place = words.format(word=made.word, pleat=seam.pleat, point=seam.point)
        if seam.place == "in-space" and not seam.pleat:
            place = "shows in the flat piece at the edge"
        at = f"{where}Seam {number}, {reader.text(seam.at)} from the leading edge,"
        found.append(Caution(kind=kind, detail=f"{at} {place}.", seam=number))
    if laid_out.points and laid_out.points.surplus:
        found.append(
            Caution(
                kind="surplus-cloth",
                detail=f"{where}The tape leaves {reader.text(laid_out.points.surplus)} of cloth over: take it off at "
                "the return edge before that is hemmed, or into its hem.",
            )
        )
    if laid_out.points and laid_out.stations[-1].kind in ("return", "surplus"):
        found.append(
            Caution(
                kind="return-not-carried",
                detail=f"{where}No {made.word} carries the return: fasten its edge to the wall or the bracket.",
            )
        )
    if laid_out.pleats and largest and largest.lies_wide > float(laid_out.pleats.space):
        width, room = reader.text(round(largest.lies_wide)), reader.text(laid_out.pleats.space)
        found.append(
            Caution(
                kind="pleats-lie-over-one-another",
                detail=f"{where}The pleats lie up to {width} wide in spaces of {room}, one over the next: take less "
                "cloth or smaller pleats.",
            )
        )
    if laid_out.pleats and not laid_out.pleats.proved:
        found.append(
            Caution(
                kind="not-proved",
                detail=f"{where}Too many seams cannot be hidden to try every layout: a better one may exist.",
            )
        )
    return found


_SEAMS: Final[dict[SeamPlace, tuple[str, str]]] = {
    "in-space": ("seam-shows", "shows in the space after pleat {pleat}"),
    "in-front-fold": ("seam-shows", "shows in the fold to the front after {word} {point}"),
    "inside-pleat": ("seam-inside-pleat", "falls inside pleat {pleat}: hidden, but bulky"),
    "at-point": ("seam-in-the-way", "falls at {word} {point}, where it is bulky and in the way"),
}
