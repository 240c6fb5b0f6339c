"""Measures what one process carries: python tests/container/capacity.py

Over HTTP on loopback, one request at a time, by one connection. Seconds of the processor are those that the service's
process used, as the kernel counts them: whoever else is on the machine lengthens the time by the clock much, and those
a little.
"""

import http.client
import json
import os
import statistics
import sys
import time
from pathlib import Path

from local import local
from machine import EXAMPLES, JOB, SLOW_JOB

REQUESTS = {
    "pleats": ("/v1/pleats", (EXAMPLES / "pleats.json").read_bytes()),
    "estimate": ("/v1/estimate", JOB.read_bytes()),
}
SECONDS = 15


def main():
    """Measure both requests, and the memory of a process."""
    windows = len(json.loads(JOB.read_bytes())["windows"])
    print(f"{os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}; the estimate has {windows} window, and is priced")
    with local(sys.executable) as service:
        print(f"memory: {memory(service):.0f} MB when ready")
        for name, request in REQUESTS.items():
            measure(service, name, *request)
        print(f"memory: {memory(service):.0f} MB after those")
        service.ask("/v1/estimate", SLOW_JOB.read_bytes())
        print(f"memory: {memory(service):.0f} MB after a job for the solver, {memory(service, 'VmHWM'):.0f} MB at most")


def measure(service, name, path, body):
    """Ask the same for a while; print the rate by the clock and by the processor."""
    connection = http.client.HTTPConnection("127.0.0.1", service.port)
    times = []
    for _ in range(50):  # until everything that is made once is made
        ask(connection, path, body)
    used, began = processor(service), time.monotonic()
    while time.monotonic() < began + SECONDS:
        at = time.monotonic()
        size = ask(connection, path, body)
        times.append(time.monotonic() - at)
    used = processor(service) - used
    print(
        f"{name}: {len(body)} bytes in, {size} out; {len(times) / SECONDS:.0f} a second by the clock, median "
        f"{statistics.median(times) * 1000:.1f} ms, p99 {sorted(times)[len(times) * 99 // 100] * 1000:.1f} ms; "
        f"{used / len(times) * 1000:.2f} ms of the processor each, {len(times) / used:.0f} a second and core"
    )


def ask(connection, path, body):
    """Return the size of a reply."""
    connection.request("POST", path, body, {"Content-Type": "application/json"})
    reply = connection.getresponse()
    found = reply.read()
    if reply.status != 200:
        sys.exit(f"{reply.status} {found[:300]}")
    return len(found)


def processor(service):
    """Return the seconds of the processor that a process has used."""
    user, system = Path(f"/proc/{service.process.pid}/stat").read_text().rpartition(")")[2].split()[11:13]
    return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


def memory(service, field="VmRSS"):
    """Return the memory of a process in MB."""
    status = Path(f"/proc/{service.process.pid}/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith(field))) / 1024


if __name__ == "__main__":
    main()
