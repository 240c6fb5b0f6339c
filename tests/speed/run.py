"""Measures speed side by side, and prints tables for DEVELOPERS.md: python tests/speed/run.py [--quick] [--only PART].

To repeat it: Linux, two cores at the least, and nothing else at work on them; the project installed; wrk 4.1 or later
on the PATH; FastAPI, uvloop and httptools beside it (pip install fastapi uvloop httptools). In full it takes under ten
minutes, with --quick, which has one round, under two. --only may be given several times. --requests is the count of
requests after which the memory of a worker is looked at again: 100,000 take some minutes more.

alone      the engine in this process: reading, answering, encoding
worksheet  an estimate with a worksheet beside one without
widths     the layout of pleats in panels of 1 to 60 widths
shelf      cuts from 5 to 60 pieces
rates      requests a second beside a bare callable, Litestar, FastAPI, FastAPI with our engine, and the engine alone
batch      lines a second of a batch beside the engine alone, and memory as batches grow
late       median and p99 at half of a worker's capacity
workers    two workers beside one
start      import, first reply and memory, beside a bare Litestar application

Whatever is compared is measured in turn, in one run, on the same core; what asks has the other core. All servers run on
uvloop and httptools, without a log. Figures are medians of the rounds, ± half of the way from the least to the most; a
ratio is the median of the rounds' own ratios. Requests are 1,024 distinct ones of each case, so that no cache can help.
Each goal stands beside its figure, met or not. The exit status tells nothing of the figures: it is other than 0 only
when something was answered wrongly, or could not be measured.
"""

import argparse
import os
import platform
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path

import alone
import batch
import late
import rates
import shelf
import start
import widths
import workers
from plan import Plan
from serving import CORES
from tables import Measured, markdown, of_goals

PARTS: dict[str, Callable[[Plan], Measured]] = {
    "alone": alone.by_parts,
    "worksheet": alone.worksheet,
    "widths": widths.measure,
    "shelf": shelf.measure,
    "rates": rates.measure,
    "batch": batch.measure,
    "late": late.measure,
    "workers": workers.measure,
    "start": start.measure,
}
PACKAGES = ("litestar", "msgspec", "uvicorn", "uvloop", "httptools", "fastapi", "pydantic", "ortools")
FULL = {"rounds": 5, "seconds": 1, "requests": 20_000, "batches": (1000, 5000, 20_000)}
QUICK = {"rounds": 1, "seconds": 1, "requests": 2000, "batches": (500, 1000, 2000)}


def main() -> None:
    """Measure, and print tables."""
    arguments = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    arguments.add_argument("--quick", action="store_true", help="one round, and smaller batches")
    arguments.add_argument("--only", choices=PARTS, action="append", metavar="PART", help=", ".join(PARTS))
    for name in ("rounds", "seconds", "requests"):
        arguments.add_argument(f"--{name}", type=_positive)
    asked = arguments.parse_args()
    if len(CORES) < 2 or not shutil.which("wrk"):
        sys.exit("two cores and wrk are needed")
    usual = QUICK if asked.quick else FULL
    given = {name: getattr(asked, name) or usual[name] for name in ("rounds", "seconds", "requests")}
    print(_machine(), flush=True)
    goals = []
    with tempfile.TemporaryDirectory() as scratch:
        plan = Plan(**given, batches=usual["batches"], scratch=Path(scratch))
        for part in asked.only or PARTS:
            began = time.monotonic()
            measured = PARTS[part](plan)
            for table in measured.tables:
                print(markdown(table), flush=True)
            goals += measured.goals
            print(f"{part}: {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
    if goals:
        print(markdown(of_goals(goals)))
    print(_load())


def _positive(text: str) -> int:
    number = int(text)
    if number < 1:
        raise ValueError
    return number


def _machine() -> str:
    """Return what it is measured on, and with."""
    lines = Path("/proc/cpuinfo").read_text().splitlines()
    processor = next((line.partition(": ")[2] for line in lines if line.startswith("model name")), platform.machine())
    packages = ", ".join(f"{name} {version(name)}" for name in PACKAGES)
    system = f"{processor}, {os.cpu_count()} cores, {platform.system()} {platform.release()}"
    return f"{system}\nPython {platform.python_version()}, {packages}\n{_load()}\n"


def _load() -> str:
    return f"Load of the machine: {os.getloadavg()[0]:.1f}"


if __name__ == "__main__":
    main()
