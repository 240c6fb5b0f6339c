"""The commands `pleatwright headings` and `pleatwright headings check`."""

import re
import sys
import textwrap
from importlib.metadata import entry_points

from pleatwright import workroom
from pleatwright.command.outcome import DONE, WRONG_FIGURES, complain
from pleatwright.headings import kit
from pleatwright.headings.contract import ENTRY_POINT_GROUP
from pleatwright.headings.host import Headings, find_headings, headings_of, reason
from pleatwright.headings.timing import LOADING, Allowance, fenced
from pleatwright.lengths import Units
from pleatwright.paper.styles_table import styles_list, styles_table


def list_headings(found: Headings, units: Units, *, as_table: bool) -> int:
    """Print the styles in use, and the plugins refused."""
    if as_table:
        sys.stdout.write(styles_table(workroom.headings(found, "in")))
        return DONE
    reply = workroom.headings(found, units)
    sys.stdout.write(styles_list(reply))
    for refusal in reply.refused:
        sys.stderr.write(f"refused: {refusal.plugin} of {refusal.package} {refusal.version}: {refusal.reason}\n")
    return DONE


def check_package(package: str) -> int:
    """Print what the styles of an installed package keep to, with a drawing of each."""
    points = [
        point
        for point in entry_points(group=ENTRY_POINT_GROUP)
        if point.dist and _normal(point.dist.name) == _normal(package)
    ]
    if not points:
        known = sorted({point.dist.name for point in entry_points(group=ENTRY_POINT_GROUP) if point.dist})
        return complain(f"no package {package} brings headings; installed are {', '.join(known)}", WRONG_FIGURES)
    sound = True
    for point in points:
        try:
            headings = fenced(Allowance.of(LOADING), lambda point=point: headings_of(point.load()))
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
