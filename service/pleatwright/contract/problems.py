"""Problems as RFC 9457 has them: what each status means here, in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from pleatwright.contract.about import Problem, ProblemFault
from pleatwright.faults import Fault, json_pointer

MEDIA_TYPE: Final = "application/problem+json"
MOST_FAULTS: Final = 50
"""Faults that one problem lists; a request with more has them found in turns."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of problem: its name, which is the end of its `type`, its title and its general remedy."""

    name: str
    title: str
    detail: str


KINDS: Final[dict[int, Kind]] = {
    400: Kind("not-understood", "The request cannot be read", "Put right what is listed and send it again."),
    401: Kind(
        "key-needed",
        "The workroom's key is needed",
        "Send the workroom's key as a bearer token, or ask for the customer's view and no discount.",
    ),
    404: Kind("not-found", "There is nothing at this address", "Check the address against /openapi.json."),
    405: Kind("wrong-method", "This address does not take that method", "Use a method named in the Allow header."),
    406: Kind(
        "no-such-form", "The reply does not come in that form", "Accept application/json or application/msgpack."
    ),
    413: Kind("too-large", "The request is too large", "Send fewer windows at a time."),
    415: Kind(
        "wrong-form", "The request is in a form that is not read", "Send JSON, with Content-Type application/json."
    ),
    422: Kind("impossible", "The figures do not make a window covering", "Change what is listed and send it again."),
    500: Kind("broken", "The service failed", "This is our fault. Try again, and tell the workroom if it goes on."),
}


def problem(status: int, detail: str | None = None, faults: Sequence[Fault] = ()) -> Problem:
    """Return the problem of a status, with its faults; the detail says what to do, in one or two sentences."""
    kind = KINDS[status]
    listed = faults[:MOST_FAULTS]
    if detail is None and listed:
        first = listed[0]
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        detail = f"{json_pointer(first.where) or 'The request'}: {first.detail}{more}."
    return Problem(
        type=f"urn:pleatwright:problem:{kind.name}",
        title=kind.title,
        status=status,
        detail=detail or kind.detail,
        errors=[
            ProblemFault(pointer=json_pointer(fault.where), detail=fault.detail, seen=fault.seen, allowed=fault.allowed)
            for fault in listed
        ],
    )
