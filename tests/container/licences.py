"""The licences of what is in the image, as each package states its own, and whether an MIT program may come with it.

This reads what packages declare. It does not look into what a wheel has compiled in, nor at the base image.
"""

import json

from machine import Trouble, check, say

READ = """
import importlib.metadata, json
def licence(of):
    stated = of.get("License-Expression") or of.get("License") or "; ".join(
        each.rpartition(" :: ")[2] for each in of.get_all("Classifier") or [] if each.startswith("License ::"))
    return stated.strip().partition("\\n")[0]
print(json.dumps({each.name: [each.version, licence(each.metadata)] for each in importlib.metadata.distributions()}))
"""
"""A program for the image's own Python."""

PERMISSIVE = {
    "0BSD",
    "3-Clause BSD License",
    "Apache License 2.0",
    "Apache 2.0",
    "Apache-2.0",
    "BSD License",
    "BSD",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSD 3-Clause License",
    "CC0-1.0",
    "MIT",
    "MIT License",
    "MIT-CMU",
    "PSF-2.0",
    "PSFL",
    "Public Domain",
    "Zlib",
}
"""Asks for no more than that its notice is kept, and the image keeps each package's."""
UNCHANGED = {"MPL-2.0", "LGPL-3.0-only"}
"""May be passed on with a program of any licence as long as it is a package of its own, unchanged and replaceable, as
each is: the image holds it as its makers published it, its modules and notice included."""


def of_terms(stated):
    """Split an SPDX expression, or a plain name, into the licences named."""
    for word in ("(", ")"):
        stated = stated.replace(word, " ")
    return [each.strip() for part in stated.split(" AND ") for each in part.split(" OR ")]


def check_licences(installed):
    """Check every package's licence; the packages are name: [version, licence as stated]."""
    unknown = {}
    for name, (version, stated) in sorted(installed.items(), key=lambda each: each[0].lower()):
        terms = of_terms(stated)
        if not all(term in PERMISSIVE | UNCHANGED for term in terms):
            unknown[name] = stated or "nothing stated"
        mark = "  (unchanged, as a package of its own)" if set(terms) & UNCHANGED else ""
        print(f"           {name} {version}: {stated}{mark}")
    if unknown:
        raise Trouble(f"licences that nobody has looked at yet: {unknown}. Read them, and add them to licences.py")
    check(True, f"licences: {len(installed)} packages, each one's stated licence goes with MIT")


def check_bill(bill, installed):
    """Check that the bill of materials has what is installed, each thing once, and nothing else."""
    parts = json.loads(bill)
    listed = [(each["name"], each["version"]) for each in parts["components"]]
    listed.append(("pleatwright", installed["pleatwright"][0]))
    say(f"   bill.cdx.json: {parts['bomFormat']} {parts['specVersion']}, {len(listed)} packages")
    found = sorted((name, version) for name, (version, _) in installed.items())
    check(sorted(listed) == found, "the bill of materials is what is installed in the image")
