"""The bench ticket: what to know, tick and write down at the table, a window a page.

`job_ticket` makes one from an estimate; `html` and `pdf` put it on paper.
"""

from pleatwright.paper.ticket.html import STYLE_HASH, PageSize, html
from pleatwright.paper.ticket.job import job_ticket
from pleatwright.paper.ticket.model import Ticket
from pleatwright.paper.ticket.pdf import pdf

__all__ = ["STYLE_HASH", "PageSize", "Ticket", "html", "job_ticket", "pdf"]
