"""A flat panel to be pleated, and the counts of pleats that its figures leave open."""

from typing import Final

from msgspec import Struct

from pleatwright.faults import Fault, Impossible
from pleatwright.lengths import INCH, Limits

FORGIVEN: Final = 3 * INCH // 4
"""The difference between take-ups that the eye forgives, unless asked otherwise. Our choice, not a trade figure."""
MOST_PLEATS: Final = 1000
"""The most pleats in one panel: over twice what a stage curtain of 60 widths takes."""


class Cloth(Struct, frozen=True):
    """A flat panel to be pleated, in grid units.

    `leading` and `trailing` are the flat pieces that stay unpleated at the leading and at the return edge. `seams`
    are measured from the leading edge. `pleat_count` is the count asked for, or None to choose it.
    """

    flat_width: int
    finished_width: int
    leading: int
    trailing: int
    seams: tuple[int, ...]
    take_up: Limits
    space: Limits
    forgiven: int = FORGIVEN
    pleat_count: int | None = None

    @property
    def spaces(self) -> int:
        """Sum of all the spaces: what the flat pieces leave of the finished width."""
        return self.finished_width - self.leading - self.trailing

    @property
    def take_ups(self) -> int:
        """Sum of all the take-ups: what the finished width leaves of the flat width."""
        return self.flat_width - self.finished_width

    @property
    def anchors(self) -> tuple[int, ...]:
        """Start of the first pleat, the seams that a pleat may hide, and the end of the last pleat."""
        first, last = self.leading, self.flat_width - self.trailing
        return (first, *(seam for seam in self.seams if first < seam < last), last)


def possible_counts(cloth: Cloth) -> range:
    """Return the counts of pleats whose equal spaces and mean take-up lie within the limits.

    Raises Impossible when the figures leave no count, or not the one asked for.
    """
    faults = list(_faults(cloth))
    if faults:
        raise Impossible(*faults)
    by_space = range(_rounded_up(cloth.spaces, cloth.space.most) + 1, cloth.spaces // cloth.space.least + 2)
    by_take_up = range(_rounded_up(cloth.take_ups, cloth.take_up.most), cloth.take_ups // cloth.take_up.least + 1)
    counts = range(max(by_space.start, by_take_up.start, 2), min(by_space.stop, by_take_up.stop))
    if not counts:
        raise Impossible(_no_count(cloth, by_space))
    if counts.start > MOST_PLEATS:
        raise Impossible(Fault(("flat_width",), f"this takes over {MOST_PLEATS} pleats: check the width and its unit"))
    counts = range(counts.start, min(counts.stop, MOST_PLEATS + 1))
    if cloth.pleat_count is None:
        return counts
    if cloth.pleat_count not in counts:
        raise Impossible(
            Fault(
                ("pleat_count",),
                f"{cloth.pleat_count} pleats would put the space or the take-up outside the style's limits: "
                f"ask for {_count_text(counts)}, or leave the count open",
                str(cloth.pleat_count),
                _count_text(counts),
            )
        )
    return range(cloth.pleat_count, cloth.pleat_count + 1)


def _faults(cloth: Cloth) -> list[Fault]:
    faults = edge_faults(cloth.finished_width, cloth.leading + cloth.trailing)
    if cloth.take_ups <= 0:
        faults.append(
            Fault(
                ("flat_width",),
                "the flat cloth must be wider than the finished panel, or there is nothing to take up: "
                "give more than {finished}, or a narrower panel",
                "{flat}",
                "more than {finished}",
                {"flat": cloth.flat_width, "finished": cloth.finished_width},
            )
        )
        # Where the seams may lie is worth saying only once the flat width is right.
        return faults
    return faults + seam_faults(cloth.seams, cloth.flat_width)


def edge_faults(finished_width: int, edges: int) -> list[Fault]:
    """Return what is wrong when the flat pieces at the edges, `edges` together, leave nothing between them."""
    if finished_width > edges:
        return []
    return [
        Fault(
            ("finished_width",),
            "the flat pieces at the two edges leave nothing between them: the finished width must be more than {edges}",
            "{finished}",
            "more than {edges}",
            {"edges": edges, "finished": finished_width},
        )
    ]


def seam_faults(seams: tuple[int, ...], flat_width: int) -> list[Fault]:
    """Return what is wrong with the places of seams."""
    faults = []
    previous = 0
    for index, seam in enumerate(seams):
        if not previous < seam < flat_width:
            faults.append(
                Fault(
                    ("seams", index),
                    "seams are measured from the leading edge, in order, and lie inside the panel: "
                    "this one must be more than {previous} and less than {flat}",
                    "{seam}",
                    "more than {previous}, less than {flat}",
                    {"seam": seam, "previous": previous, "flat": flat_width},
                )
            )
        previous = max(previous, seam)
    return faults


def _no_count(cloth: Cloth, by_space: range) -> Fault:
    fewest, most = max(by_space.start, 2), by_space.stop - 1
    if most < fewest:
        return Fault(
            ("finished_width",),
            "{spaces} of spaces cannot be shared out in equal spaces of {least} to {most}: "
            "change the finished width, or the limits of the space",
            "{spaces}",
            "whole numbers of spaces of {least} to {most}",
            {"spaces": cloth.spaces, "least": cloth.space.least, "most": cloth.space.most},
        )
    least_flat = cloth.finished_width + fewest * cloth.take_up.least
    most_flat = cloth.finished_width + most * cloth.take_up.most
    remedy = (
        "more cloth"
        if cloth.flat_width < least_flat
        else "less cloth"
        if cloth.flat_width > most_flat
        else "other limits"
    )
    return Fault(
        ("flat_width",),
        f"no count of pleats keeps each take-up from {{least}} to {{most}}; this finished width takes {fewest} to "
        f"{most} pleats, and so a flat width from {{least_flat}} to {{most_flat}}: use {remedy}",
        "{flat}",
        "{least_flat} to {most_flat}",
        {
            "flat": cloth.flat_width,
            "least": cloth.take_up.least,
            "most": cloth.take_up.most,
            "least_flat": least_flat,
            "most_flat": most_flat,
        },
    )


def _rounded_up(total: int, part: int) -> int:
    return -(-total // part)


def _count_text(counts: range) -> str:
    return f"{counts.start} to {counts.stop - 1}" if len(counts) > 1 else str(counts.start)
