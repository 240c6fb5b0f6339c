"""Several processes behind one address: the same bytes from each, each begun anew in its time, and no request lost."""

import json
import os
import signal
import subprocess
import sys
import time
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from .wire import EXAMPLES

JOB = (EXAMPLES / "estimate.json").read_bytes()


def ask(service, path="/v1/estimate", body=JOB):
    """Ask by a connection of its own."""
    asked = urllib.request.Request(f"http://127.0.0.1:{service.port}{path}", body, {"content-type": "application/json"})
    with urllib.request.urlopen(asked, timeout=60) as reply:
        assert reply.status == 200
        return reply.read()


def workers(service):
    """The ids of the processes that answer: not that of the one which keeps track of what is shared."""
    found = Path(f"/proc/{service.process.pid}/task/{service.process.pid}/children").read_text().split()
    return {each for each in found if "spawn_main" in Path(f"/proc/{each}/cmdline").read_text()}


def estimates(service):
    """Return how many estimates the process that answers has counted."""
    text = ask(service, "/metrics", None).decode()
    line = next(line for line in text.splitlines() if 'operation="estimate",outcome="2xx"' in line)
    return float(line.split()[-1])


def test_every_process_answers_with_the_same_bytes(start):
    with start(workers=2, log="off") as service:
        replies, counted, asked = set(), set(), 0
        # How requests fall to the processes is the kernel's affair, and the second may be slow to start.
        while asked < 2000 and (len(counted) < 2 or 0 in counted):
            replies |= {ask(service) for _ in range(25)}
            asked += 25
            counted = {estimates(service) for _ in range(25)}
        assert len(replies) == 1
        # Each process counts for itself.
        assert len(counted) == 2
        assert sum(counted) == asked
        service.process.send_signal(signal.SIGTERM)
        assert service.process.wait(timeout=20) == 0


def begun(service, count):
    """Wait for so many processes, and return their ids."""
    for _ in range(200):
        if len(workers(service)) == count:
            break
        time.sleep(0.05)
    assert len(workers(service)) == count
    ask(service)
    return workers(service)


@pytest.mark.parametrize("count", [1, 2])
def test_processes_are_begun_anew_without_a_request_lost(start, count):
    with start(workers=count, recycle_after=40, log="off") as service:
        before = begun(service, count)
        with ThreadPoolExecutor(4) as clients:
            replies = set(clients.map(lambda _: ask(service), range(200)))
            # How requests fall to the processes is the kernel's affair.
            for _ in range(40):
                if not workers(service) & before:
                    break
                replies |= set(clients.map(lambda _: ask(service), range(50)))
        assert len(replies) == 1
        assert not workers(service) & before
        service.process.send_signal(signal.SIGTERM)
        assert service.process.wait(timeout=20) == 0


def test_a_process_that_is_killed_is_replaced(start):
    with start(workers=2, log="off") as service:
        victim, _ = begun(service, 2)
        os.kill(int(victim), signal.SIGKILL)
        for _ in range(100):
            if len(workers(service) - {victim}) == 2:
                break
            time.sleep(0.05)
        assert len(workers(service) - {victim}) == 2
        assert json.loads(ask(service))


def test_the_processes_end_with_the_one_that_began_them(start):
    with start(workers=2, log="off") as service:
        left = begun(service, 2)
        service.process.kill()
        for _ in range(600):
            if not any(Path(f"/proc/{each}").exists() for each in left):
                break
            time.sleep(0.05)
        assert not any(Path(f"/proc/{each}").exists() for each in left)


def test_an_address_that_is_taken_is_told_and_ends_it(start):
    with start(log="off") as service:
        command = [sys.executable, "-m", "pleatwright.command", "serve", "--port", str(service.port)]
        done = subprocess.run(
            command,
            env=os.environ | {"PLEATWRIGHT_WORKERS": "2"},
            capture_output=True,
            text=True,
            timeout=30,
            check=False,
        )
        assert done.returncode == 2
        assert "cannot listen" in done.stderr
