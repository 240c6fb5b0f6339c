"""Makes a stand-in for the image python:3.11-slim-bookworm, for machines that can pull none: Debian and its Python."""

from machine import run, say

PACKAGES = "python3,python3-venv,python3-pip,ca-certificates"
# As in the image that it stands in for: pip may be used, and the commands have these names in this place.
HOOKS = (
    'rm "$1"/usr/lib/python3.11/EXTERNALLY-MANAGED',
    'for each in python python3 python3.11; do ln -s /usr/bin/python3.11 "$1/usr/local/bin/$each"; done',
    ': >"$1/etc/resolv.conf"',
)


def make(to):
    """Write the root of the stand-in to a tar file."""
    say("making the stand-in base with mmdebstrap")
    waste = [f"--dpkgopt=path-exclude=/usr/share/{each}/*" for each in ("doc", "man")]
    hooks = [f"--customize-hook={each}" for each in HOOKS]
    run("mmdebstrap", "--variant=minbase", f"--include={PACKAGES}", *waste, *hooks, "bookworm", to)
