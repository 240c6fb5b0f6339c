"""Papers as PDF, without a browser: `pages` puts down drawings at their size, one a page."""

from pleatwright.paper.pdf.drawn import pages

__all__ = ["pages"]
