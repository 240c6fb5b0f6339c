"""What befalls the fleet: coroutines whose first line of documentation is printed, and which return what to add."""

import asyncio
import os
import re
import signal
import time
import urllib.request
from contextlib import suppress
from pathlib import Path

from machine import Trouble, run

FAKETIME = "/usr/lib/*/faketime/libfaketime.so.1"
SPARE = 12
"""MB of memory beyond its own that a service is left: enough to serve, and too few for the solver."""
LOGS = 16 * 1024


async def nothing(_fleet):
    """Nothing happens."""
    await asyncio.sleep(5)
    return ""


async def rolling_restart(fleet):
    """Each is told to end, ends, and is started anew."""
    for name in fleet.services:
        await fleet.replace(name)
    return "Every one ended with status 0."


async def killed(fleet):
    """One is killed."""
    await asyncio.sleep(1)
    fleet.services["two"].process.kill()
    seconds = await fleet.down("two")
    fleet.services["two"].process.wait()
    fleet.start("two")
    await fleet.up("two")
    return f"The proxy knew after {seconds:.1f} s."


async def hung(fleet):
    """One stops answering, its connections open, and goes on later."""
    await asyncio.sleep(1)
    fleet.services["three"].process.send_signal(signal.SIGSTOP)
    seconds = await fleet.down("three")
    await asyncio.sleep(47 - seconds)  # until the proxy has given up every request that it holds
    fleet.services["three"].process.send_signal(signal.SIGCONT)
    await fleet.up("three")
    return f"The proxy knew after {seconds:.1f} s."


async def no_room_for_logs(fleet):
    """The disk that one logs to is full."""
    folder = fleet.folder / "logs"
    folder.mkdir()
    run("mount", "-t", "tmpfs", "-o", f"size={LOGS}", "tmpfs", folder)
    with (folder / "log").open("wb") as log:
        await fleet.replace("one", log="json", output=log)
    before = _memory(fleet.services["one"])
    for _ in range(600):
        await asyncio.sleep(0.1)
        if not os.statvfs(folder).f_bavail:
            break
    else:
        raise Trouble("the disk for logs did not fill")
    await asyncio.sleep(8)
    after = _memory(fleet.services["one"])
    await fleet.replace("one")
    return f"Its memory went from {before:.0f} MB to {after:.0f} MB; told to end, it ended with status 0."


async def clock_jumps(fleet):
    """The clock of one jumps a year ahead, and then two back."""
    clock = fleet.folder / "clock"
    clock.write_text("+0\n")
    [library] = Path("/").glob(FAKETIME[1:])
    faked = {
        "LD_PRELOAD": library,
        "FAKETIME_TIMESTAMP_FILE": clock,
        "FAKETIME_NO_CACHE": 1,
        "FAKETIME_DONT_FAKE_MONOTONIC": 1,
    }
    await fleet.replace("two", before=("env", *(f"{name}={value}" for name, value in faked.items())))
    years = [_year(fleet.ports["two"])]
    for jump in ("+365d", "-365d"):
        clock.write_text(f"{jump}\n")
        await asyncio.sleep(3)
        years.append(_year(fleet.ports["two"]))
    if years[1] <= years[0] or years[2] >= years[0]:
        raise Trouble(f"the clock did not jump: {years}")
    await fleet.replace("two")
    return f"Its replies were dated {years[0]}, {years[1]} and {years[2]}."


async def out_of_memory(fleet):
    """The kernel kills one over a job for the solver."""
    with _Grasp() as grasp:
        await fleet.replace("one", before=("sh", "-c", f'echo $$ >{grasp.members}; exec "$@"', "sh"))
        limit = grasp.limit(_memory(fleet.services["one"], "RssAnon") + SPARE)
        fleet.proxy.favour("one", alone=True)
        job = asyncio.create_task(fleet.load.ask(*fleet.slow, fleet.slow_reply))
        await asyncio.sleep(0.15)
        fleet.proxy.favour("one", alone=False)
        await job
        ended = fleet.services["one"].process.poll()
        if ended != -signal.SIGKILL:
            raise Trouble(f"it was not killed, but {'goes on' if ended is None else f'ended with {ended}'}")
        fleet.start("one")
        await fleet.up("one")
    return f"Its memory cgroup was limited to {limit:.0f} MB."


class _Grasp:
    """A cgroup of the kernel, of either version, that is limited in memory."""

    def __enter__(self):
        root = Path("/sys/fs/cgroup")
        old = (root / "memory").is_dir()
        self._folder = (root / "memory" if old else root) / f"pleatwright-{os.getpid()}"
        self._folder.mkdir()
        self.members = self._folder / "cgroup.procs"
        self._limit = self._folder / ("memory.limit_in_bytes" if old else "memory.max")
        (self._folder / ("memory.swappiness" if old else "memory.swap.max")).write_text("0")
        return self

    def limit(self, megabytes):
        """Limit what is in it; return the limit."""
        self._limit.write_text(str(int(megabytes * 1024**2)))
        return megabytes

    def __exit__(self, *_):
        for _ in range(50):
            for member in self.members.read_text().split():
                os.kill(int(member), signal.SIGKILL)
            time.sleep(0.1)
            with suppress(OSError):
                self._folder.rmdir()
                break


def _memory(service, field="VmRSS"):
    status = Path(f"/proc/{service.process.pid}/status").read_text()
    return int(re.search(rf"{field}:\s+(\d+)", status)[1]) / 1024


def _year(port):
    with urllib.request.urlopen(f"http://127.0.0.1:{port}/health/live", timeout=10) as reply:
        return int(reply.headers["Date"].split()[3])


PLANNED = {nothing, rolling_restart}
"""Nothing may come back but right answers."""
DEADLY = {killed, out_of_memory}
"""A reply may be broken off as well, which its length tells the client."""
ALL = (nothing, rolling_restart, killed, hung, no_room_for_logs, clock_jumps, out_of_memory)
