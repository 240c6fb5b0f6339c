"""One window's panels on the wall: their rod, their weight, and what is to be looked at."""

from msgspec import Struct
from msgspec.structs import replace

from pleatwright.contract.hanging import RodFigures, WeightFigures
from pleatwright.contract.notes import Caution
from pleatwright.headings.host import Headings
from pleatwright.headings.made import Made
from pleatwright.workroom import usual
from pleatwright.workroom.hanging import of_section
from pleatwright.workroom.rods import HungPanel, hung_panel, on_rod
from pleatwright.workroom.stacking import Stacker, thickness_in_heading
from pleatwright.workroom.weights import of_weight, panel_masses, weight_figures
from pleatwright.workroom.windows import MadeWindow, ReadWindow


class HungWindow(Struct, frozen=True):
    """What a reply says of a window's panels on the wall."""

    rod: RodFigures
    weight: WeightFigures | None
    cautions: list[Caution]


def hung_window(made: MadeWindow, headings: Headings) -> HungWindow:
    """Return how a window's panels hang. Raises StyleFailedError when a heading style breaks."""
    read, reader = made.read, made.read.reader
    mount = read.hang.mount
    stacker = Stacker(
        reader=reader,
        headings=headings,
        options=read.request.heading,
        made=read.made,
        thickness=thickness_in_heading(reader, read.made, read.fabric, read.make_up, read.layers),
        slider_length=mount.slider_length if mount else 0,
    )
    panels: list[HungPanel] = []
    for panel, flat, laid_out in zip(made.panels, made.flats, made.laid_out, strict=True):
        if panels and made.twins:
            panels.append(replace(panels[0], panel=panel))
        elif read.rod.draw == "fixed-pair":
            panels.append(hung_panel(panel, flat, laid_out, panel.finished_width - panel.return_))
        else:
            panels.append(hung_panel(panel, flat, laid_out, stacker.stack(panel, laid_out)))
    along = on_rod(
        reader=reader,
        made=read.made,
        rod=read.rod,
        glass=read.glass,
        fixed=mount.sliders if mount else None,
        panels=panels,
    )
    masses = panel_masses(made)
    return HungWindow(
        rod=along.figures(),
        weight=weight_figures(made, masses, sum(each.stack for each in along.panels)) if masses else None,
        cautions=[
            *of_section(reader, made.section, made.pin, read.made),
            *along.cautions(),
            *of_weight(made, masses),
            *_of_layers(read, headings),
        ],
    )


def _of_layers(read: ReadWindow, headings: Headings) -> list[Caution]:
    """Return a caution when a sheer and the over-drapery before it have too little room between their rods."""
    over = read.behind
    if over is None:
        return []
    reader = read.reader
    apart = over.rod.return_ - read.rod.return_
    deep = _stands_out(read, headings, front=True) + _stands_out(over, headings, front=False)
    needed = deep + reader.usual(usual.ROOM_BETWEEN)
    if apart >= needed:
        return []
    return [
        Caution(
            kind="rods-too-near",
            detail=f"The rods are {reader.text(max(apart, 0))} apart, and the folds of the two layers take "
            f"{reader.text(deep)}: set them {reader.text(needed)} apart at least, so that the sheer runs free.",
        )
    ]


def _stands_out(read: ReadWindow, headings: Headings, *, front: bool) -> int:
    """Return how far a heading of usual size stands out from its rod, to the room or to the wall."""
    made: Made = read.made
    outline = read.reader.shape(headings, read.request.heading, made, *made.piece()).outline
    return round(outline.projection if front else outline.stands_back)
