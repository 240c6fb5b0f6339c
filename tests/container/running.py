"""Checks the service in a container that is shut in as deploy/compose.yaml has it, and that has no shell either."""

import json
import time
from concurrent.futures import ThreadPoolExecutor

from local import local
from machine import JOB, SLOW_JOB, check, say

SHELLS = ("/usr/bin/dash", "/usr/bin/bash")
ESTIMATE = "/v1/estimate"
WRITABLE = """
import os
folders = [each for each, _, _ in os.walk("/") if not each.startswith(("/proc", "/sys"))]
print([each for each in folders if os.access(each, os.W_OK)])
"""
LIMIT = """
from pathlib import Path
new, old = Path("/sys/fs/cgroup/memory.max"), Path("/sys/fs/cgroup/memory/memory.limit_in_bytes")
print((new if new.exists() else old).read_text())
"""


def without_shells(engine):
    """Return options that put an empty file in place of every shell of the stand-in base."""
    empty = engine.folder / "empty"
    empty.touch()
    return [f"--volume={empty}:{each}:ro" for each in SHELLS]


def check_running(engine, tag, options, python, grace):
    """Start it, look at it, ask it, and end it in the middle of a job."""
    say("the container, shut in as deploy/compose.yaml has it, its shells emptied")
    with engine.started(tag, *options, *without_shells(engine)) as container:
        say(f"   ready {container.wait_until_ready():.1f} s after its start")
        engine.podman("healthcheck", "run", container.name)
        check(True, "podman healthcheck run says that it is healthy")
        check_shut_in(container)
        check_answers(container, python, grace)


def check_answers(container, python, grace):
    """Hold its replies against those of the service outside, the last of them as it ends."""
    with local(python) as here:
        rates = json.loads(container.ask("GET", "/health/ready")[2])["rates"]
        check(rates and not rates["trouble"], "the rate book of the folder that is mounted is in force")
        job, slow = JOB.read_bytes(), SLOW_JOB.read_bytes()
        status, _, body = container.ask("POST", ESTIMATE, job)
        check(status == 200 and body == here.ask(ESTIMATE, job), "estimate.json: the reply of the service outside")
        expected = here.ask(ESTIMATE, slow)
        began = time.monotonic()
        status, _, body = container.ask("POST", ESTIMATE, slow)
        took = time.monotonic() - began
        check(status == 200 and body == expected, f"twelve windows for the solver, in {took:.1f} s: the same reply")
        say(f"   its memory: {int(container.status('VmHWM')[0]) / 1024:.0f} MB at most so far")
        check_drained(container, slow, expected, grace, took)


def check_shut_in(container):
    """Check what the kernel keeps it from."""
    check(container.status("Uid") == ["65532"] * 4, "it runs as 65532")
    check(int(container.status("CapBnd")[0], 16) == 0, "it has no capability, and can get none")
    check(container.status("NoNewPrivs") == ["1"], "it can gain no privilege")
    check(container.status("Seccomp") == ["2"], "system calls are filtered")
    check(container.python(LIMIT).strip() == str(512 * 1024**2), "its memory is limited to 512 MB")
    pids = container.engine.inspect(container.name)["HostConfig"]["PidsLimit"]
    check(pids == 64, "its processes and threads are limited to 64")
    left = set(json.loads(container.python(WRITABLE).replace("'", '"'))) - {"/dev/shm", "/dev/mqueue"}
    check(not left, "no folder can be written but the engine's own /dev/shm and /dev/mqueue", left)


def check_drained(container, slow, expected, grace, took):
    """Stop it while it works."""
    with ThreadPoolExecutor(1) as other:
        asked = other.submit(container.ask, "POST", ESTIMATE, slow)
        time.sleep(min(0.8, took / 4))
        check(not asked.done(), "told to end while it works on the twelve windows")
        ended, seconds = container.stop(grace)
        status, headers, body = asked.result()
    check(status == 200 and body == expected, "what was in flight is answered with 200, in full")
    check(headers["Connection"] == "close", "and its connection is closed")
    check(ended == 0 and seconds < int(grace), f"it ended by itself after {seconds:.1f} s, with status 0")
