"""Work that takes long, done so that others are served between its parts."""

import asyncio
from collections.abc import Generator
from typing import Any


async def done(found: Any) -> Any:
    """Return a reply: the one given, or the one that work done in parts ends in.

    A heading style's time is kept in this thread only, so what has to do with styles is done here.
    """
    if not isinstance(found, Generator):
        return found
    sent = None
    while True:
        try:
            part = found.send(sent)
        except StopIteration as end:
            return end.value
        sent = await (asyncio.to_thread(part) if part else asyncio.sleep(0))
