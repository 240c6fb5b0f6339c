"""Soaks a service in mixed traffic, good and bad: python tests/soak/run.py [--seconds 600] [--clients 2].

Prints, minute by minute, requests by status, times, and the memory of the service; ends with 1 when a reply was a 5xx,
a connection that should have been answered was not, the service ended badly, or its memory grew. The memory is that
between two jobs for the solver, which takes some for as long as it works: the least of the first three minutes and of
the last three.
"""

import argparse
import asyncio
import collections
import json
import os
import random
import signal
import socket
import statistics
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
SLOW = EXAMPLES / "cloth" / "estimate-twelve-windows.json"
GROWN = 1.1
"""How many times its memory at first a service may come to."""


def good():
    """Return requests that are to be answered with 200, without the job that the solver takes seconds over."""
    for path in sorted(set(EXAMPLES.rglob("*.json")) - {SLOW}):
        operation = path.stem.split("-")[0]
        body = path.read_bytes()
        if "rates" not in path.stem and "priced" not in path.parts:
            yield "POST", f"/v1/{operation}", body, "application/json"
    job = json.dumps(json.loads((EXAMPLES / "estimate.json").read_bytes())).encode()
    yield "POST", "/v1/estimate/batch", b"\n".join([job] * 4 + [b"{"]), "application/x-ndjson"
    for path in ("/v1/headings", "/v1/headings/goblet?units=cm", "/openapi.json", "/health/ready", "/metrics"):
        yield "GET", path, b"", ""


def bad():
    """Return requests that are to be answered with a problem."""
    pins = (EXAMPLES / "pins.json").read_bytes()
    for body in (b"", b"{", b"[" * 5000, b'{"units": "in", "units": "cm"}', b"\xff\xfe", pins.replace(b"127", b"NaN")):
        yield "POST", "/v1/pins", body, "application/json"
    for flat in (b"12", b"1e9", b"-3", b"1,5", b"9" * 39, b"127 parsecs"):
        yield "POST", "/v1/pins", pins.replace(b'"127"', b'"' + flat + b'"'), "application/json"
    yield "POST", "/v1/estimate", b"x" * 1_000_000, "application/json"
    yield "POST", "/v1/estimate", pins, "text/plain"
    yield "GET", "/v1/estimate", b"", ""
    yield "GET", "/" + "x" * 3000, b"", ""


def garbage(chance):
    """Return bytes that are no request, or only the beginning of one."""
    job = (EXAMPLES / "estimate.json").read_bytes()
    head = b"POST /v1/estimate HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    whole = head + b"Content-Length: %d\r\n\r\n%s" % (len(job), job)
    kind = chance.randrange(3)
    if kind == 0:
        return chance.randbytes(chance.randrange(1, 2000))
    if kind == 1:
        return whole[: chance.randrange(len(whole))]
    return whole


async def answer(reader):
    """Return the status of a reply, having read all of it."""
    head = await reader.readuntil(b"\r\n\r\n")
    lines = head.decode("latin-1").lower().split("\r\n")
    headers = dict(line.split(": ", 1) for line in lines[1:] if line)
    if headers.get("transfer-encoding") == "chunked":
        while size := int(await reader.readline(), 16):
            await reader.readexactly(size + 2)
        await reader.readline()
    else:
        await reader.readexactly(int(headers.get("content-length", 0)))
    return int(lines[0].split()[1]), headers.get("connection") == "close"


async def client(port, ends, seen, seed):
    """Send requests one after the other until the time is over."""
    chance = random.Random(seed)
    right, wrong = list(good()), list(bad())
    reader = writer = None
    while time.monotonic() < ends:
        draw = chance.random()
        if draw < 0.05:
            with suppress(OSError):
                _, loose = await asyncio.open_connection("127.0.0.1", port)
                loose.write(garbage(chance))
                await loose.drain()
                loose.close()
                seen.append((time.monotonic(), "broken off", 0.0))
            continue
        method, path, body, form = chance.choice(wrong if draw < 0.25 else right)
        if draw > 0.9985:
            method, path, body, form = "POST", "/v1/estimate", SLOW.read_bytes(), "application/json"
        if writer is None:
            reader, writer = await asyncio.open_connection("127.0.0.1", port)
        head = f"{method} {path} HTTP/1.1\r\nHost: x\r\nContent-Length: {len(body)}\r\n"
        head += f"Content-Type: {form}\r\n" if form else ""
        began = time.monotonic()
        try:
            writer.write(head.encode() + b"\r\n" + body)
            async with asyncio.timeout(60):
                await writer.drain()
                status, closes = await answer(reader)
        except (OSError, EOFError, TimeoutError) as error:
            status, closes = f"none: {type(error).__name__} {method} {path[:30]} {body[:20]!r}", True
        seen.append((time.monotonic(), status, time.monotonic() - began))
        if (status == 200) != (draw >= 0.25) and isinstance(status, int):
            seen.append((time.monotonic(), f"wrong: {status} {method} {path[:30]} {body[:20]!r}", 0.0))
        if closes:
            writer.close()
            writer = None


async def soak(port, process, seconds, clients):
    """Return what was seen, and the memory of the service at each minute in MB."""
    seen, memory, began = [], [], time.monotonic()
    work = [asyncio.create_task(client(port, began + seconds, seen, seed)) for seed in range(clients)]
    told = 0
    while not all(each.done() for each in work):
        await asyncio.wait(work, timeout=60)
        status = Path(f"/proc/{process.pid}/status").read_text()
        memory.append(int(next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]) / 1024)
        counts = collections.Counter(str(status) for _, status, _ in seen[told:])
        told = len(seen)
        sys.stdout.write(f"{time.monotonic() - began:5.0f} s  {memory[-1]:6.1f} MB  {dict(sorted(counts.items()))}\n")
        sys.stdout.flush()
    for each in work:
        each.result()
    return seen, memory


def main():
    """Start a service, soak it, end it, and judge."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--seconds", type=int, default=600)
    arguments.add_argument("--clients", type=int, default=2)
    asked = arguments.parse_args()
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = [sys.executable, "-m", "pleatwright.command", "serve", "--port", str(port)]
    quiet = os.environ | {"PLEATWRIGHT_LOG": "off", "PLEATWRIGHT_DRAINING": "0"}
    process = subprocess.Popen(command, env=quiet)
    for _ in range(200):
        with suppress(OSError), socket.create_connection(("127.0.0.1", port)):
            break
        time.sleep(0.05)
    else:
        sys.exit("the service does not listen")
    seen, memory = asyncio.run(soak(port, process, asked.seconds, asked.clients))
    process.send_signal(signal.SIGTERM)
    ended = process.wait(timeout=60)
    times = sorted(took for _, status, took in seen if isinstance(status, int))
    middle, late = statistics.median(times), times[len(times) * 99 // 100]
    first, last, most = min(memory[:3]), min(memory[-3:]), max(memory)
    sys.stdout.write(
        f"{len(times)} answered, {len(times) / asked.seconds:.0f} a second; median {middle * 1000:.1f} ms, "
        f"p99 {late * 1000:.0f} ms; ended with {ended}\n"
        f"memory {first:.0f} MB at first, {last:.0f} MB at last, {most:.0f} MB at most\n"
    )
    troubles = [
        each for _, each, _ in seen if (isinstance(each, int) and each >= 500) or str(each)[:4] in ("none", "wron")
    ]
    sys.stdout.write("".join(f"{each}\n" for each in troubles[:20]))
    return 1 if troubles or ended or last > first * GROWN else 0


if __name__ == "__main__":
    sys.exit(main())
