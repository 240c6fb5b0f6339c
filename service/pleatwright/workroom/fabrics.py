"""Reads cloth: its pattern, where a motif is to stand, and the pieces on the shelf."""

from collections.abc import Sequence
from fractions import Fraction

from pleatwright.contract.cloth import Bolt, Fabric, Motif
from pleatwright.faults import Fault
from pleatwright.lengths import seen
from pleatwright.masses import parse_mass
from pleatwright.trade.bolts import Flaw, Piece, shelf_faults
from pleatwright.trade.railroad import Turned
from pleatwright.workroom import usual
from pleatwright.workroom.figures import FaceCloth, MotifPlace
from pleatwright.workroom.reader import Reader


def read_fabric(reader: Reader, fabric: Fabric) -> FaceCloth:
    """Read a fabric's figures."""
    vertical_repeat = reader.length(fabric.vertical_repeat, "vertical_repeat", usual=usual.NONE)
    width = reader.positive(fabric.width, "width")
    selvage = reader.length(fabric.selvage, "selvage", usual=usual.NONE)
    return FaceCloth(
        width=width,
        selvage=selvage,
        vertical_repeat=vertical_repeat,
        horizontal_repeat=reader.length(fabric.horizontal_repeat, "horizontal_repeat", usual=usual.NONE),
        drop=read_drop(fabric.drop_match),
        increment=reader.positive(fabric.increment, "increment", usual=usual.INCREMENT),
        motif=_read_motif(reader.under("motif"), fabric.motif, vertical_repeat) if fabric.motif else None,
        level=fabric.level,
        pieces=read_bolts(reader, fabric.bolts, vertical_repeat),
        labels=labels_of(fabric.bolts),
        one_lot=fabric.one_lot,
        turned=_read_turned(reader, fabric, width, selvage),
        shrinks_long=_part(fabric.shrinkage.length) if fabric.shrinkage else Fraction(0),
        shrinks_wide=_part(fabric.shrinkage.width) if fabric.shrinkage else Fraction(0),
        thickness=reader.length(fabric.thickness, "thickness", usual=usual.CLOTH_THICKNESS),
        mass_per_area=None if fabric.mass_per_area is None else parse_mass(fabric.mass_per_area),
        customers_own=fabric.customers_own,
    )


def _read_turned(reader: Reader, fabric: Fabric, width: int, selvage: int) -> Turned | None:
    length = None if fabric.bolt_length is None else reader.positive(fabric.bolt_length, "bolt_length")
    if not fabric.railroaded:
        if length is not None:
            detail = "only railroaded cloth is seamed where a bolt ends: leave this out, or turn the cloth"
            reader.fault(Fault(("bolt_length",), detail, seen(fabric.bolt_length or 0), "null"))
        return None
    if fabric.one_way:
        detail = "a nap, or a design with an up and a down, would lie on its side: this cloth cannot be turned"
        reader.fault(Fault(("railroaded",), detail, "true", "false"))
    if fabric.motif:
        detail = "turned cloth has its motifs where they fall across the bolt: leave this out"
        reader.fault(Fault(("motif",), detail, None, "null"))
    return Turned(width, selvage, length)


def _part(percentage: float) -> Fraction:
    # repr gives back the decimal that was written; the float itself lies a hair beside it.
    return Fraction(repr(percentage)) / 100


def read_drop(match: str) -> Fraction:
    """Read how the pattern meets: the drop as a part of the repeat."""
    return Fraction(0) if match == "straight" else Fraction(match)


def labels_of(bolts: Sequence[Bolt]) -> tuple[str, ...]:
    """Return what each piece is called: its label, or its place in the list."""
    return tuple(bolt.label or str(number) for number, bolt in enumerate(bolts, 1))


def read_bolts(reader: Reader, bolts: Sequence[Bolt], vertical_repeat: int) -> tuple[Piece, ...]:
    """Read the pieces on the shelf."""
    pieces = []
    for at, bolt in enumerate(bolts):
        inner = reader.under("bolts", at)
        flaws = []
        for number, flaw in enumerate(bolt.flaws):
            start = inner.length(flaw.start, "flaws", number, "start")
            flaws.append(Flaw(start, start if flaw.end is None else inner.length(flaw.end, "flaws", number, "end")))
        pieces.append(
            Piece(
                length=inner.positive(bolt.length, "length"),
                lot=bolt.lot or "",
                phase=inner.length(bolt.phase, "phase", usual=usual.NONE),
                flaws=tuple(flaws),
            )
        )
    reader.fault(*shelf_faults(pieces, vertical_repeat))
    return tuple(pieces)


def _read_motif(reader: Reader, motif: Motif, vertical_repeat: int) -> MotifPlace:
    at = reader.length(motif.at, "at")
    below, above = (
        None if given is None else reader.length(given, field)
        for field, given in (("below_heading", motif.below_heading), ("above_hem", motif.above_hem))
    )
    if (below is None) == (above is None):
        place = "below_heading" if below is None else "above_hem"
        detail = "a motif stands at one distance, below the heading or above the hem: give one of the two"
        reader.fault(Fault((place,), detail, "neither" if below is None else "both", "one of the two"))
    if at >= vertical_repeat:
        reader.fault(
            Fault(
                ("at",),
                "a motif starts within the repeat: this must be less than the vertical repeat",
                "{at}",
                "less than {repeat}" if vertical_repeat else "nothing, for plain cloth",
                {"at": at, "repeat": vertical_repeat},
            )
        )
    return MotifPlace(at, reader.length(motif.height, "height", usual=usual.NONE), below, above)
