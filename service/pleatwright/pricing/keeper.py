"""Keeps the rate book that is in force, and takes a new one when its file has changed and is sound."""

import logging
import os
import re
import threading
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

from pleatwright.faults import Fault
from pleatwright.pricing.book import LARGEST, BookError, RateBook, read_book

log: Final = logging.getLogger(__name__)

SETTLED: Final = 2_000_000_000
"""Nanoseconds after which two changes of a file differ in its time, whatever the file system's clock ticks in."""
_FIELD: Final = re.compile("[A-Za-z_]{1,40}")

Stamp = tuple[int, int, int]
"""When a file was changed, in nanoseconds, its size, and its inode."""
Check = Callable[[RateBook], Sequence[Fault]]


class Keeper:
    """Holds the rate book of a file.

    A request takes `current()` once and keeps what it got, so no two of its figures come from two books. `check` finds
    what is wrong with a book by what a layer above knows. `trouble` tells, without a figure, why the file that is there
    now is not in force; None when it is.

    Raises BookError when the file is no sound rate book to begin with, or cannot be read.
    """

    def __init__(self, path: Path, check: Check | None = None) -> None:
        self._path = path
        self._check = check
        self._lock = threading.Lock()
        self._stamp: Stamp | None = None
        self._bytes: bytes | None = None
        self.trouble: str | None = None
        try:
            self._stamp, self._bytes = _read(path)
        except OSError as error:
            raise BookError([Fault((), _unreadable(error))]) from None
        self._book = self._checked(self._bytes)

    def current(self) -> RateBook:
        """Return the book in force: the file's, read anew if it has changed, or the last one that was sound."""
        with self._lock:
            try:
                if _stamp_of(self._path.stat()) != self._stamp:
                    self._renew()
            except OSError as error:
                self._stamp = self._bytes = None
                trouble = f"the rate book {_unreadable(error)}; the last sound one is kept"
                if trouble != self.trouble:
                    self._report(trouble)
            return self._book

    def _renew(self) -> None:
        self._stamp, data = _read(self._path)
        if data == self._bytes:
            return
        self._bytes = data
        try:
            self._book = self._checked(data)
        except BookError as error:
            places = "; ".join(f"{_place(fault)}: {fault.detail}" for fault in error.faults)
            self._report(f"the rate book was changed and is faulty; the last sound one is kept: {places}")
        else:
            self.trouble = None
            log.info("rate book taken: %s", self._book.digest)

    def _checked(self, data: bytes) -> RateBook:
        book = read_book(data)
        if self._check and (faults := self._check(book)):
            raise BookError(faults)
        return book

    def _report(self, trouble: str) -> None:
        log.warning("%s", trouble)
        self.trouble = trouble


def _read(path: Path) -> tuple[Stamp | None, bytes]:
    """Return a file's stamp, None when it may change again without a new one, and its bytes."""
    with path.open("rb") as file:
        found = os.fstat(file.fileno())
        data = file.read(LARGEST + 1)
    settled = abs(time.time_ns() - found.st_mtime_ns) > SETTLED
    return (_stamp_of(found) if settled else None), data


def _stamp_of(found: os.stat_result) -> Stamp:
    return found.st_mtime_ns, found.st_size, found.st_ino


def _unreadable(error: OSError) -> str:
    return f"cannot be read: {error.strerror}"


def _place(fault: Fault) -> str:
    """Write a fault's place without what the file alone calls things, which may be anything."""
    parts = (str(part) if isinstance(part, int) or _FIELD.fullmatch(part) else "…" for part in fault.where)
    return "".join(f"/{part}" for part in parts) or "the file"
