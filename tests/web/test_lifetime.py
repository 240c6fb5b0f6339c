"""The service ends without loss when it is told to: it says so, finishes what it has begun, and ends with status 0."""

import json
import os
import signal
import subprocess
import sys
import time
from contextlib import suppress

import pytest

from .wire import EXAMPLES, is_closed, read_reply, request

SLOW = (EXAMPLES / "cloth" / "estimate-twelve-windows.json").read_bytes()
REPEAT = (EXAMPLES / "repeat.json").read_bytes()
JSON = {"Content_Type": "application/json"}


def wait_for_end(service):
    return service.process.wait(timeout=20)


def begin_slow(connection):
    """Send a job that the solver takes seconds over, and let it begin."""
    connection.sendall(request("POST", "/v1/estimate", SLOW, **JSON, X_Request_Id="slow"))
    time.sleep(0.5)


def test_a_request_in_flight_is_finished_and_the_process_ends_with_status_0(start):
    with start(draining=0.2) as service, service.connect() as connection:
        begin_slow(connection)
        service.process.send_signal(signal.SIGTERM)
        time.sleep(0.6)
        assert service.process.poll() is None
        assert service.lines() == [], "the job was done before the signal, and shows nothing: take a longer one"
        with pytest.raises(OSError, match="refused"):
            service.connect()
        status, headers, body = read_reply(connection)
        assert status == 200
        assert len(json.loads(body)["windows"]) == 12
        assert headers["connection"] == "close"
        assert is_closed(connection)
        assert wait_for_end(service) == 0
        assert [line["id"] for line in service.lines()] == ["slow"]


def test_readiness_says_that_the_service_is_stopping_while_it_goes_on(start):
    with start(draining=1.5) as service:
        with service.connect() as connection:
            connection.sendall(request("GET", "/health/ready"))
            assert read_reply(connection)[0] == 200
        service.process.send_signal(signal.SIGTERM)
        time.sleep(0.3)
        with service.connect() as connection:
            connection.sendall(request("GET", "/health/ready"))
            status, headers, body = read_reply(connection)
            assert status == json.loads(body)["status"] == 503
            assert json.loads(body)["type"] == "/problems/draining"
            assert int(headers["retry-after"]) > 0
            assert headers["cache-control"] == "no-store"
            assert headers["connection"] == "close"
        with service.connect() as connection:
            connection.sendall(request("POST", "/v1/repeat", REPEAT, **JSON))
            assert read_reply(connection)[0] == 200
        assert wait_for_end(service) == 0


def test_a_second_signal_ends_the_waiting_and_not_the_work(start):
    with start(draining=60) as service, service.connect() as connection:
        begin_slow(connection)
        service.process.send_signal(signal.SIGTERM)
        time.sleep(0.3)
        service.process.send_signal(signal.SIGTERM)
        assert read_reply(connection)[0] == 200
        assert wait_for_end(service) == 0


def test_a_body_that_does_not_come_keeps_no_process_alive(start):
    with start(slowest_request=1) as service, service.connect() as connection:
        connection.sendall(request("POST", "/v1/repeat", Content_Length="10", **JSON))
        time.sleep(0.2)
        service.process.send_signal(signal.SIGTERM)
        assert read_reply(connection)[0] == 408
        assert wait_for_end(service) == 0


def test_idle_connections_keep_no_process_alive(start):
    with start() as service, service.connect() as connection, service.connect():
        connection.sendall(request("GET", "/health/live"))
        assert read_reply(connection)[0] == 200
        service.process.send_signal(signal.SIGTERM)
        assert is_closed(connection)
        assert wait_for_end(service) == 0


def test_the_keyboard_ends_it_too(start):
    with start(draining=60) as service:
        service.process.send_signal(signal.SIGINT)
        assert wait_for_end(service) == 0
        with suppress(FileNotFoundError):
            assert "Traceback" not in service.output.read_text()


@pytest.mark.parametrize("workers", [1, 2])
def test_told_to_end_while_it_starts_it_ends_at_once_with_status_0(tmp_path, workers):
    (tmp_path / "untimely.py").write_text(
        "import os, signal, time\nos.kill(os.getpid(), signal.SIGTERM)\ntime.sleep(4)\n"
    )
    information = tmp_path / "untimely-1.0.dist-info"
    information.mkdir()
    (information / "METADATA").write_text("Metadata-Version: 2.1\nName: untimely\nVersion: 1.0\n")
    (information / "entry_points.txt").write_text("[pleatwright.headings]\nuntimely = untimely\n")
    path = os.pathsep.join([str(tmp_path), *sys.path])
    command = [sys.executable, "-m", "pleatwright.command", "serve", "--port", "0"]
    process = subprocess.Popen(command, env=os.environ | {"PYTHONPATH": path, "PLEATWRIGHT_WORKERS": str(workers)})
    try:
        assert process.wait(timeout=20) == 0
    finally:
        process.kill()
