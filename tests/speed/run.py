"""Measures speed side by side: python tests/speed/run.py [--seconds 2] [--rounds 5]

Needs wrk, FastAPI and pydantic (pip install fastapi). One worker on one core, the client on another; rounds are
interleaved, medians with their spread; every request of a round is one of 64 distinct ones. Do nothing else meanwhile.
"""

import argparse
import json
import os
import platform
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from contextlib import ExitStack, contextmanager, suppress
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
APPS = ("floor", "shell", "peer", "peer with the engine", "ours")
CONNECTIONS = 4
LUA = """
local bodies = {{{bodies}}}
local at = 0
wrk.method, wrk.headers["Content-Type"] = "POST", "application/json"
request = function()
  at = at % #bodies + 1
  return wrk.format(nil, nil, nil, bodies[at])
end
"""


@contextmanager
def served(name):
    """Serve one of the apps on a core of its own; yield its port and its process."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    command = ["uvicorn", "--factory", "apps:app", "--port", str(port), "--log-level", "warning", "--no-access-log"]
    process = subprocess.Popen(
        [sys.executable, "-m", *command],
        cwd=HERE,
        env=os.environ | {"SPEED_APP": name},
        preexec_fn=lambda: os.sched_setaffinity(0, {0}),
    )
    try:
        for _ in range(600):
            with suppress(OSError), socket.create_connection(("127.0.0.1", port)):
                break
            time.sleep(0.1)
        else:
            raise AssertionError(f"{name} does not listen")
        yield port, process
    finally:
        process.terminate()
        process.wait()


def rate(port, path, script, seconds):
    """Return the requests a second that are answered, and the latencies at the median and at 99 in 100, in ms."""
    command = ["wrk", "-t1", f"-c{CONNECTIONS}", f"-d{seconds}s", "--latency", "-s", script]
    told = subprocess.run(
        [*command, f"http://127.0.0.1:{port}{path}"],
        capture_output=True,
        text=True,
        check=True,
        preexec_fn=lambda: os.sched_setaffinity(0, {1}),
    ).stdout
    assert "Non-2xx" not in told, told
    return float(re.search(r"Requests/sec:\s+([\d.]+)", told)[1])


def scripts(folder):
    """Write what wrk sends in each case; return (path, script) by case."""
    from messages import cases

    found = {}
    for name, (operation, bodies) in cases().items():
        script = folder / f"{name.replace(' ', '-')}.lua"
        texts = ", ".join(json.dumps(body.decode()) for body in bodies)
        script.write_text(LUA.format(bodies=texts))
        found[name] = (f"/v1/{operation}", script)
    return found


def in_process(rounds):
    """Return the microseconds that the engine takes by itself for each case."""
    import msgspec
    from messages import answered, cases

    encode = msgspec.json.Encoder().encode
    found = {}
    for name, (operation, bodies) in cases().items():
        taken = []
        for _ in range(rounds):
            began = time.perf_counter()
            for body in bodies:
                encode(answered(operation, body))
            taken.append((time.perf_counter() - began) / len(bodies) * 1e6)
        found[name] = statistics.median(taken)
    return found


def main():
    """Measure, and print a table."""
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("--seconds", type=int, default=2)
    arguments.add_argument("--rounds", type=int, default=5)
    asked = arguments.parse_args()
    names = ("litestar", "msgspec", "uvicorn", "fastapi", "pydantic")
    print(platform.python_version(), platform.processor() or platform.machine(), os.cpu_count(), "cores")
    print(", ".join(f"{name} {version(name)}" for name in names))
    with tempfile.TemporaryDirectory() as scratch, ExitStack() as ending:
        cases = scripts(Path(scratch))
        ports = {name: ending.enter_context(served(name))[0] for name in APPS}
        seen = {(app, case): [] for app in APPS for case in cases}
        for _ in range(asked.rounds):
            for case, (path, script) in cases.items():
                for app in APPS:
                    seen[app, case].append(rate(ports[app], path, script, asked.seconds))
    alone = in_process(asked.rounds)
    print(f"{'requests a second':<18}" + "".join(f"{app:>24}" for app in APPS) + f"{'engine alone, µs':>20}")
    for case in cases:
        cells = [
            f"{statistics.median(found):,.0f} ±{(max(found) - min(found)) / 2:,.0f}"
            for found in (seen[app, case] for app in APPS)
        ]
        print(f"{case:<18}" + "".join(f"{cell:>24}" for cell in cells) + f"{alone[case]:>20,.0f}")
    print("ours, of shell and of peer")
    for case in cases:
        ours, shell, peer = (statistics.median(seen[app, case]) for app in ("ours", "shell", "peer"))
        print(f"{case:<18}{ours / shell:>10.2f}{ours / peer:>10.2f}")


if __name__ == "__main__":
    main()
