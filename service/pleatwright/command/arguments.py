"""What the command line takes."""

import argparse

from pleatwright import __version__
from pleatwright.contract.papers import DRAWINGS, SHEETS
from pleatwright.lengths import UNITS


def counted(text: str) -> int:
    """Read a number that counts from 1. Raises ArgumentTypeError."""
    if not text.isascii() or not text.isdigit() or int(text) == 0:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 on")
    return int(text)


def parser() -> argparse.ArgumentParser:
    """Return the parser of the command line."""
    found = argparse.ArgumentParser(prog="pleatwright", description="The arithmetic of a drapery workroom.")
    found.add_argument("--version", action="version", version=f"pleatwright {__version__}")
    commands = found.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="serve the API")
    serve.add_argument("--host", default="127.0.0.1", help="address to listen at (127.0.0.1)")
    serve.add_argument("--port", type=int, default=8000, help="port to listen at (8000)")
    estimate = commands.add_parser("estimate", help="work out a job and print its work order")
    estimate.add_argument("file", help="job as JSON, in the form of POST /v1/estimate; - for standard input")
    estimate.add_argument("--json", action="store_true", help="print the reply of POST /v1/estimate")
    estimate.add_argument("--rates", help="rate book as TOML, to price the job by")
    estimate.add_argument("--workroom", action="store_true", help="show costs, margin and hours as well")
    paper = commands.add_parser("paper", help="make one paper of a job: a drawing, the bench ticket, the marking tape")
    paper.add_argument("file", help="job as JSON, in the form of POST /v1/estimate; - for standard input")
    which = paper.add_mutually_exclusive_group(required=True)
    which.add_argument("--drawing", choices=DRAWINGS, help="one drawing, as SVG")
    which.add_argument("--ticket", action="store_true", help="the bench ticket, as HTML, or as PDF into a .pdf file")
    which.add_argument("--tape", action="store_true", help="the marking tape at full size, as PDF")
    paper.add_argument(
        "--window", type=counted, help="which window of the job, counted from 1 (1 for a drawing, else all)"
    )
    paper.add_argument(
        "--panel", type=counted, help="which panel of the window, left before right (1 for a drawing, else all)"
    )
    paper.add_argument("--sheet", choices=SHEETS, default="a4", help="what it is printed on; a roll for a tape (a4)")
    paper.add_argument(
        "--layer",
        type=counted,
        help="cut-plan: which of the linings and other layers that the job orders, counted from 1",
    )
    paper.add_argument("-o", "--output", default="-", help="file to write; - for standard output (-)")
    headings = commands.add_parser("headings", help="list the heading styles, and the plugins refused")
    headings.add_argument("--units", choices=UNITS, default="in", help="units of lengths (in)")
    headings.add_argument("--table", action="store_true", help="print a table for a Markdown page")
    actions = headings.add_subparsers(dest="action")
    check = actions.add_parser("check", help="check every heading that an installed package brings, and draw it")
    check.add_argument("package", help="name of the package")
    headings.set_defaults(package=None)
    rates = commands.add_parser("rates", help="look after the rate book")
    book = rates.add_subparsers(dest="action", required=True)
    check_book = book.add_parser("check", help="check a rate book, and tell everything that is wrong with it")
    check_book.add_argument("file", help="rate book as TOML")
    commands.add_parser(
        "key", help="make a key, of the workroom's or of a customer's, and the digest to start the service with"
    )
    commands.add_parser("contract", help="print the OpenAPI document")
    return found
