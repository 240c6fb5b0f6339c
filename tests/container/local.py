"""The service outside a container, as the command line starts it."""

import os
import socket
import subprocess
import time
import urllib.request
from contextlib import contextmanager, suppress

from machine import BOOK, Trouble


def free_port():
    """Return a port of loopback that nobody has now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Local:
    """One process of the service at a port of loopback; keywords are its settings."""

    def __init__(self, python, port, before=(), output=subprocess.DEVNULL, **settings):
        variables = {f"PLEATWRIGHT_{name.upper()}": str(value) for name, value in settings.items()}
        self.port = port
        self.process = subprocess.Popen(
            [*before, str(python), "-m", "pleatwright.command", "serve", "--port", str(port)],
            env=os.environ | {"PLEATWRIGHT_RATES": str(BOOK)} | variables,
            stdout=output,
            stderr=subprocess.STDOUT,
        )

    def ask(self, path, body=None):
        """Return the body of a reply that has to be 200."""
        sent = urllib.request.Request(
            f"http://127.0.0.1:{self.port}{path}", body, {"Content-Type": "application/json"} if body else {}
        )
        with urllib.request.urlopen(sent, timeout=60) as reply:
            return reply.read()

    def wait_until_ready(self, seconds=60):
        """Return when it is ready."""
        until = time.monotonic() + seconds
        while time.monotonic() < until and self.process.poll() is None:
            with suppress(OSError):
                return self.ask("/health/ready")
            time.sleep(0.05)
        raise Trouble(f"the service at port {self.port} does not start")


@contextmanager
def local(python, **settings):
    """Start one, wait until it is ready, give it, and end it."""
    service = Local(python, free_port(), log="off", **settings)
    try:
        service.wait_until_ready()
        yield service
    finally:
        service.process.kill()
        service.process.wait()
