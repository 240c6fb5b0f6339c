"""Where the pins go, so that the panel hangs at the right height and no pin shows."""

from collections.abc import Sequence

from pleatwright.faults import Fault, Impossible
from pleatwright.trade.laid_out import HangingPoint
from pleatwright.trade.marks import FLAT_PIECES, Station


def pin_depth(heading_above: int, rise: int, heading_depth: int) -> int:
    """Return how far below the top of the heading each pin is pushed in.

    pin depth = heading above the carrying point + the pin's rise, from where it enters the cloth to where it bears.

    `heading_depth` is that of the buckram or the tape that holds the pin.

    Raises Impossible when the pin would stand above the heading, or enter below what holds it.

    A pin of 1 3/8 in rise set 1 5/8 in down puts its top 1/4 in below the top of the heading [common practice]:

    >>> from pleatwright.lengths import inches
    >>> pin_depth(inches("1/4"), inches("1 3/8"), inches("4")) == inches("1 5/8")
    True
    """
    faults = []
    depth = heading_above + rise
    lengths = {"rise": rise, "above": heading_above, "depth": depth, "most": heading_depth}
    lengths["most_rise"] = heading_depth - heading_above
    if heading_above < 0:
        faults.append(
            Fault(
                ("heading_above",),
                "the pin would stand above the heading and show: the heading must reach the carrying point or above it",
                "{above}",
                "0 or more",
                lengths,
            )
        )
    if rise <= 0:
        faults.append(
            Fault(
                ("pin", "rise"),
                "a pin's rise is more than nothing: measure it",
                "{rise}",
                "more than 0",
                lengths,
            )
        )
    if not faults and depth > heading_depth:
        too_deep = "the pin would enter {depth} down, below the buckram or tape of {most}, and tear out: "
        if heading_above < heading_depth:
            remedy = "use a pin of less rise, a deeper buckram or tape, or less heading above the carrying point"
            allowed = "up to {most_rise}"
            faults.append(Fault(("pin", "rise"), too_deep + remedy, "{rise}", allowed, lengths))
        else:
            remedy = "let less of the heading stand above the carrying point"
            faults.append(Fault(("heading_above",), too_deep + remedy, "{above}", "less than {most}", lengths))
    if faults:
        raise Impossible(*faults)
    return depth


def on_rule(depth: int, division: int, rise: int, most: int) -> int:
    """Return a pin's depth as it is marked: on the nearest division of the rule from its `rise` down to `most`.

    Where the rule has no division between the two it is not rounded.

    >>> on_rule(103, 10, 90, 300), on_rule(105, 10, 90, 300), on_rule(298, 10, 90, 299), on_rule(103, 10, 102, 300)
    (100, 110, 290, 110)
    """
    nearest = (2 * depth + division) // (2 * division) * division
    if nearest > most:
        nearest -= division
    elif nearest < rise:
        nearest += division
    return nearest if rise <= nearest <= most else depth


def pins(row: Sequence[Station], edge_inset: int) -> list[HangingPoint]:
    """Return the pins of a panel: one in each flat piece, one at each pleat on its stitching [common practice].

    A pleat's pin is measured on the flat at the mark where the pleat starts; sewn, its two marks lie together. In a
    flat piece the pin stands `edge_inset` from the piece's outer end, or in its middle if twice that is too much.
    """
    found = []
    counts = {"overlap": 0, "pleat": 0, "return": 0}
    finished = 0
    for index, piece in enumerate(row):
        if piece.kind == "space":
            finished += piece.end - piece.start
            continue
        counts[piece.kind] += 1
        offset = 0
        width = 0
        if piece.kind in FLAT_PIECES:
            width = piece.end - piece.start
            inset = min(edge_inset, width // 2)
            offset = width - inset if index == len(row) - 1 else inset
        found.append(HangingPoint(piece.kind, counts[piece.kind], piece.start + offset, finished + offset))
        finished += width
    return found
