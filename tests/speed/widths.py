"""The layout of pleats, by the widths of cloth in a panel: by itself, and with the complete reply round it."""

import json
import statistics
import time
from collections.abc import Iterator

from messages import ENCODE, answered
from plan import Plan
from serving import SERVER_CORE, on
from tables import Goal, Measured, Table, median_ratio, ratio_with_spread, with_spread

from pleatwright.lengths import INCH, Limits
from pleatwright.trade.cloth import Cloth
from pleatwright.trade.layout import best_layout

WIDTHS = (1, 3, 10, 30, 60)
RODS = 16
"""Distinct finished widths of each count of widths, so that no one lucky panel speaks for all."""
MOST_RATIO, MOST_MS = 25, 2

# Widths of 54 in, seamed at 1/2 in from each edge, with side hems of 3 in, for a three-fold pinch.
BOLT, SEAM_ALLOWANCE, SIDE_HEM = 54 * INCH, INCH // 2, 3 * INCH
OVERLAP, RETURN = 3 * INCH, 7 * INCH // 2
TAKE_UP = Limits(4 * INCH, 11 * INCH // 2, 7 * INCH)
SPACE = Limits(3 * INCH, 15 * INCH // 4, 9 * INCH // 2)


def panels(widths: int) -> Iterator[Cloth]:
    """Yield a panel of so many widths for each rod, from 2.2 to 2.4 times as full."""
    usable = BOLT - 2 * SEAM_ALLOWANCE
    flat = widths * usable + 2 * SEAM_ALLOWANCE - 2 * SIDE_HEM
    first = BOLT - SIDE_HEM - SEAM_ALLOWANCE
    seams = tuple(first + number * usable for number in range(widths - 1))
    for rod in range(RODS):
        sixteenths = round(flat / (2.2 + 0.2 * rod / (RODS - 1)) / (INCH / 16))
        yield Cloth(flat, sixteenths * INCH // 16, OVERLAP, RETURN, seams, TAKE_UP, SPACE)


def request(cloth: Cloth) -> bytes:
    """Return what is asked for the same panel."""
    return json.dumps(
        {
            "units": "in",
            "heading": {"style": "three-fold-pinch"},
            "flat_width": cloth.flat_width / INCH,
            "finished_width": cloth.finished_width / INCH,
            "overlap": cloth.leading / INCH,
            "return": cloth.trailing / INCH,
            "seams": [seam / INCH for seam in cloth.seams],
        }
    ).encode()


def measure(plan: Plan) -> Measured:
    """Measure both, the counts of widths interleaved; µs a panel, over all its rods."""
    given = {widths: [(cloth, request(cloth)) for cloth in panels(widths)] for widths in WIDTHS}
    layouts: dict[int, list[list[float]]] = {widths: [[] for _ in range(RODS)] for widths in WIDTHS}
    replies: dict[int, list[float]] = {widths: [] for widths in WIDTHS}
    with on(SERVER_CORE):
        for number in range(-1, plan.rounds):
            for widths, rods in given.items():
                whole = 0.0
                for at, (cloth, body) in enumerate(rods):
                    began = time.perf_counter()
                    best_layout(cloth)
                    between = time.perf_counter()
                    ENCODE(answered("pleats", body))
                    whole += time.perf_counter() - between
                    if number >= 0:
                        layouts[widths][at].append((between - began) * 1e6)
                if number >= 0:
                    replies[widths].append(whole / RODS * 1e6)
    means = {widths: [statistics.mean(each) for each in zip(*found, strict=True)] for widths, found in layouts.items()}
    rows = [
        [
            str(widths),
            with_spread(means[widths]),
            f"{max(statistics.median(rod) for rod in layouts[widths]):,.0f}",
            ratio_with_spread(means[widths], means[3]),
            with_spread(replies[widths]),
            ratio_with_spread(replies[widths], replies[3]),
            _shown(widths),
        ]
        for widths in WIDTHS
    ]
    columns = ("widths", "layout", "slowest rod", ": 3 widths", "complete reply", ": 3 widths", "seams not hidden")
    widest = WIDTHS[-1]
    return Measured(
        [Table(f"Pleats by widths of cloth, the mean of {RODS} rods, µs a panel", columns, rows)],
        [
            Goal(f"layout of {widest} widths : of 3", median_ratio(means[widest], means[3]), MOST_RATIO),
            Goal(f"layout of {widest} widths", statistics.median(means[widest]) / 1000, MOST_MS, unit=" ms"),
        ],
    )


def _shown(widths: int) -> str:
    """Return how many seams are not hidden, of all the rods' together, and how many layouts are not proved the best."""
    found = [best_layout(cloth) for cloth in panels(widths)]
    shown = sum(each.seams_in_space + each.seams_in_take_up for each in found)
    unproved = sum(not each.proved for each in found)
    return f"{shown} of {(widths - 1) * RODS}" + (f", {unproved} layouts not proved" if unproved else "")
