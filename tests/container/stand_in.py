"""Makes a stand-in for the image python:3.11-slim-bookworm, for machines that can pull none: Debian and its Python."""

import shutil

from machine import run, say

PACKAGES = "python3,python3-venv,python3-pip,ca-certificates"


def make(folder, to):
    """Write the root of the stand-in, made in the folder, to a tar file."""
    say("making the stand-in base with debootstrap")
    root = folder / "base"
    run("debootstrap", "--variant=minbase", f"--include={PACKAGES}", "bookworm", root)
    for waste in ("var/cache/apt", "var/lib/apt/lists", "usr/share/doc", "usr/share/man"):
        run("find", root / waste, "-mindepth", "1", "-delete")
    # As in the image that it stands in for: pip may be used, and the commands have these names in this place.
    (root / "usr/lib/python3.11/EXTERNALLY-MANAGED").unlink(missing_ok=True)
    for name in ("python", "python3", "python3.11"):
        (root / "usr/local/bin" / name).symlink_to("/usr/bin/python3.11")
    (root / "etc/resolv.conf").write_text("")
    run("tar", "-C", root, "-cf", to, ".")
    shutil.rmtree(root)
