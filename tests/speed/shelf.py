"""Cuts from the pieces on the shelf, by the count of pieces: the planner by itself, and the complete reply."""

import json
import random
import time
from fractions import Fraction

from messages import ENCODE, answered
from plan import Plan
from serving import SERVER_CORE, on
from tables import Measured, Table, with_spread

from pleatwright.lengths import INCH
from pleatwright.trade.bolts import Piece
from pleatwright.trade.bolts import Plan as CutPlan
from pleatwright.trade.repeat import Wanted
from pleatwright.trade.shelf import plan as plan_cuts

PIECES = (5, 20, 60)
MOST_ASKED = 40
"""The most pieces that one request may offer."""
SHELVES = 4
"""Distinct shelves of each count of pieces."""
CUTS = 8
CUT_LENGTH, REPEAT = 447 * INCH // 4, 101 * INCH // 4


def drawn(count: int, seed: int) -> list[Piece]:
    """Return pieces of 20 to 40 ft, each with its phase of the pattern, of two dye lots."""
    chance = random.Random(f"{count} pieces, {seed}")
    return [
        Piece(chance.randint(240, 480) * INCH, chance.choice("AB"), chance.randrange(25) * INCH) for _ in range(count)
    ]


def request(pieces: list[Piece]) -> bytes:
    """Return what is asked to have the same cuts from the same pieces."""
    bolts = [{"length": piece.length / INCH, "lot": piece.lot, "phase": piece.phase / INCH} for piece in pieces]
    asked = {"units": "in", "cut_length": CUT_LENGTH / INCH, "cuts": CUTS, "vertical_repeat": REPEAT / INCH}
    return json.dumps(asked | {"drop_match": "1/2", "bolts": bolts}).encode()


def measure(plan: Plan) -> Measured:
    """Measure both, the counts of pieces interleaved; ms a shelf."""
    cuts = [Wanted(CUT_LENGTH, Fraction(REPEAT * (number % 2), 2)) for number in range(CUTS)]
    alone: dict[int, list[float]] = {count: [] for count in PIECES}
    replies: dict[int, list[float]] = {count: [] for count in PIECES}
    proved = dict.fromkeys(PIECES, 0)
    with on(SERVER_CORE):
        plan_cuts(cuts, [0] * CUTS, drawn(PIECES[0], -1), REPEAT)  # loads the solver
        for number in range(plan.rounds):
            for count in PIECES:
                shelves = [drawn(count, seed) for seed in range(number * SHELVES, (number + 1) * SHELVES)]
                began = time.perf_counter()
                found = [plan_cuts(cuts, [0] * CUTS, pieces, REPEAT) for pieces in shelves]
                alone[count].append((time.perf_counter() - began) / SHELVES * 1000)
                proved[count] += sum(isinstance(each, CutPlan) and each.proved for each in found)
                bodies = [request(pieces[:MOST_ASKED]) for pieces in shelves]
                began = time.perf_counter()
                for body in bodies:
                    assert b'"outcome":' in ENCODE(answered("repeat", body))
                replies[count].append((time.perf_counter() - began) / SHELVES * 1000)
    rows = [
        [
            str(count),
            with_spread(alone[count]),
            with_spread(replies[count]) + (f" ({MOST_ASKED} pieces, the most)" if count > MOST_ASKED else ""),
            f"{proved[count]} of {plan.rounds * SHELVES}",
        ]
        for count in PIECES
    ]
    columns = ("pieces", "planner alone", "complete reply", "plans proved the best")
    return Measured([Table(f"{CUTS} cuts from the pieces on the shelf, ms a shelf", columns, rows)])
