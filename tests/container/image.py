"""Checks the image by itself: what it says, and what is in it."""

import json

from licences import READ, check_bill, check_licences
from machine import PROJECT, check, say

BILL = "/opt/pleatwright/bill.cdx.json"
NEEDED = """
import importlib.metadata as metadata, re, sys
from pathlib import Path
from pip._vendor.packaging.requirements import Requirement
sys.path[:0] = map(str, Path("/opt/pleatwright/lib").glob("*/site-packages"))
def name(of): return re.sub("[-_.]+", "-", of).lower()
waiting, needed = [("pleatwright", "")], set()
while waiting:
    each = waiting.pop()
    if each in needed: continue
    needed.add(each)
    for line in metadata.requires(each[0]) or []:
        asked = Requirement(line)
        if not asked.marker or asked.marker.evaluate({"extra": each[1]}):
            waiting += [(name(asked.name), extra) for extra in {"", *asked.extras}]
installed = {name(each.name) for each in metadata.distributions(path=sys.path[:1])}
print(sorted(installed - {each for each, _ in needed}))
"""
"""Prints what is installed in the image and not needed by the service; for the base image's Python, which has pip."""


def check_image(engine, tag):
    """Check what the image says of itself, and that it holds what runs and no more."""
    say("the image")
    found = engine.inspect(tag)
    config = found["Config"]
    version = _version()
    check(config["Labels"]["org.opencontainers.image.version"] == version, f"its label says version {version}")
    check(config["User"] == "65532:65532", "it runs as 65532, by number")
    check(config["StopSignal"] in ("SIGTERM", "15"), "it is stopped by SIGTERM")
    check(config["Entrypoint"][:2] == ["pleatwright", "serve"], "it starts pleatwright serve, by no shell")
    check(found["Healthcheck"]["Test"][:2] == ["CMD", "python"], "its health check runs by no shell")
    say(f"   its size is {found['Size'] / 1e6:.0f} MB, the base included")

    def told(program, python="python"):
        return engine.podman("run", "--rm", "--network", "none", "--entrypoint", python, tag, "-c", program)

    waste = told(NEEDED, "/usr/local/bin/python").strip()
    check(waste == "[]", "nothing is installed in it that the service does not need", waste)
    installed = json.loads(told(READ))
    check_bill(told(f"print(open('{BILL}').read())"), installed)
    check_licences(installed)


def _version():
    text = (PROJECT / "service" / "pleatwright" / "__init__.py").read_text()
    return text.partition('__version__ = "')[2].partition('"')[0]
