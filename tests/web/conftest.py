"""What the tests of the web share: services started as the command starts them, and raw connections to them."""

import json
import os
import socket
import subprocess
import sys
import time
from contextlib import contextmanager, suppress

import pytest


class Service:
    """A service in a process of its own, with its standard output in a file."""

    def __init__(self, folder, settings):
        with socket.socket() as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.output = folder / f"output-{self.port}"
        command = [sys.executable, "-m", "pleatwright.command", "serve", "--port", str(self.port)]
        environment = os.environ | {f"PLEATWRIGHT_{name.upper()}": str(value) for name, value in settings.items()}
        with self.output.open("wb") as out:
            self.process = subprocess.Popen(command, env=environment, stdout=out, stderr=subprocess.STDOUT)
        for _ in range(400):
            with suppress(OSError), self.connect():
                return
            assert self.process.poll() is None, self.output.read_text()
            time.sleep(0.05)
        raise AssertionError("the service does not listen")

    def connect(self):
        return socket.create_connection(("127.0.0.1", self.port), timeout=20)

    def lines(self):
        return [json.loads(line) for line in self.output.read_text().splitlines() if line.startswith("{")]

    def line(self, identity):
        """Return the log line of a request, which is written after its reply."""
        for _ in range(100):
            for line in self.lines():
                if line["id"] == identity:
                    return line
            time.sleep(0.02)
        raise AssertionError(f"no line for {identity}")


@pytest.fixture(scope="session")
def start(tmp_path_factory):
    """Return a context manager that starts a service with settings, and ends it."""

    @contextmanager
    def starting(**settings):
        service = Service(tmp_path_factory.mktemp("service"), {"draining": 0} | settings)
        try:
            yield service
        finally:
            service.process.kill()
            service.process.wait(timeout=10)

    return starting
