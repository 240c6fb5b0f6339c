"""The bench ticket: what to know, tick and write down at the table, a window a page.

`job_ticket` makes one from an estimate, `panel_ticket` one of a single panel; `html` puts it on paper, and so
does `pdf.pdf`, which stands apart since it takes long to load.
"""

from pleatwright.paper.ticket.html import STYLE_HASH, PageSize, html
from pleatwright.paper.ticket.job import job_ticket, panel_ticket
from pleatwright.paper.ticket.model import Ticket

__all__ = ["STYLE_HASH", "PageSize", "Ticket", "html", "job_ticket", "panel_ticket"]
