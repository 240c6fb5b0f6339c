"""What is measured runs in processes of its own, on one core, and whoever asks it on the other."""

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

HERE = Path(__file__).resolve().parent
CORES = sorted(os.sched_getaffinity(0))[:2]
SERVER_CORE, CLIENT_CORE = CORES[0], CORES[-1]
ALIKE = (
    "--app-dir",
    str(HERE),
    "--loop",
    "uvloop",
    "--http",
    "httptools",
    "--log-level",
    "warning",
    "--no-access-log",
    "--no-server-header",
)
"""How uvicorn serves whatever is not ours; `pleatwright serve` serves ours so."""
STARTS_WITHIN = 60
"""Seconds."""


@contextmanager
def on(*cores: int) -> Iterator[None]:
    """Stay on these cores, and have what is started meanwhile stay on them."""
    before = os.sched_getaffinity(0)
    os.sched_setaffinity(0, cores)
    try:
        yield
    finally:
        os.sched_setaffinity(0, before)


@dataclass(frozen=True)
class Service:
    """One that is served: its name, its port, and the process that was started."""

    name: str
    port: int
    process: subprocess.Popen[bytes]

    def workers(self) -> list[int]:
        """Return the processes that answer: the one that was started, or those that it started in turn."""
        parent = self.process.pid
        children = Path(f"/proc/{parent}/task/{parent}/children").read_text().split()
        return [int(each) for each in children if b"spawn_main" in Path(f"/proc/{each}/cmdline").read_bytes()] or [
            parent
        ]

    def processor_seconds(self) -> list[float]:
        """Return the seconds of the processor that each process which answers has used, in ticks of 1/100 s."""
        return [_processor_seconds(each) for each in self.workers()]

    def memory(self, field: str = "VmRSS") -> float:
        """Return the memory of the processes that answer, in MB; `VmHWM` for the most there was."""
        return sum(_memory(each, field) for each in self.workers())

    def forget_most_memory(self) -> None:
        """Have the most there was begin again from what there is."""
        for each in self.workers():
            Path(f"/proc/{each}/clear_refs").write_text("5")


def _processor_seconds(process: int) -> float:
    user, system = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()[11:13]
    return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


def _memory(process: int, field: str) -> float:
    status = Path(f"/proc/{process}/status").read_text()
    return int(next(line.split()[1] for line in status.splitlines() if line.startswith(field))) / 1024


@contextmanager
def ours(cores: Sequence[int] = (SERVER_CORE,), *, wait: bool = True, **settings: object) -> Iterator[Service]:
    """Serve ours as `pleatwright serve` does, without its log; `settings` are its settings."""
    given = {"log": "off", "draining": 0} | settings
    environment = {f"PLEATWRIGHT_{name.upper()}": str(value) for name, value in given.items()}
    with _started("ours", ["pleatwright.command", "serve"], environment, cores, wait=wait) as service:
        yield service


@contextmanager
def beside(name: str, cores: Sequence[int] = (SERVER_CORE,), workers: int = 1) -> Iterator[Service]:
    """Serve one of the applications in apps.py."""
    command = ["uvicorn", "--factory", "apps:app", *ALIKE, "--workers", str(workers)]
    with _started(name, command, {"SPEED_APP": name}, cores) as service:
        yield service


@contextmanager
def bare() -> Iterator[Service]:
    """Serve the bare Litestar application, without waiting for it."""
    with _started("bare Litestar", ["uvicorn", "bare:app", *ALIKE], {}, (SERVER_CORE,), wait=False) as service:
        yield service


@contextmanager
def _started(
    name: str, command: Sequence[str], environment: dict[str, str], cores: Sequence[int], *, wait: bool = True
) -> Iterator[Service]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    inherited = {key: value for key, value in os.environ.items() if not key.startswith("PLEATWRIGHT_")}
    with on(*cores):
        process = subprocess.Popen([sys.executable, "-m", *command, "--port", str(port)], env=inherited | environment)
    try:
        service = Service(name, port, process)
        if wait:
            connected(service).close()
        yield service
    finally:
        process.terminate()
        try:
            process.wait(timeout=30)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def connected(service: Service) -> socket.socket:
    """Return the first connection that a service takes."""
    ends = time.monotonic() + STARTS_WITHIN
    while time.monotonic() < ends:
        with suppress(ConnectionRefusedError):
            return socket.create_connection(("127.0.0.1", service.port))
        assert service.process.poll() is None, f"{service.name} has ended"
        time.sleep(0.001)
    raise AssertionError(f"{service.name} does not listen")
