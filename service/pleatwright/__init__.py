"""The arithmetic of a drapery workroom, with every heading style a plugin."""

__version__ = "0.1.0"
