"""What the tests share: the styles that are installed, and a service on a free port of loopback."""

import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator

import pytest

from pleatwright.contract.reading import RequestReader
from pleatwright.headings.host import Headings, find_headings


@pytest.fixture(scope="session")
def headings() -> Headings:
    """The styles of this environment."""
    return find_headings()


@pytest.fixture(scope="session")
def request_reader(headings: Headings) -> RequestReader:
    """A reader of requests that name those styles."""
    return RequestReader(headings.options)


@pytest.fixture(scope="session")
def served() -> Iterator[str]:
    """The service as the command line starts it; its address."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    address = f"http://127.0.0.1:{port}"
    process = subprocess.Popen([sys.executable, "-m", "pleatwright.command", "serve", "--port", str(port)])
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
