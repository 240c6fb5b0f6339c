"""Changes a request as a tree: a byte changed at random hardly ever leaves one that can be read."""

import copy
import json
import random
from collections.abc import Sequence
from typing import Any

VALUES = (
    *(None, True, False, 0, -1, 1, 2, 3.5, 0.001, 1e-9, 1e9, 2**53, 10**400, "", "0", "-1", "1/3 in", "84 1/2"),
    *("1000 m", "0.003 mm", "54 in", "137 cm", "half", "pair", "one-way-left", "sill", "puddle", "wave", "eyelet"),
    *("300 g/m2", [], {}),
)
LONG = 40
"""Entries past which a place is not changed any further: places doubled within places soon fill a machine."""


def mutated(data: bytes, others: Sequence[bytes], rng: random.Random) -> bytes:
    """Return a request with a part changed, left out, doubled, or put in from another; as it was if it is no JSON."""
    try:
        tree = json.loads(data[1:])
        other = json.loads(rng.choice(others)[1:]) if others else {}
    except (ValueError, RecursionError):
        return data
    for _ in range(rng.choice((1, 1, 2, 4))):
        if _change(tree, other, rng) > LONG:
            break
    operation = bytes([rng.randrange(256)]) if rng.random() < 0.05 else data[:1]
    return operation + json.dumps(tree, separators=(",", ":")).encode()


def _change(tree: Any, other: Any, rng: random.Random) -> int:
    """Change one place, and return how many entries that has then."""
    inner = _inner(tree)
    if not inner:
        return 0
    parent = rng.choice(inner)
    donor = rng.choice(_inner(other) or [{}])
    keys: list[Any] = list(parent) if isinstance(parent, dict) else list(range(len(parent)))
    match rng.randrange(5):
        case 0 if keys:
            parent[rng.choice(keys)] = copy.deepcopy(rng.choice(VALUES))
        case 1 if keys:
            del parent[rng.choice(keys)]
        case 2 if isinstance(parent, dict) and isinstance(donor, dict) and donor:
            key = rng.choice(list(donor))
            parent[key] = copy.deepcopy(donor[key])
        case 3 if isinstance(parent, list) and parent:
            parent += [copy.deepcopy(rng.choice(parent)) for _ in range(rng.choice((1, 3, 60)))]
        case 4 if keys:
            key = rng.choice(keys)
            if isinstance(parent[key], int | float) and abs(parent[key]) < 1e300:
                parent[key] = parent[key] * rng.choice((0.5, 2, -1, 10, 0.1)) + rng.choice((0, 1, 1 / 320))
            else:
                parent[key] = copy.deepcopy(rng.choice(VALUES))
    return len(parent)


def _inner(tree: Any) -> list[Any]:
    found = [tree] if isinstance(tree, dict | list) else []
    for place in found:
        found += [
            each for each in (place.values() if isinstance(place, dict) else place) if isinstance(each, dict | list)
        ]
    return found
