"""The command `pleatwright estimate`."""

import sys
from pathlib import Path

import msgspec

from pleatwright import workroom
from pleatwright.command.outcome import DONE, WRONG_FIGURES, complain
from pleatwright.command.rates import open_book
from pleatwright.contract.estimates import EstimateReply
from pleatwright.contract.reading import RequestReader, UnreadableError
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings, reason
from pleatwright.paper.work_order import work_order
from pleatwright.pricing.book import BookError


def estimate(file: str, headings: Headings, *, rates: str | None, for_workroom: bool, as_json: bool) -> int:
    """Print the work order of a job, priced by a rate book if one is named; `for_workroom` adds the workroom's view."""
    reply = worked_out(file, headings, rates=rates, for_workroom=for_workroom)
    if isinstance(reply, int):
        return reply
    if as_json:
        sys.stdout.buffer.write(msgspec.json.encode(reply) + b"\n")
    else:
        sys.stdout.write(work_order(reply))
    sys.stdout.flush()
    return DONE


def worked_out(
    file: str, headings: Headings, *, rates: str | None = None, for_workroom: bool = False
) -> EstimateReply | int:
    """Return the reply to a job in a file; the command's status, with what is wrong told, when there is none."""
    reader = RequestReader(headings.options)
    try:
        body = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
    except OSError as error:
        return complain(f"{file}: {error.strerror}", WRONG_FIGURES)
    try:
        book = open_book(rates) if rates else None
        request = reader.read("estimate", body)
        if for_workroom:
            pricing = msgspec.structs.replace(request.pricing, view="workroom")
            request = msgspec.structs.replace(request, pricing=pricing)
        return workroom.estimate(request, headings, book)
    except BookError as error:
        return complain(f"{rates}: NOT SOUND", WRONG_FIGURES, error.faults, whole="the file")
    except UnreadableError as error:
        return complain(error.detail, WRONG_FIGURES, error.faults)
    except Impossible as impossible:
        return complain(None, WRONG_FIGURES, impossible.faults)
    except workroom.StyleFailedError as error:
        return complain(f"{error}: {reason(error.cause)}", WRONG_FIGURES)
