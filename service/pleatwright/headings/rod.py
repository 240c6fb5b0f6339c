"""Cloth round a rod: how long a loop must be, and how far below the rod it closes.

The rod is taken as round. A loop of cloth that hangs from it and is sewn together below lies as a cord would that is
pulled tight round a circle and a point: along the circle over the top, and straight from there to the point [geometry].
"""

import math


def loop_length(girth: float, below: float) -> float:
    """Return the length of a loop round a rod that is sewn together `below` the underside of the rod.

    With r the radius and h = r + below: 2 (r (pi - arccos(r / h)) + sqrt(h^2 - r^2)) [geometry].

    >>> round(loop_length(2 * math.pi, 0) - 2 * math.pi, 9), round(loop_length(2 * math.pi, 1) - 4 * math.pi / 3, 9)
    (0.0, 3.464101615)
    """
    radius = girth / (2 * math.pi)
    down = radius + below
    return 2 * (radius * (math.pi - math.acos(radius / down)) + math.sqrt(down * down - radius * radius))


def loop_drop(girth: float, length: float) -> float:
    """Return how far below the top of the rod a loop of this length is sewn together; it must reach round the rod.

    >>> round(loop_drop(2 * math.pi, loop_length(2 * math.pi, 1.5)), 9)
    3.5
    """
    low, high = 0.0, length
    for _ in range(100):
        middle = (low + high) / 2
        if loop_length(girth, middle) < length:
            low = middle
        else:
            high = middle
    return girth / math.pi + high
