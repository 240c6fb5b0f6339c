"""How a command ends, and how it tells what is wrong."""

import sys
from collections.abc import Sequence

from pleatwright.faults import Fault, json_pointer

DONE, WRONG_FIGURES, NO_START = 0, 1, 2


def complain(message: str | None, status: int, faults: Sequence[Fault] = (), *, whole: str = "the request") -> int:
    """Write a message and faults with their places, and return the status; `whole` names what has no place."""
    if message:
        sys.stderr.write(f"pleatwright: {message}\n")
    for fault in faults:
        sys.stderr.write(f"pleatwright: {json_pointer(fault.where) or whole}: {fault.detail}\n")
        for label, value in (("seen", fault.seen), ("allowed", fault.allowed)):
            if value:
                sys.stderr.write(f"    {label}: {value}\n")
    return status
