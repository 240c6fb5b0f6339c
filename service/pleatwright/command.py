"""The command `pleatwright`."""

import argparse
import io
import os
import re
import sys
import textwrap
from collections.abc import Sequence
from importlib.metadata import entry_points
from pathlib import Path

import msgspec
import uvicorn

from pleatwright import __version__, workroom
from pleatwright.contract.openapi import document_bytes
from pleatwright.contract.reading import RequestReader, UnreadableError
from pleatwright.faults import Fault, Impossible, json_pointer
from pleatwright.headings import kit
from pleatwright.headings.contract import ENTRY_POINT_GROUP
from pleatwright.headings.host import Headings, RefusedError, find_headings, headings_of, reason
from pleatwright.headings.timing import LOADING, fenced
from pleatwright.lengths import UNITS, Units
from pleatwright.paper.styles_table import styles_list, styles_table
from pleatwright.paper.work_order import work_order
from pleatwright.web.app import create_app
from pleatwright.web.settings import SettingsError

DONE, WRONG_FIGURES, NO_START = 0, 1, 2


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return 0 when done, 1 when the figures are wrong, 2 when it cannot start."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a name need not fit the terminal's alphabet
    parser = _parser()
    given = parser.parse_args(arguments)
    try:
        match given.command:
            case "serve":
                uvicorn.run(
                    create_app(),
                    host=given.host,
                    port=given.port,
                    access_log=False,
                    server_header=False,
                    log_level="warning",
                )
                return DONE
            case "estimate":
                return _estimate(given.file, find_headings(), as_json=given.json)
            case "headings" if given.package:
                return _check(given.package)
            case "headings" if given.table:
                sys.stdout.write(styles_table(workroom.headings(find_headings(), "in")))
                return DONE
            case "headings":
                return _headings(find_headings(), given.units)
            case _:
                sys.stdout.buffer.write(document_bytes(find_headings().options))
                sys.stdout.buffer.flush()
                return DONE
    except (RefusedError, SettingsError) as error:
        return _complain(str(error), NO_START)
    except BrokenPipeError:
        # Whoever was reading has gone; what is still buffered must not be written when the interpreter ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="pleatwright", description="The arithmetic of a drapery workroom.")
    parser.add_argument("--version", action="version", version=f"pleatwright {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)
    serve = commands.add_parser("serve", help="serve the API")
    serve.add_argument("--host", default="127.0.0.1", help="address to listen at (127.0.0.1)")
    serve.add_argument("--port", type=int, default=8000, help="port to listen at (8000)")
    estimate = commands.add_parser("estimate", help="work out a job and print its work order")
    estimate.add_argument("file", help="job as JSON, in the form of POST /v1/estimate; - for standard input")
    estimate.add_argument("--json", action="store_true", help="print the reply of POST /v1/estimate")
    headings = commands.add_parser("headings", help="list the heading styles, and the plugins refused")
    headings.add_argument("--units", choices=UNITS, default="in", help="units of lengths (in)")
    headings.add_argument("--table", action="store_true", help="print a table for a Markdown page")
    actions = headings.add_subparsers(dest="action")
    check = actions.add_parser("check", help="check every heading that an installed package brings, and draw it")
    check.add_argument("package", help="name of the package")
    headings.set_defaults(package=None)
    commands.add_parser("contract", help="print the OpenAPI document")
    return parser


def _estimate(file: str, headings: Headings, *, as_json: bool) -> int:
    reader = RequestReader(headings.options)
    try:
        body = sys.stdin.buffer.read() if file == "-" else Path(file).read_bytes()
    except OSError as error:
        return _complain(f"{file}: {error.strerror}", WRONG_FIGURES)
    try:
        reply = workroom.estimate(reader.read("estimate", body), headings)
    except UnreadableError as error:
        return _complain(error.detail, WRONG_FIGURES, error.faults)
    except Impossible as impossible:
        return _complain(None, WRONG_FIGURES, impossible.faults)
    except workroom.StyleFailedError as error:
        return _complain(f"{error}: {reason(error.cause)}", WRONG_FIGURES)
    if as_json:
        sys.stdout.buffer.write(msgspec.json.encode(reply) + b"\n")
    else:
        sys.stdout.write(work_order(reply))
    sys.stdout.flush()
    return DONE


def _headings(found: Headings, units: Units) -> int:
    reply = workroom.headings(found, units)
    sys.stdout.write(styles_list(reply))
    for refusal in reply.refused:
        sys.stderr.write(f"refused: {refusal.plugin} of {refusal.package} {refusal.version}: {refusal.reason}\n")
    return DONE


def _check(package: str) -> int:
    points = [
        point
        for point in entry_points(group=ENTRY_POINT_GROUP)
        if point.dist and _normal(point.dist.name) == _normal(package)
    ]
    if not points:
        known = sorted({point.dist.name for point in entry_points(group=ENTRY_POINT_GROUP) if point.dist})
        return _complain(f"no package {package} brings headings; installed are {', '.join(known)}", WRONG_FIGURES)
    sound = True
    for point in points:
        try:
            with fenced(LOADING):
                headings = headings_of(point.load())
        except Exception as error:  # a plugin may fail in any way
            sound = False
            sys.stdout.write(f"{point.name}: NOT SOUND\n      {reason(error)}\n")
            continue
        for heading in headings:
            report = kit.check(heading)
            sound = sound and report.sound
            sys.stdout.write(f"{report}\n")
            if report.sound:
                sys.stdout.write(textwrap.indent(kit.draw(kit.usual(heading)), "      ") + "\n")
    for refusal in find_headings().refused:
        if _normal(refusal.package) == _normal(package):
            sound = False
            sys.stdout.write(f"refused by the service: {refusal}\n")
    sys.stdout.flush()
    return DONE if sound else WRONG_FIGURES


def _normal(package: str) -> str:
    """Return a package's name as all its spellings have it in common."""
    return re.sub(r"[-_.]+", "-", package).lower()


def _complain(message: str | None, status: int, faults: Sequence[Fault] = ()) -> int:
    if message:
        sys.stderr.write(f"pleatwright: {message}\n")
    for fault in faults:
        sys.stderr.write(f"pleatwright: {json_pointer(fault.where) or 'the request'}: {fault.detail}\n")
        for label, value in (("seen", fault.seen), ("allowed", fault.allowed)):
            if value:
                sys.stderr.write(f"    {label}: {value}\n")
    return status


if __name__ == "__main__":
    sys.exit(main())
