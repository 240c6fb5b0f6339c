"""Runs what the command line asks for."""

import argparse
import io
import os
import sys
from collections.abc import Sequence

from pleatwright.command.arguments import parser
from pleatwright.command.estimating import estimate
from pleatwright.command.headings import check_package, list_headings
from pleatwright.command.outcome import DONE, NO_START, complain
from pleatwright.command.papers import paper
from pleatwright.command.rates import check_rates
from pleatwright.contract.openapi import document, written
from pleatwright.contract.papers import PDF, SVG, PaperAsked
from pleatwright.headings.host import RefusedError, find_headings
from pleatwright.pricing.book import BookError
from pleatwright.web.keys import digest_of, new_key
from pleatwright.web.serving import serve
from pleatwright.web.settings import SettingsError, settings_from


def dispatch(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return 0 when done, 1 when the figures are wrong, 2 when it cannot start."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a name need not fit the terminal's alphabet
    try:
        return _run(parser().parse_args(arguments))
    except (RefusedError, SettingsError) as error:
        return complain(str(error), NO_START)
    except BookError as error:
        return complain("the rate book is not sound", NO_START, error.faults, whole="the file")
    except BrokenPipeError:
        # Whoever was reading has gone; what is still buffered must not be written when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _run(given: argparse.Namespace) -> int:
    match given.command:
        case "serve":
            return DONE if serve(settings_from(os.environ), given.host, given.port) else NO_START
        case "estimate":
            return estimate(
                given.file, find_headings(), rates=given.rates, for_workroom=given.workroom, as_json=given.json
            )
        case "paper":
            asked = PaperAsked(
                drawing=given.drawing or "panel-flat",
                window=given.window,
                panel=given.panel,
                layer=given.layer,
                paper="tape" if given.tape else "ticket",
                sheet=given.sheet,
            )
            form = SVG if given.drawing else PDF if given.tape else None
            return paper(given.file, find_headings(), asked, form, given.output)
        case "headings" if given.package:
            return check_package(given.package)
        case "headings":
            return list_headings(find_headings(), given.units, as_table=given.table)
        case "rates":
            return check_rates(given.file, find_headings())
        case "key":
            return _new_key()
        case _:
            sys.stdout.buffer.write(written(document(find_headings().options)))
            sys.stdout.buffer.flush()
            return DONE


def _new_key() -> int:
    key = new_key()
    sys.stdout.write(f"key     {key}\ndigest  {digest_of(key)}\n")
    sys.stderr.write(
        "Keep the key; start the service with the digest in PLEATWRIGHT_WORKROOM_KEYS or _CUSTOMER_KEYS.\n"
    )
    return DONE
