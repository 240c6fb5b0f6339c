"""Reads what is measured at the window: rod, heights, what the panel hangs from, and the pins that carry it."""

from typing import Final

import msgspec
from msgspec import Struct

from pleatwright.contract import mounts
from pleatwright.contract.measured import Hang, Pin, Rod, RodSought
from pleatwright.faults import Fault, Impossible
from pleatwright.headings.made import Made
from pleatwright.lengths import seen
from pleatwright.trade import pins as trade_pins
from pleatwright.trade import window as trade
from pleatwright.trade.mounts import Mount
from pleatwright.workroom import usual
from pleatwright.workroom.laying import overlap_faults
from pleatwright.workroom.mounting import read_mount
from pleatwright.workroom.reader import Reader


class ReadPin(Struct, frozen=True):
    """A pin's rise, its distance from a panel's edge, and its depth if that is settled; of nothing where none is."""

    rise: int
    edge_inset: int
    depth: int | None = None


UNPINNED: Final = ReadPin(0, 0)


def is_pinned(made: Made, mount: mounts.AnyMount | Mount | None) -> bool:
    """Return whether pins or hooks carry the panel: not where clips grip its heading."""
    clipped = isinstance(mount, mounts.ClipRings) or (isinstance(mount, Mount) and mount.kind == "clip-rings")
    return made.is_pinned and not clipped


def read_pin(reader: Reader, pin: Pin, made: Made | None, mount: mounts.AnyMount | None = None) -> ReadPin:
    """Read the pins; a panel that is not pinned takes none."""
    if made and not is_pinned(made, mount):
        for name, given in (("rise", pin.rise), ("edge_inset", pin.edge_inset), ("depth", pin.depth)):
            if given is not None:
                why = "clips grip this heading" if made.is_pinned else "nothing is pinned in this heading"
                reader.fault(Fault((name,), f"{why}: leave it out", seen(given), "null"))
        # Clips stand where pins would.
        return ReadPin(0, reader.usual(usual.PIN_INSET)) if made.is_pinned else UNPINNED
    rise = reader.length(pin.rise, "rise", usual=made.pin_rise if made and made.pin_rise else usual.PIN_RISE)
    depth = None if pin.depth is None else reader.length(pin.depth, "depth")
    if depth is not None and depth < rise:
        reader.fault(
            Fault(
                ("depth",),
                "the pin would stand above the heading and show: set it as deep as its rise of {rise}, or deeper",
                "{depth}",
                "{rise} or more",
                {"rise": rise, "depth": depth},
            )
        )
    return ReadPin(rise, reader.length(pin.edge_inset, "edge_inset", usual=usual.PIN_INSET), depth)


def set_depth(pin: ReadPin, heading_above: int, division: int, most: int) -> int:
    """Return how deep a pin is set: as settled, or as its rise and the heading above say, on the rule.

    `most` is the depth of the buckram or tape that holds it. Raises Impossible when it would miss that.
    """
    if pin.depth is None:
        return trade_pins.on_rule(trade_pins.pin_depth(heading_above, pin.rise, most), division, pin.rise, most)
    if pin.depth > most:
        detail = "the pin would enter {depth} down, below the buckram or tape of {most}, and tear out: set it higher"
        lengths = {"depth": pin.depth, "most": most}
        raise Impossible(Fault(("pin", "depth"), detail, "{depth}", "up to {most}", lengths))
    return pin.depth


def read_heading_above(
    reader: Reader,
    given: float | str | None,
    made: Made | None,
    pin: ReadPin,
    mount: mounts.AnyMount | None = None,
) -> int:
    """Read how far the heading stands above the point that carries it.

    For None: what the depth of the pin leaves, or what the heading itself settles, or a usual figure.
    """
    if pin.depth is not None:
        if given is not None:
            detail = "the depth of the pin says how far the heading stands above: leave one of the two out"
            reader.fault(Fault(("heading_above",), detail, seen(given), "null"))
        return max(pin.depth - pin.rise, 0)
    if isinstance(mount, mounts.ClipRings):
        return _read_grip(reader, given)
    own = made.heading_above if made else None
    return reader.length(given, "heading_above", usual=usual.HEADING_ABOVE if own is None else own, signed=True)


def _read_grip(reader: Reader, given: float | str | None) -> int:
    grip = reader.length(given, "heading_above", usual=usual.CLIP_GRIP, signed=True)
    if given is not None and grip <= 0:
        detail = "clips grip what stands above the foot of their jaws: give more than nothing"
        reader.fault(Fault(("heading_above",), detail, "{grip}", "more than 0", {"grip": grip}))
    return grip


def read_rod(reader: Reader, rod: Rod, made: Made | None) -> trade.Rod:
    """Read the rod's figures; edges that cannot cross have no overlap unless asked."""
    draw: trade.Draw = reader.word(rod.draw, "draw", usual="pair")
    pairs = draw in ("pair", "off-centre-pair") and (made is None or made.overlaps)
    runs = tuple(reader.positive(run, "runs", index) for index, run in enumerate(rod.runs))
    if rod.width is None and not runs:
        reader.fault(Fault(("width",), "the rod's width is missing: measure its face, or its runs", "none", "a width"))
    width = sum(runs) if rod.width is None else reader.positive(rod.width, "width")
    if runs and width != sum(runs):
        reader.fault(
            Fault(
                ("runs",),
                "the runs come to {sum} where the rod is {width} wide: measure again, or leave the width out",
                "{sum}",
                "{width} in all",
                {"sum": sum(runs), "width": width},
            )
        )
    read = trade.Rod(
        width=width,
        return_=reader.length(rod.return_, "return", usual=usual.RETURN),
        overlap=reader.length(rod.overlap, "overlap", usual=usual.OVERLAP if pairs else usual.NONE),
        draw=draw,
        parting=None if rod.parting is None else reader.length(rod.parting, "parting"),
        panel_width=None if rod.panel_width is None else reader.length(rod.panel_width, "panel_width"),
        leading_return=reader.length(rod.leading_return, "leading_return", usual=usual.NONE),
        runs=runs,
    )
    if made:
        reader.fault(*overlap_faults(made, read.overlap))
    return read


def read_rod_sought(reader: Reader, rod: RodSought, made: Made | None) -> trade.Rod:
    """Read a rod that may have no width yet; it is then as narrow as can be."""
    pairs = rod.draw == "pair" and (made is None or made.overlaps)
    read = trade.Rod(
        width=1 if rod.width is None else reader.positive(rod.width, "width"),
        return_=reader.length(rod.return_, "return", usual=usual.RETURN),
        overlap=reader.length(rod.overlap, "overlap", usual=usual.OVERLAP if pairs else usual.NONE),
        draw=rod.draw,
    )
    if made:
        reader.fault(*overlap_faults(made, read.overlap))
    return read


def read_hang(reader: Reader, hang: Hang, made: Made | None, pin: ReadPin) -> trade.Hang:
    """Read the heights: from the floor, or from what the panel hangs to where only a drop is known."""
    to: trade.HangsTo = reader.word(hang.to, "to", usual="floor")
    has_level = to in ("sill", "apron")
    if has_level and hang.to_height is None and hang.drop is None:
        bottom = "the sill" if to == "sill" else "the apron's bottom"
        reader.fault(Fault(("to_height",), f"give the height of {bottom} above the floor", "none", "a height"))
    elif not has_level and hang.to_height is not None:
        detail = f"a panel that hangs to the {to} takes none: leave it out"
        reader.fault(Fault(("to_height",), detail, seen(hang.to_height), "nothing"))
    carrying = _read_carrying_height(reader, hang)
    mount = None
    if hang.mount is not None:
        mount = read_mount(reader.under("mount"), _comparable(hang.mount, hang), made, carrying)
        if mount and carrying is None:
            carrying = mount.carrying_height
        if mount and mount.carrying_height != carrying:
            reader.fault(
                Fault(
                    ("carrying_height",),
                    "from this mount the panel is carried at {mount}: measure again, or leave one of the two out",
                    "{given}",
                    "{mount}, or null",
                    {"mount": mount.carrying_height, "given": carrying or 0},
                )
            )
    elif carrying is None:
        detail = "give the height of what carries the panel, what it hangs from with its height, or only its drop"
        reader.fault(Fault(("carrying_height",), detail, "none", "a height"))
    return trade.Hang(
        carrying_height=carrying or 0,
        carried_by=_carried_by(hang),
        heading_above=read_heading_above(reader, hang.heading_above, made, pin, hang.mount),
        to=to,
        level=reader.length(hang.to_height, "to_height", usual=usual.NONE),
        clearance=reader.length(hang.clearance, "clearance", usual=usual.CLEARANCE[to], signed=True),
        drawn_up=made.drawn_up if made else 0,
        measured_from=to if hang.drop is not None and (to == "sill" or to == "apron") else "floor",
        mount=mount,
        heading_depth=made.depth if made else 0,
    )


def _comparable(mount: mounts.AnyMount, hang: Hang) -> mounts.AnyMount:
    """Return a mount without the heights that are refused beside a drop: nothing more is to be found fault with."""
    if hang.drop is None:
        return mount
    mount = msgspec.structs.replace(mount, height=None)
    if hang.to in ("sill", "apron") and not isinstance(mount, mounts.CeilingTrack):
        mount = msgspec.structs.replace(mount, ceiling=None)
    return mount


def _carried_by(hang: Hang) -> tuple[str, ...]:
    if hang.drop is not None:
        return ("drop",)
    return ("mount", "height") if hang.carrying_height is None and hang.mount is not None else ("carrying_height",)


def _read_carrying_height(reader: Reader, hang: Hang) -> int | None:
    if hang.drop is None:
        return None if hang.carrying_height is None else reader.positive(hang.carrying_height, "carrying_height")
    others = {"carrying_height": hang.carrying_height, "to_height": hang.to_height}
    for field, given in others.items():
        if given is not None:
            detail = "the drop says how long the panel hangs: leave it out, or leave this out"
            reader.fault(Fault((field,), detail, seen(given), "null"))
    if hang.mount is not None and hang.mount.height is not None:
        detail = "the drop says where the panel is carried: leave it out, or leave this out"
        reader.fault(Fault(("mount", "height"), detail, seen(hang.mount.height), "null"))
    ceiling = None if isinstance(hang.mount, mounts.CeilingTrack | None) else hang.mount.ceiling
    if hang.to in ("sill", "apron") and ceiling is not None:
        detail = (
            f"the ceiling is measured from the floor, and a drop to the {hang.to} is not: give heights from the floor"
        )
        reader.fault(Fault(("mount", "ceiling"), detail, seen(ceiling), "null"))
    return reader.positive(hang.drop, "drop")
