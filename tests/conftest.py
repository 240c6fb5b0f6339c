"""What the tests share: the styles that are installed, and services on free ports of loopback."""

import hashlib
import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
from hypothesis import settings

from pleatwright.contract.reading import RequestReader
from pleatwright.headings.host import Headings, find_headings

PROJECT = Path(__file__).parent.parent

# How long a test takes depends on who else uses the machine: speed is measured in tests/speed, by hand.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")


@pytest.fixture(scope="session")
def headings() -> Headings:
    """The styles of this environment."""
    return find_headings()


@pytest.fixture(scope="session")
def request_reader(headings: Headings) -> RequestReader:
    """A reader of requests that name those styles."""
    return RequestReader(headings.options)


@pytest.fixture(scope="session")
def workroom_key() -> str:
    """The key to the workroom's view of the service that is `served`."""
    return "a-key-that-only-the-tests-hold"


@pytest.fixture(scope="session")
def served(workroom_key: str) -> Iterator[str]:
    """The service as the command line starts it, with the example rate book and a key; its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    settings = {
        "PLEATWRIGHT_RATES": str(PROJECT / "deploy" / "rates.example.toml"),
        "PLEATWRIGHT_WORKROOM_KEYS": hashlib.sha256(workroom_key.encode()).hexdigest(),
    }
    process = subprocess.Popen(
        [sys.executable, "-m", "pleatwright.command", "serve", "--port", str(port)], env=os.environ | settings
    )
    try:
        for _ in range(200):
            try:
                urllib.request.urlopen(f"{address}/health/ready").close()
                break
            except (urllib.error.URLError, ConnectionError):
                time.sleep(0.05)
        yield address
    finally:
        process.terminate()
        assert process.wait(timeout=10) in (0, -15)


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
