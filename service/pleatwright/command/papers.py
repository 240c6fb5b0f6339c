"""The command `pleatwright paper`."""

import sys
from pathlib import Path
from typing import Final

from pleatwright import workroom
from pleatwright.command.estimating import worked_out
from pleatwright.command.outcome import DONE, WRONG_FIGURES, complain
from pleatwright.contract.papers import HTML, PDF, SVG, PaperAsked
from pleatwright.faults import Impossible
from pleatwright.headings.host import Headings
from pleatwright.paper.making import job_paper

_FORMS: Final = {".html": HTML, ".htm": HTML, ".pdf": PDF, ".svg": SVG}


def paper(file: str, headings: Headings, asked: PaperAsked, form: str | None, to: str) -> int:
    """Write one paper of a job to a file, or to standard output for -.

    Without a form, a ticket is HTML unless the file's name ends in .pdf.
    """
    ending = Path(to).suffix.lower()
    form = form or (PDF if ending == ".pdf" else HTML)
    if _FORMS.get(ending, form) != form:
        return complain(f"{to}: this paper is not written as {ending}", WRONG_FIGURES)
    reply = worked_out(file, headings)
    if isinstance(reply, int):
        return reply
    try:
        figures = {style: workroom.heading(style, headings, reply.units) for style in reply.made_with.styles}
        made = job_paper(reply, figures, asked, form)
    except Impossible as impossible:
        return complain(None, WRONG_FIGURES, impossible.faults)
    try:
        if to == "-":
            sys.stdout.buffer.write(made)
            sys.stdout.buffer.flush()
        else:
            Path(to).write_bytes(made)
    except OSError as error:
        if isinstance(error, BrokenPipeError):
            raise
        return complain(f"{to}: {error.strerror}", WRONG_FIGURES)
    return DONE
