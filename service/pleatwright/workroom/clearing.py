"""The rod that clears the glass when its panels are open, or what stays covered by one that is there."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from msgspec import UNSET, Struct
from msgspec.structs import replace

from pleatwright.contract.hanging import RodReply
from pleatwright.contract.measured import RodSought
from pleatwright.contract.notes import Step
from pleatwright.contract.requests import RodRequest
from pleatwright.faults import Fault
from pleatwright.headings.host import Headings
from pleatwright.headings.options import HeadingOptions
from pleatwright.lengths import MILLIMETRE, Units, in_units, seen
from pleatwright.trade.laid_out import LaidOut
from pleatwright.trade.layout import MOST_WORK
from pleatwright.trade.panel import FlatAsked, Side
from pleatwright.trade.stack import MOST_RODS, ClearRod, Glass, clear_rod_in_parts
from pleatwright.trade.window import Hang, MakeUp, Rod
from pleatwright.workroom import cautions, usual
from pleatwright.workroom.fabrics import read_fabric
from pleatwright.workroom.figures import FaceCloth
from pleatwright.workroom.laying import FlatPanel, flat_of, lay_out
from pleatwright.workroom.measured import read_rod_sought
from pleatwright.workroom.mounting import read_mount
from pleatwright.workroom.panelling import panels_in, read_fullness
from pleatwright.workroom.reader import Reader
from pleatwright.workroom.rods import HungPanel, hung_panel, on_rod, read_glass
from pleatwright.workroom.sewing import read_layers, read_make_up
from pleatwright.workroom.sheet import Sheet
from pleatwright.workroom.stacking import Stacker, thickness_in_heading
from pleatwright.workroom.work import Work, at_once

ANY_DROP: Final = Hang(MILLIMETRE, 0, "floor", 0, 0)
"""How long panels are has no part in how wide they stack."""


def rod(request: RodRequest[HeadingOptions], headings: Headings) -> RodReply:
    """Return the shortest rod that clears the glass, or what of it stays covered by a rod of a given width."""
    return at_once(rod_in_parts(request, headings))


def rod_in_parts(request: RodRequest[HeadingOptions], headings: Headings) -> Work[RodReply]:
    """Return `rod`, each rod that is tried being a part by itself."""
    reader = Reader(request.units)
    fabric = read_fabric(reader.under("fabric"), request.fabric)
    read = reader.made(headings, request.heading)
    sought = request.rod
    wanted = read_rod_sought(reader.under("rod"), sought, read)
    spare = reader.under("rod").length(sought.spare, "spare", usual=usual.NONE)
    glass = read_glass(reader.under("glass"), request.glass)
    step = _read_step(reader, sought, glass)
    make_up = read_make_up(reader.under("make_up"), request.make_up, read, fabric)
    layers = read_layers(
        reader,
        {"lining": request.lining, "interlining": request.interlining, "blackout": request.blackout},
        fabric,
    )
    mount = None
    if request.mount is not None:
        mount = read_mount(reader.under("mount"), request.mount, read, MILLIMETRE)
    asked = read_fullness(reader, request.fullness, read, wanted)
    if sought.width is None:
        _refuse_place_of_glass(reader, glass)
    else:
        _refuse_search(reader.under("rod"), sought)
    made = reader.settled(read)
    stacker = Stacker(
        reader=reader,
        headings=headings,
        options=request.heading,
        made=made,
        thickness=thickness_in_heading(reader, made, fabric, make_up, layers),
        slider_length=mount.slider_length if mount else 0,
    )
    hanger = _Hanger(fabric, asked, make_up, stacker, reader.usual(usual.FORGIVEN), reader.usual(usual.MARK))
    with reader.remembering(("fabric",)):
        if sought.width is None:
            found = yield from clear_rod_in_parts(
                glass.width,
                spare,
                step,
                wanted.draw == "pair",
                lambda width: stacks_of(hanger.hung(replace(wanted, width=width))),
            )
        else:
            found = _as_it_is(wanted, glass, hanger)
        chosen = replace(wanted, width=found.width)
        hung = hanger.hung(chosen)
    reader.check()
    along = on_rod(
        reader=reader,
        made=made,
        rod=chosen,
        glass=Glass(glass.width, found.left_of_glass),
        fixed=mount.sliders if mount else None,
        panels=hung,
    )
    figures = along.figures()
    return RodReply(
        **{name: getattr(figures, name) for name in figures.__struct_fields__},
        units=request.units,
        left_of_glass=in_units(found.left_of_glass, request.units),
        right_of_glass=in_units(found.right_of_glass, request.units),
        clears=not any(along.covered.values()),
        cautions=[
            *cautions.of_heading(reader, made),
            *cautions.of_panels(reader, made, chosen, fabric, make_up, [each.panel for each in hung]),
            *along.cautions(),
            *cautions.OF_HANGING,
        ],
        assumed=reader.assumed,
        made_with=reader.made_with,
        worksheet=_steps(glass, spare, found, hung, stacker, request.units) if request.worksheet else UNSET,
    )


def _read_step(reader: Reader, sought: RodSought, glass: Glass) -> int:
    """Read the step in which rods are tried: by default such that those tried reach three times across the glass."""
    finest = reader.usual(usual.ROD_STEP)
    coarse = -(-2 * glass.width // (MOST_RODS * finest))
    return reader.under("rod").positive(sought.step, "step", usual=finest * max(coarse, 1))


def _refuse_place_of_glass(reader: Reader, glass: Glass) -> None:
    if glass.from_left is not None:
        detail = "the rod is still to be found, and the glass is placed on it: leave this out, or give the rod's width"
        reader.fault(Fault(("glass", "from_left"), detail, "{given}", "null", {"given": glass.from_left}))


def _refuse_search(reader: Reader, sought: RodSought) -> None:
    for field, given in (("spare", sought.spare), ("step", sought.step)):
        if given is not None:
            detail = "a rod of this width is there already, and none is looked for: leave this out, or the width"
            reader.fault(Fault((field,), detail, seen(given), "null"))


def _as_it_is(rod: Rod, glass: Glass, hanger: "_Hanger") -> ClearRod:
    beside = glass.beside(rod.width)
    return ClearRod(rod.width, stacks_of(hanger.hung(rod)), beside["left"], beside["right"])


def stacks_of(panels: Sequence[HungPanel]) -> dict[Side, int]:
    """Return the rod that each panel takes when it is open."""
    return {each.panel.side: each.stack for each in panels}


class _Hanger(Struct, frozen=True):
    """Makes the panels for any rod."""

    fabric: FaceCloth
    asked: FlatAsked
    make_up: MakeUp
    stacker: Stacker
    forgiven: int
    division: int

    def hung(self, rod: Rod) -> list[HungPanel]:
        """Return the panels for a rod. Raises Impossible when there can be none."""
        laid_out: dict[FlatPanel, LaidOut] = {}
        found = []
        for panel in panels_in(self.fabric, rod, ANY_DROP, self.asked, self.make_up):
            flat = flat_of(panel, forgiven=self.forgiven, pleat_count=None, edge_inset=0, division=self.division)
            if flat not in laid_out:
                laid_out[flat] = lay_out(self.stacker.made, flat, MOST_WORK // MOST_RODS)
            found.append(hung_panel(panel, flat, laid_out[flat], self.stacker.stack(panel, laid_out[flat])))
        return found


def _steps(
    glass: Glass, spare: int, found: ClearRod, panels: Sequence[HungPanel], stacker: Stacker, units: Units
) -> list[Step]:
    sheet = Sheet(units)
    for hung in panels:
        folded, each = stacker.folded(hung.panel, hung.laid_out)
        sheet.mixed(
            f"{hung.panel.side} panel: stack",
            "pleats, folds or points x what each takes, or its carrier if that is longer + overlap",
            sheet.shown(hung.stack),
            {
                "pleats, folds or points": folded,
                "what each takes": sheet.shown(Fraction(each)),
                "carrier": sheet.shown(stacker.slider_length),
                "overlap": sheet.shown(hung.panel.overlap),
            },
        )
    sheet.length(
        "rod",
        "glass + rod beyond it at the left + rod beyond it at the right",
        found.width,
        glass=glass.width,
        rod_beyond_it_at_the_left=found.left_of_glass,
        rod_beyond_it_at_the_right=found.right_of_glass,
        spare_at_each_side=spare,
    )
    return sheet.steps
