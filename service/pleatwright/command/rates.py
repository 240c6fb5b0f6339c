"""The command `pleatwright rates check`, and the rate book that other commands work by."""

import sys
from collections.abc import Iterator
from pathlib import Path

from pleatwright import workroom
from pleatwright.command.outcome import DONE, WRONG_FIGURES, complain
from pleatwright.faults import Fault, json_pointer
from pleatwright.headings.host import Headings
from pleatwright.pricing.book import LARGEST, BookError, RateBook, read_book


def open_book(file: str) -> RateBook:
    """Return the rate book in a file. Raises BookError with every fault there is."""
    try:
        with Path(file).open("rb") as opened:
            book = read_book(opened.read(LARGEST + 1))
    except OSError as error:
        raise BookError([Fault((), f"the file cannot be read: {error.strerror}")]) from None
    if faults := workroom.book_faults(book):
        raise BookError(faults)
    return book


def check_rates(file: str, headings: Headings) -> int:
    """Print whether a rate book is sound, and what in it may not be meant; or everything that is wrong with it."""
    try:
        book = open_book(file)
    except BookError as error:
        return complain(f"{file}: NOT SOUND", WRONG_FIGURES, error.faults, whole="the file")
    rates = book.rates
    sys.stdout.write(
        f"{file}: sound\n"
        f"  edition {book.edition}, in {book.currency}, {rates.rounding} to {book.minor_units} decimals\n"
        f"  entries: cloth {len(rates.cloth)}, labour {len(rates.labour)}, surcharge {len(rates.surcharge)}, "
        f"hardware {len(rates.hardware)}, discount {len(rates.discount)}\n"
    )
    sys.stdout.writelines(f"note: {note}\n" for note in _notes(book, headings))
    sys.stdout.flush()
    return DONE


def _notes(book: RateBook, headings: Headings) -> Iterator[str]:
    """Yield what is no fault of a rate book and may yet not be meant."""
    for at, labour in enumerate(book.rates.labour):
        for place, style in enumerate(labour.styles or ()):
            if style not in headings.installed:
                yield f"{json_pointer(('labour', at, 'styles', place))}: no style {style!r} is installed"
    for style in headings.installed:
        if book.labour(style) is None:
            yield f"there is no labour rate for the style {style}"
