"""Work that takes long, done so that others are served between its parts."""

import asyncio
import time
from collections.abc import AsyncIterator, Generator
from typing import Any, Final

from pleatwright.contract.notes import Progress

AT_A_STRETCH: Final = 0.00025
"""Seconds of work after which others are served, at the next place for it: less would cost more than they gain."""
TOLD_EVERY: Final = 0.1
"""Seconds from one word of progress to the next, at the least."""
STILL_EVERY: Final = 1.0
"""Seconds after which the last word is said again while one part goes on."""


async def done(found: Any) -> Any:
    """Return a reply: the one given, or the one that work done in parts ends in.

    A heading style's time is kept in this thread only, so what has to do with styles is done here.
    """
    if not isinstance(found, Generator):
        return found
    sent, began = None, time.monotonic()
    while True:
        try:
            part = found.send(sent)
        except StopIteration as end:
            return end.value
        sent = None
        if callable(part):
            sent = await asyncio.to_thread(part)
        elif time.monotonic() - began >= AT_A_STRETCH:
            await asyncio.sleep(0)
        else:
            continue
        began = time.monotonic()


async def telling(found: Generator[Any, Any, Any]) -> AsyncIterator[Any]:
    """Yield how far work is as it goes on, and at last the reply that it ends in."""
    sent: Any = None
    last, told = None, 0.0
    while True:
        try:
            part = found.send(sent)
        except StopIteration as end:
            yield end.value
            return
        if callable(part):
            doing = asyncio.create_task(asyncio.to_thread(part))
            while not (await asyncio.wait({doing}, timeout=STILL_EVERY))[0]:
                yield last
            sent = doing.result()
            continue
        if isinstance(part, Progress):
            last = part
            if time.monotonic() - told >= TOLD_EVERY:
                told = time.monotonic()
                yield part
        await asyncio.sleep(0)
        sent = None
