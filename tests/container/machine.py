"""What every script here needs of the machine: commands that fail loudly, Debian's packages, and a scratch folder."""

import importlib.util
import os
import shutil
import subprocess
import sys
import tempfile
import time
from contextlib import contextmanager
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
EXAMPLES = PROJECT / "openapi" / "examples"
JOB = EXAMPLES / "estimate.json"
SLOW_JOB = EXAMPLES / "cloth" / "estimate-twelve-windows.json"
BOOK = PROJECT / "deploy" / "rates.example.toml"
BEGAN = time.monotonic()


class Trouble(Exception):
    """Something did not hold, or could not be tried."""


def say(text):
    """Print a line with the time since the script began."""
    print(f"{time.monotonic() - BEGAN:5.0f} s  {text}", flush=True)


def check(holds, what, seen=""):
    """Print what holds; raise when it does not."""
    if not holds:
        raise Trouble(f"does not hold: {what}{f', but {seen}' if seen else ''}")
    say(f"   {what}")


def run(*command, given=None, seconds=900, **options):
    """Run a command and return what it writes; raise with the end of all it wrote when it fails."""
    done = subprocess.run(
        [str(each) for each in command],
        input=given,
        capture_output=True,
        text=isinstance(given, str) or given is None,
        timeout=seconds,
        check=False,
        **options,
    )
    if done.returncode:
        told = [each if isinstance(each, str) else each.decode(errors="replace") for each in (done.stdout, done.stderr)]
        raise Trouble(f"{' '.join(map(str, command))} ended with {done.returncode}:\n{''.join(told)[-4000:]}")
    return done.stdout


def need_root():
    """End unless this is root on a machine with Debian's packages."""
    if os.geteuid() or not shutil.which("apt-get"):
        sys.exit("This needs root, on Debian: it installs packages and makes a base image.")


def install(**binaries):
    """Install the packages of Debian whose binaries are missing; the keywords are binary=package."""
    missing = [package for binary, package in binaries.items() if not shutil.which(binary)]
    if not importlib.util.find_spec("ensurepip"):
        missing.append("python3-venv")
    if missing:
        say(f"installing {', '.join(missing)}")
        apt = ("apt-get", "-qq", "-o", "DPkg::Lock::Timeout=300")
        quiet = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
        run(*apt, "update", env=quiet)
        run(*apt, "install", "--yes", "--no-install-recommends", *missing, env=quiet)


@contextmanager
def scratch():
    """Give a folder for everything that is made, and remove it with whatever is still mounted in it."""
    folder = Path(tempfile.mkdtemp(prefix="pleatwright-"))
    try:
        yield folder
    finally:
        mounts = [line.split()[1] for line in Path("/proc/mounts").read_text().splitlines()]
        for mount in reversed([each for each in mounts if Path(each).is_relative_to(folder)]):
            subprocess.run(["umount", "--lazy", mount], check=False)
        shutil.rmtree(folder)


def tools(folder, *packages):
    """Return the bin folder of a new environment with these packages."""
    run(sys.executable, "-m", "venv", folder)
    run(folder / "bin" / "python", "-m", "pip", "install", "--quiet", *packages)
    return folder / "bin"


def service_python(folder):
    """Return a Python that has this project: the one that runs this, or that of an environment made in the folder."""
    if not subprocess.run([sys.executable, "-c", "import pleatwright"], capture_output=True, check=False).returncode:
        return Path(sys.executable)
    say("making an environment for the service outside the container")
    make = '. "$(dirname "$0")/environment.sh"; make_environment requirements.txt'
    run("sh", "-ec", make, PROJECT / "deploy" / "run.sh", env=os.environ | {"PLEATWRIGHT_ENV": str(folder)})
    return folder / "bin" / "python"
