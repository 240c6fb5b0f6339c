"""Problems as RFC 9457 has them: what each status means here, in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from pleatwright.contract.about import Problem, ProblemFault, ProblemKind
from pleatwright.faults import Fault, json_pointer

MEDIA_TYPE: Final = "application/problem+json"
ADDRESS: Final = "/problems/{name}"
MOST_FAULTS: Final = 50
"""Faults that one problem lists; a request with more has them found in turns."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of problem: its name, which is the end of its `type`, its title, its meaning and its general remedy."""

    name: str
    title: str
    meaning: str
    detail: str

    @property
    def address(self) -> str:
        """Where the kind is described: a relative reference [RFC 9457, section 3.1.1]."""
        return ADDRESS.format(name=self.name)


KINDS: Final[dict[int, Kind]] = {
    400: Kind(
        "not-understood",
        "The request cannot be read",
        "What was sent is not JSON in UTF-8, or is not as the contract has it. `errors` lists where, what was seen and "
        "what is allowed.",
        "Put right what is listed and send it again.",
    ),
    401: Kind(
        "key-needed",
        "A key is needed",
        "Either this service answers only who has a key, or the request asks for what only the workroom may see: its "
        "own view of a price, or a discount by name. No key was sent, or none that is known or goes so far.",
        "Send a customer's key as a bearer token, or the workroom's for its own view and for discounts.",
    ),
    404: Kind(
        "not-found",
        "There is nothing at this address",
        "No operation has this address, or nothing has the name that is in it.",
        "Check the address against /openapi.json.",
    ),
    405: Kind(
        "wrong-method",
        "This address does not take that method",
        "There is an operation at this address, by another method.",
        "Use a method named in the Allow header.",
    ),
    406: Kind(
        "no-such-form",
        "The reply does not come in that form",
        "The Accept header rules out every form that this reply comes in.",
        "Accept application/json or application/msgpack.",
    ),
    408: Kind(
        "too-slow",
        "The request took too long to arrive",
        "The body of the request had not arrived whole after as long as the service waits. The connection is closed.",
        "Send it again, all at once.",
    ),
    413: Kind(
        "too-large",
        "The request is too large",
        "The body of the request has more bytes than the service reads.",
        "Send fewer windows at a time.",
    ),
    415: Kind(
        "wrong-form",
        "The request is in a form that is not read",
        "The body of the request is called something else than JSON, is called nothing, or is compressed.",
        "Send JSON, with Content-Type application/json.",
    ),
    422: Kind(
        "impossible",
        "The figures do not make a window covering",
        "The request is as the contract has it, and nothing can be made from its figures. `errors` lists which, and "
        "what would do; what rests on a figure that is wrong is looked at when that is put right.",
        "Change what is listed and send it again.",
    ),
    429: Kind(
        "too-many",
        "Too many requests",
        "This customer, or this address, has sent as many requests as it may in a minute.",
        "Wait for the seconds in the Retry-After header, and send it again.",
    ),
    500: Kind(
        "broken",
        "The service failed",
        "Something went wrong that the request is not to blame for, in the service or in a heading style.",
        "This is our fault. Try again, and tell the workroom if it goes on.",
    ),
    503: Kind(
        "draining",
        "The service is stopping",
        "This process has been told to end: it finishes what it has begun, and is to be sent nothing new.",
        "Send it again, to another process or a little later.",
    ),
}
BY_NAME: Final = {kind.name: status for status, kind in KINDS.items()}


def problem(status: int, detail: str | None = None, faults: Sequence[Fault] = ()) -> Problem:
    """Return the problem of a status, with its faults; the detail says what to do, in one or two sentences."""
    kind = KINDS[status]
    listed = faults[:MOST_FAULTS]
    if detail is None and listed:
        first = listed[0]
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        detail = f"{json_pointer(first.where) or 'The request'}: {first.detail}{more}"
        detail += "" if detail.endswith("?") else "."
    return Problem(
        type=kind.address,
        title=kind.title,
        status=status,
        detail=detail or kind.detail,
        errors=[
            ProblemFault(pointer=json_pointer(fault.where), detail=fault.detail, seen=fault.seen, allowed=fault.allowed)
            for fault in listed
        ],
    )


def described(name: str) -> ProblemKind | None:
    """Return what is told of a kind of problem at its own address; None when there is none of the name."""
    status = BY_NAME.get(name)
    if status is None:
        return None
    kind = KINDS[status]
    return ProblemKind(type=kind.address, title=kind.title, status=status, meaning=kind.meaning, remedy=kind.detail)
