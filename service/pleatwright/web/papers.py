"""Replies on paper: drawings, tickets and tapes, made in another thread while others are served."""

from collections.abc import Callable
from typing import Any, Final

from litestar import Response

from pleatwright import workroom
from pleatwright.contract.about import HeadingFigures
from pleatwright.contract.papers import HTML, PDF, PaperAsked
from pleatwright.headings.host import Headings
from pleatwright.paper import drawings
from pleatwright.paper.making import job_paper, panel_paper
from pleatwright.paper.ticket import STYLE_HASH
from pleatwright.workroom.work import Work

Estimating = Callable[[Any], Work[Any]]
_NAMES: Final = {"tape": "marking-tape.pdf", "ticket": "bench-ticket.pdf"}


def paper_response(made: bytes, form: str, asked: PaperAsked) -> Response[bytes]:
    """Return a paper as the service gives it."""
    headers = {"vary": "accept"}
    if form == HTML:
        headers["content-security-policy"] = (
            f"default-src 'none'; style-src '{STYLE_HASH}'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
        )
    elif form == PDF:
        headers["content-disposition"] = f'inline; filename="{_NAMES[asked.paper]}"'
    return Response(made, media_type=form, headers=headers)


def drawn(figures: HeadingFigures) -> bytes:
    """Return a style's cross-section as SVG."""
    return drawings.svg(drawings.heading_section(figures)).encode()


def job_paper_in_parts(
    request: Any, estimating: Estimating, headings: Headings, asked: PaperAsked, form: str
) -> Work[bytes]:
    """Return a paper of a job, in parts. Raises Impossible."""
    reply = yield from estimating(request)
    figures = {style: workroom.heading(style, headings, reply.units) for style in reply.made_with.styles}
    made: bytes = yield lambda: job_paper(reply, figures, asked, form)
    return made


def pleats_paper_in_parts(request: Any, headings: Headings, asked: PaperAsked, form: str) -> Work[bytes]:
    """Return a paper of a flat panel, in parts. Raises Impossible."""
    panel = workroom.pleats_paper(request, headings, asked.side)
    made: bytes = yield lambda: panel_paper(panel, asked, form)
    return made


def pins_paper_in_parts(request: Any, headings: Headings, asked: PaperAsked, form: str) -> Work[bytes]:
    """Return a paper of a flat panel and its pins, in parts. Raises Impossible."""
    panel = workroom.pins_paper(request, headings, asked.side)
    made: bytes = yield lambda: panel_paper(panel, asked, form)
    return made
