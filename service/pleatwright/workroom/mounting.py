"""Reads what a panel hangs from."""

from typing import assert_never

from pleatwright.contract import mounts
from pleatwright.faults import Fault
from pleatwright.headings.made import Made
from pleatwright.masses import parse_mass
from pleatwright.trade.mounts import Mount, MountKind, mount_faults, ring_carries_below
from pleatwright.workroom import usual
from pleatwright.workroom.reader import Reader


def read_mount(reader: Reader, given: mounts.AnyMount, made: Made | None, carrying: int | None) -> Mount | None:
    """Read a mount; without a height of its own it is where the carrying point says, and without that it is None."""
    ring, slider_length, ceiling = None, 0, None
    kind: MountKind
    match given:
        case mounts.TraverseRod() | mounts.CeilingTrack():
            kind = "traverse-rod" if isinstance(given, mounts.TraverseRod) else "ceiling-track"
            depth = reader.positive(given.depth, "depth", usual=usual.TRACK_DEPTH[kind])
            below = reader.length(given.carrier_below, "carrier_below", usual=usual.CARRIER_BELOW)
            slider_length = reader.length(given.carrier_length, "carrier_length", usual=usual.CARRIER_LENGTH)
        case mounts.Rings() | mounts.ClipRings():
            kind = "rings" if isinstance(given, mounts.Rings) else "clip-rings"
            depth = reader.positive(given.rod_diameter, "rod_diameter", usual=usual.ROD_DIAMETER)
            ring = reader.length(given.ring, "ring", usual=usual.RING)
            below = ring_carries_below(ring, reader.length(given.eye, "eye", usual=usual.EYE[kind]))
            slider_length = reader.length(given.carrier_length, "carrier_length", usual=usual.RING_LENGTH)
        case mounts.ThroughHeading():
            kind = "through-heading"
            made_for = made.rod if made and made.rod else usual.ROD_DIAMETER
            depth = reader.positive(given.rod_diameter, "rod_diameter", usual=made_for)
            below = 0
            if made and made.rod and depth > made.rod + reader.usual(usual.GIRTH_READ):
                reader.fault(_too_thick(depth, made.rod))
        case _:
            assert_never(given)
    if made:
        reader.fault(*_kind_faults(made, kind))
    if given.height is not None:
        top = reader.positive(given.height, "height")
    elif carrying is not None:
        top = carrying + below
    else:
        detail = "give its height, or that of the point that carries the panel, or only the drop"
        reader.fault(Fault(("height",), detail, "none", "a height"))
        return None
    if isinstance(given, mounts.CeilingTrack):
        ceiling = top
    elif given.ceiling is not None:
        ceiling = reader.positive(given.ceiling, "ceiling")
    slides = given if isinstance(given, mounts.Sliding) else None
    read = Mount(
        kind=kind,
        top=top,
        depth=depth,
        carrying_below=below,
        ceiling=ceiling,
        sliders=slides.carriers if slides else None,
        slider_length=slider_length,
        load_limit=parse_mass(given.load_limit) if given.load_limit else None,
        slider_load_limit=parse_mass(slides.carrier_load_limit) if slides and slides.carrier_load_limit else None,
        is_supplied=given.supplied,
    )
    reader.fault(*mount_faults(read, ring))
    return read


def _too_thick(rod: int, made_for: int) -> Fault:
    return Fault(
        ("rod_diameter",),
        "the heading is made for a rod {made_for} across, and this one does not go through it: give its girth with the "
        "heading",
        "{rod}",
        "up to {made_for}",
        {"rod": rod, "made_for": made_for},
    )


def _kind_faults(made: Made, kind: MountKind) -> list[Fault]:
    through = kind == "through-heading"
    if through != made.overlaps:
        return []
    detail = (
        "this heading hangs from pins, hooks or carriers, and no rod goes through it: choose another mount"
        if through
        else "a rod goes through this heading: its mount is through-heading"
    )
    return [Fault(("kind",), detail, kind, "another kind" if through else "through-heading")]
