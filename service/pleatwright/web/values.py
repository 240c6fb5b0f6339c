"""Values of settings: text of a variable or what TOML has, read strictly, each fault worded with its remedy.

What may hold a key is never repeated.
"""

import os
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final
from urllib.parse import urlsplit

from pleatwright.web.keys import DIGEST

Reader = Callable[[Any, Path], Any]
"""Reads a value; a relative path is taken from the folder given. Raises ValueError with what to set."""

LONGEST_ECHO: Final = 40
_NAME: Final = re.compile("[a-z0-9][a-z0-9-]{0,39}")
_HOST: Final = re.compile(r"[a-z0-9]([a-z0-9.-]*[a-z0-9])?|\[[0-9a-f:.]+\]")


def short(value: Any) -> str:
    """Repeat a value that is no secret, cut short.

    >>> short("maybe"), len(short("x" * 5000))
    ("'maybe'", 43)
    """
    text = repr(value)
    return text if len(text) <= LONGEST_ECHO + 2 else text[: LONGEST_ECHO + 2] + "…"


def switch(value: Any, _folder: Path) -> bool:
    """Read 0 or 1, or what TOML has for them.

    >>> switch("1", Path()), switch(False, Path())
    (True, False)
    """
    if isinstance(value, bool):
        return value
    if value not in ("0", "1"):
        raise ValueError(f"is {short(value)}: set it to 0 or 1")
    return bool(value == "1")


def whole(what: str, least: int, most: int) -> Reader:
    """Return a reader of whole numbers within limits, called `what`."""

    def read(value: Any, _folder: Path) -> int:
        digits = isinstance(value, str) and value.isascii() and value.isdecimal() and len(value) < 12
        number = int(value) if digits or (isinstance(value, int) and not isinstance(value, bool)) else -1
        if not least <= number <= most:
            raise ValueError(f"is {short(value)}: set it to {what}, {least} or more, up to {most}")
        return number

    return read


def seconds(least: float, most: float) -> Reader:
    """Return a reader of seconds within limits."""

    def read(value: Any, _folder: Path) -> float:
        plain = isinstance(value, str) and re.fullmatch(r"[0-9]{1,6}(\.[0-9]{1,6})?", value, re.ASCII)
        number = float(value) if plain or (isinstance(value, int | float) and not isinstance(value, bool)) else -1
        if not least <= number <= most:
            raise ValueError(f"is {short(value)}: set it to seconds, {least:g} to {most:g}")
        return number

    return read


def choice(*words: str) -> Reader:
    """Return a reader of one of these words."""

    def read(value: Any, _folder: Path) -> str:
        if value not in words:
            raise ValueError(f"is {short(value)}: set it to {' or '.join(words)}")
        return str(value)

    return read


def path(value: Any, folder: Path) -> Path | None:
    """Read the name of a file, none for nothing."""
    if not isinstance(value, str):
        raise ValueError(f"is {short(value)}: set it to the name of a file")  # noqa: TRY004 - a fault of the settings
    return folder / value if value else None


def folder_or(word: str) -> Reader:
    """Return a reader of a folder that can be written in, None for the word."""

    def read(value: Any, folder: Path) -> Path | None:
        if value == word:
            return None
        found = folder / value if isinstance(value, str) and value else None
        if found is None or not found.is_dir() or not os.access(found, os.W_OK | os.X_OK):
            raise ValueError(f"is {short(value)}: set it to {word} or a folder that is there and can be written in")
        return found

    return read


def digests(value: Any, _folder: Path) -> tuple[str, ...]:
    """Read digests of keys."""
    found = _entries(value)
    if not all(DIGEST.fullmatch(each) for each in found):
        # What stands there may be a key itself, and is not repeated.
        raise ValueError("holds what is no digest: set it to the digests that `pleatwright key` prints")
    return tuple(found)


def named_digests(value: Any, _folder: Path) -> tuple[tuple[str, str], ...]:
    """Read digests of keys with the customers' names; one without a name is a customer by itself."""
    found: dict[str, str] = {}
    for entry in _entries(value):
        name, colon, digest = entry.rpartition(":")
        if not DIGEST.fullmatch(digest) or (colon and not _NAME.fullmatch(name)):
            raise ValueError(
                "holds what is no digest of a customer's key: set it to digests that `pleatwright key` prints, each "
                "by itself or as name:digest, the name in small letters, digits and hyphens"
            )
        if found.setdefault(digest, name or digest) != (name or digest):
            raise ValueError("has one key for two customers: give each their own")
    return tuple(found.items())


def origins(value: Any, _folder: Path) -> tuple[str, ...]:
    """Read origins of pages, each in full, or the one sign for all.

    >>> origins("https://shop.example", Path())
    ('https://shop.example',)
    """
    found = _entries(value)
    if found == ["*"]:
        return ("*",)
    for number, entry in enumerate(found, 1):
        if not _is_origin(entry):
            # Part of an address may be a password, so that only its number is told.
            raise ValueError(
                f"has, as entry {number}, what is no origin: write scheme://host or scheme://host:port in small "
                "letters with nothing after it, or * by itself for all"
            )
    return tuple(found)


def _is_origin(entry: str) -> bool:
    """Return whether an entry is what a browser sends as Origin: the port only where it is not the usual one."""
    try:
        parts = urlsplit(entry)
        host, port = parts.netloc, parts.port
    except ValueError:
        return False
    if port is not None:
        host = host.removesuffix(f":{port}")
    usual = {"http": 80, "https": 443}
    return (
        parts.scheme in usual
        and port not in (0, usual[parts.scheme])
        and entry == f"{parts.scheme}://{parts.netloc}"
        and _HOST.fullmatch(host) is not None
    )


def _entries(value: Any) -> list[str]:
    """Return the entries of a list, or of a text with spaces or commas between them."""
    if isinstance(value, str):
        return value.replace(",", " ").split()
    if isinstance(value, list) and all(isinstance(each, str) for each in value):
        return value
    raise ValueError("is no list of texts: set it to one")
