"""Three services behind HAProxy, under load, and what can befall them: python tests/container/fleet.py [MISHAP...]

As root on Debian. Every 200 must be, byte for byte, the reply that one undisturbed service gave to the same request;
whatever else comes back must be a problem, and while the services are restarted in turn there must be nothing else. A
reply that is going out as its service is killed may be broken off. Prints what was seen; ends with 1 when anything was
wrong or lost. All three run on the one machine that this runs on.
"""

import argparse
import asyncio
import sys
import time

import mishaps
from load import BROKEN_OFF, Load, requests
from local import Local, free_port, local
from machine import SLOW_JOB, Trouble, install, need_root, say, scratch, service_python
from proxy import NAMES, Proxy

DRAINING = 5


class Fleet:
    """The services by name, the proxy before them, and the load upon it."""

    def __init__(self, python, folder):
        self.python = python
        self.folder = folder
        self.ports = {name: free_port() for name in NAMES}
        self.services = {}
        self.proxy = self.load = None
        self.slow = ("/v1/estimate", SLOW_JOB.read_bytes())

    def begin(self):
        """Note what the right answers are, start everything, and let the load begin."""
        with local(self.python) as undisturbed:
            self.expected = {each: undisturbed.ask(*each) for each in requests()}
            self.slow_reply = undisturbed.ask(*self.slow)
        for name in NAMES:
            self.start(name)
        port = free_port()
        self.proxy = Proxy(self.folder, port, self.ports.values())
        for name in NAMES:
            self.proxy.wait(name, up=True)
        self.load = Load(port, self.expected)

    def start(self, name, **options):
        """Start a service, in place of one that has ended."""
        options = {"log": "off", "draining": DRAINING} | options
        self.services[name] = Local(self.python, self.ports[name], **options)

    async def up(self, name):
        """Return when the proxy takes a service to be up; seconds."""
        return await asyncio.to_thread(self.proxy.wait, name, up=True)

    async def down(self, name):
        """Return when the proxy takes a service to be down; seconds."""
        return await asyncio.to_thread(self.proxy.wait, name, up=False)

    async def replace(self, name, **options):
        """End a service as it should be, and start another in its place."""
        service = self.services[name].process
        service.terminate()
        ended = await asyncio.to_thread(service.wait, 60)
        if ended:
            raise Trouble(f"told to end, {name} ended with {ended}")
        self.start(name, **options)
        await self.up(name)

    async def end(self):
        """End everything that has begun."""
        try:
            if self.load:
                await self.load.stop()
        finally:
            for each in filter(None, (self.proxy, *self.services.values())):
                each.process.kill()
                each.process.wait()


async def befall(fleet, mishap):
    """Let one thing happen, under load, and judge what came back."""
    again, began = fleet.proxy.sent_again(), time.monotonic()
    told = await mishap(fleet)
    outcomes, times = fleet.load.account()
    again = fleet.proxy.sent_again() - again
    counts = ", ".join(f"{count} {outcome}" for outcome, count in sorted(outcomes.items()))
    say(f"{mishap.__doc__.splitlines()[0]} {told}")
    print(
        f"         {time.monotonic() - began:.0f} s: {counts}; sent again by the proxy {again}; "
        f"median {times[len(times) // 2] * 1000:.0f} ms, p99 {times[len(times) * 99 // 100] * 1000:.0f} ms, "
        f"longest {times[-1]:.1f} s"
    )
    return [f"{mishap.__name__}: {outcome}" for outcome in outcomes if not _may_be(outcome, mishap)]


def _may_be(outcome, mishap):
    return (
        outcome == "right"
        or (outcome.startswith("problem") and mishap not in mishaps.PLANNED)
        or (outcome == BROKEN_OFF and mishap in mishaps.DEADLY)
    )


async def suffer(python, folder, chosen):
    """Let one mishap after the other happen; return what was wrong."""
    fleet = Fleet(python, folder)
    try:
        fleet.begin()
        return [wrong for mishap in chosen for wrong in await befall(fleet, mishap)]
    finally:
        await fleet.end()


def main():
    """Start the fleet, let everything happen to it, and judge."""
    names = [each.__name__ for each in mishaps.ALL]
    arguments = argparse.ArgumentParser(description=__doc__)
    arguments.add_argument("mishap", nargs="*", default=names, help=", ".join(names))
    chosen = [getattr(mishaps, each) for each in arguments.parse_args().mishap if each in names]
    need_root()
    install(haproxy="haproxy", faketime="faketime")
    try:
        with scratch() as folder:
            wrong = asyncio.run(suffer(service_python(folder / "service"), folder, chosen))
    except Trouble as trouble:
        sys.exit(f"\n{trouble}\n\nNOT VERIFIED")
    sys.exit("\n".join(wrong) or 0)


if __name__ == "__main__":
    main()
