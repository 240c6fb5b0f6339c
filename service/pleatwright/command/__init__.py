"""The command `pleatwright`."""

from pleatwright.command.main import main

__all__ = ["main"]
