"""The command `pleatwright`. What it does is loaded when it is run, since that takes a second or two."""

import os
import signal
import sys
from collections.abc import Sequence


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return 0 when done, 1 when the figures are wrong, 2 when it cannot start."""
    if arguments is None and sys.argv[1:2] == ["serve"]:
        _end_when_told()
    from pleatwright.command.dispatch import dispatch

    return dispatch(arguments)


def _end_when_told() -> None:
    """Take SIGTERM from now on, until the server takes it: nothing is begun, so there is nothing to finish.

    The first process of a container has no SIGTERM unless it asks for it, and would be waited for until it is killed.
    An exception would not do, for it would be laid to the plugin that is just being loaded.
    """
    signal.signal(signal.SIGTERM, lambda _number, _frame: os._exit(0))
