"""Builds and runs containers with buildah, podman and runc, all of whose state is in one folder."""

import ctypes
import http.client
import json
import os
import shutil
import time
from contextlib import contextmanager, suppress
from pathlib import Path

from machine import Trouble, run

BINARIES = {
    "buildah": "buildah",
    "podman": "podman",
    "runc": "runc",
    "conmon": "conmon",
    "catatonit": "catatonit",
    "mmdebstrap": "mmdebstrap",
}
BASE = "python:3.11-slim-bookworm"
BUNDLE = "/etc/ssl/certs/ca-certificates.crt"
CGROUPS = Path("/sys/fs/cgroup")
OUTSIDE = [Path("/var/lib/containers"), CGROUPS / "libpod_parent"]
OUTSIDE += [each / "libpod_parent" for each in CGROUPS.iterdir() if each.is_dir()]
"""What the engine makes wherever its state is."""
STORAGE = """[storage]
driver = "overlay"
graphroot = "{0}/graph"
runroot = "{0}/run"
"""
# No systemd is asked of the machine, nor a network; an engine may run inside a container itself.
CONTAINERS = """[containers]
default_ulimits = ["nofile=1024:1024", "nproc=1024:1024"]
[engine]
runtime = "runc"
cgroup_manager = "cgroupfs"
events_logger = "file"
lock_type = "file"
tmp_dir = "{0}/libpod"
"""


class Engine:
    """An engine of its own, which leaves the machine's alone."""

    def __init__(self, folder, python):
        self._left = [each for each in OUTSIDE if not each.exists()]
        self.folder = folder
        self._python = python
        (folder / "tmp").mkdir(parents=True)
        (folder / "storage.conf").write_text(STORAGE.format(folder))
        (folder / "containers.conf").write_text(CONTAINERS.format(folder))
        self.environment = os.environ | {
            "CONTAINERS_STORAGE_CONF": str(folder / "storage.conf"),
            "CONTAINERS_CONF": str(folder / "containers.conf"),
            "TMPDIR": str(folder / "tmp"),
        }

    def podman(self, *arguments, **options):
        """Run podman and return what it writes."""
        return run("podman", *arguments, env=self.environment, **options)

    def inspect(self, what):
        """Return what podman knows of an image or a container."""
        return json.loads(self.podman("inspect", what))[0]

    def build(self, containerfile, context, tag):
        """Build an image from what is here already; only pip reaches out, by what this machine's pip is told."""
        run(
            *("buildah", "bud", "--isolation", "chroot", "--pull-never", "--network", "host", "--format", "docker"),
            *(*self.for_pip(), "--tag", tag, "--file", containerfile, context),
            env=self.environment,
        )

    def for_pip(self):
        """Return options that let pip in a container find and trust what this machine's does."""
        pip = self.folder / "pip.conf"
        pip.write_text("[global]\n" + "".join(f"{name} = {value}\n" for name, value in _indexes(self._python)))
        bundle = Path(os.environ.get("PIP_CERT") or os.environ.get("SSL_CERT_FILE") or BUNDLE).resolve()
        trusted = [f"--volume={bundle}:{BUNDLE}:ro"] if bundle.exists() else []
        return [*trusted, f"--volume={pip}:/etc/pip.conf:ro"]

    @contextmanager
    def started(self, image, *options):
        """Start a container without any network; give it, and remove it."""
        name = f"pleatwright-{time.monotonic_ns()}"
        self.podman("run", "--detach", "--name", name, "--network", "none", *options, image)
        try:
            yield Container(self, name)
        finally:
            self.podman("rm", "--force", "--time", "0", name)

    def clear(self):
        """Remove every pod and container, and what was made outside the folder and was not there before."""
        self.podman("pod", "rm", "--all", "--force", "--time", "0")
        self.podman("rm", "--all", "--force", "--time", "0")
        for each in self._left:
            if each.is_relative_to(CGROUPS):  # whose files are the kernel's, and go with their folder
                for inner, _, _ in os.walk(each, topdown=False):
                    with suppress(OSError):
                        Path(inner).rmdir()
            else:
                shutil.rmtree(each, ignore_errors=True)


def _indexes(python):
    """Return where this machine's pip finds packages, but for folders, which a build does not see."""
    for line in run(python, "-m", "pip", "config", "list").splitlines():
        name, _, value = line.partition("=")
        name, value = name.rpartition(".")[2], value.strip("'\"")
        if name in ("index-url", "extra-index-url", "trusted-host", "proxy") and "file:" not in value:
            yield name, value


class Container:
    """A container that runs the service at port 8000 of its own loopback."""

    def __init__(self, engine, name):
        self.engine = engine
        self.name = name
        self.process = engine.inspect(name)["State"]["Pid"]

    def ask(self, method, path, body=None, seconds=60):
        """Send a request from within the container's network; return status, headers and body."""
        connection = _Within(self.process, seconds)
        try:
            connection.request(method, path, body, {"Content-Type": "application/json"} if body else {})
            reply = connection.getresponse()
            return reply.status, reply.headers, reply.read()
        finally:
            connection.close()

    def wait_until_ready(self, seconds=60):
        """Return after how many seconds the service is ready."""
        began = time.monotonic()
        while time.monotonic() < began + seconds:
            try:
                if self.ask("GET", "/health/ready")[0] == 200:
                    return time.monotonic() - began
            except OSError:
                time.sleep(0.05)
        raise Trouble(f"the service is not ready after {seconds} s:\n{self.log()}")

    def status(self, field):
        """Return a field of the kernel's account of the service: the first process, or the one that an init began."""
        first = Path(f"/proc/{self.process}")
        begun = (first / "task" / str(self.process) / "children").read_text().split()
        is_init = "catatonit" in (first / "comm").read_text() or "podman-init" in (first / "comm").read_text()
        lines = Path(f"/proc/{begun[0] if is_init else self.process}/status").read_text().splitlines()
        return next(line.split(":", 1)[1].split() for line in lines if line.startswith(f"{field}:"))

    def python(self, program):
        """Run a Python program in the container and return what it writes."""
        return self.engine.podman("exec", self.name, "python", "-c", program)

    def log(self):
        """Return what the container has written."""
        return self.engine.podman("logs", self.name)

    def stop(self, grace):
        """Stop it as an engine does; return its status, and after how many seconds."""
        began = time.monotonic()
        self.engine.podman("stop", "--time", grace, self.name)
        return self.engine.inspect(self.name)["State"]["ExitCode"], time.monotonic() - began


class _Within(http.client.HTTPConnection):
    """A connection whose socket is made in the network of another process."""

    def __init__(self, process, seconds):
        super().__init__("127.0.0.1", 8000, timeout=seconds)
        self._process = process

    def connect(self):
        """Go there for as long as it takes to connect. This thread alone goes."""
        with Path("/proc/thread-self/ns/net").open() as own, Path(f"/proc/{self._process}/ns/net").open() as theirs:
            _enter(theirs)
            try:
                super().connect()
            finally:
                _enter(own)


def _enter(namespace):
    if ctypes.CDLL(None, use_errno=True).setns(namespace.fileno(), 0):
        raise Trouble(f"cannot enter a container's network: {os.strerror(ctypes.get_errno())}")
