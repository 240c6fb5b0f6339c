"""The rate book: read from one TOML file with every fault at once, and looked up by name."""

import hashlib
import re
import tomllib
from collections.abc import Sequence
from decimal import Decimal, InvalidOperation
from typing import Any, Final

import msgspec

from pleatwright.contract.checking import Checker, echo, with_figures
from pleatwright.faults import Fault, Path
from pleatwright.pricing.currency import exactly, minor_units, rounded
from pleatwright.pricing.entries import Cloth, Discount, Hardware, Labour, Layer, Rates
from pleatwright.pricing.figures import FIGURES, why_not
from pleatwright.pricing.meaning import meaning_faults

LARGEST: Final = 1_000_000
"""Bytes in the largest file that is read."""
LONGEST_LINE: Final = 4000
"""Bytes in the longest line: the parser's time grows with the square of a key's length."""
MOST_ENTRIES: Final = 2000
_LARGEST_NUMBER: Final = 10**15
_BYTE_ORDER_MARK: Final = b"\xef\xbb\xbf"
_PLACE: Final = re.compile(r" \(at (?:line ([0-9]+), column ([0-9]+)|end of document)\)$")


class BookError(ValueError):
    """A file that is no rate book, with every fault. The message holds no figure of it; a fault's `seen` may."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        super().__init__("; ".join(fault.detail for fault in faults))
        self.faults = list(faults)


class RateBook:
    """A sound rate book. `rates` is all that stands in it, and `digest` tells one file from another.

    Names are looked up exactly as the book has them.
    """

    def __init__(self, rates: Rates, digest: str) -> None:
        self.rates: Final = rates
        self.digest: Final = digest
        self.minor_units: Final = minor_units(rates.currency)
        self._cloth = {each.name: each for each in rates.cloth}
        self._hardware = {each.kind: each for each in rates.hardware}
        self._labour = {style: each for each in rates.labour for style in each.styles or (None,)}
        self._asked = {each.name: each for each in rates.discount if each.asked}

    @property
    def edition(self) -> str:
        """What the book says of itself, to stand beside every price."""
        return self.rates.edition

    @property
    def currency(self) -> str:
        """The ISO 4217 code of the currency that all its money is in."""
        return self.rates.currency

    def cloth(self, name: str) -> Cloth | None:
        """Return the cloth of this name, if there is one."""
        return self._cloth.get(name)

    def usual_cloth(self, layer: Layer) -> Cloth | None:
        """Return the cloth that a layer is of when the job does not name one, if the book says."""
        name: str | None = getattr(self.rates.usual_layers, layer)
        return None if name is None else self._cloth[name]

    def hardware(self, kind: str) -> Hardware | None:
        """Return the hardware of this kind, if there is any."""
        return self._hardware.get(kind)

    def labour(self, style: str) -> Labour | None:
        """Return what a style's labour is charged at: its own entry, else the one for all other styles, if any."""
        return self._labour.get(style) or self._labour.get(None)

    def discount(self, name: str) -> Discount | None:
        """Return the discount of this name that a job may ask for, if there is one."""
        return self._asked.get(name)

    def selling_rate(self, entry: Cloth | Hardware) -> Decimal:
        """Return what one metre, yard or piece sells for: its price, else cost with markup to 4 decimals, half to even.

        The amount is worked from this rate as shown, so that a customer's calculator finds the same.
        """
        if entry.price is not None:
            return entry.price
        usual = self.rates.markup.cloth if isinstance(entry, Cloth) else self.rates.markup.hardware
        markup = usual if entry.markup is None else entry.markup
        with exactly():
            return rounded((entry.cost or Decimal(0)) * (1 + markup / 100), 4, "half-even")


def read_book(data: bytes) -> RateBook:
    """Return the rate book in the bytes of a file. Raises BookError with every fault there is."""
    try:
        return RateBook(_rates(data), hashlib.sha256(data).hexdigest()[:12])
    except RecursionError:
        raise BookError([Fault((), "this is nested too deeply: no rate book needs ten levels")]) from None


def _rates(data: bytes) -> Rates:
    faults: dict[Path, Fault] = {}
    document = _with_sound_numbers(_parsed(data), (), faults)
    if not data.endswith(b"\n"):
        # Of a file that is still being written, 1.5 would be taken for what is to be 1.55.
        faults[()] = Fault((), "the file ends within a line, as if cut short: end it with a line break")
    if sum(len(table) for table in document.values() if isinstance(table, list)) > MOST_ENTRIES:
        raise BookError([Fault((), f"this has over {MOST_ENTRIES:,} entries, more than a rate book is read with")])
    for fault in _CHECKER.faults(document):
        faults.setdefault(fault.where, fault)
    try:
        # Figures out of bounds are no hindrance to this, so what they are beside is looked at as well.
        rates = msgspec.convert(document, Rates)
    except msgspec.ValidationError:
        raise BookError(list(faults.values())) from None
    for fault in meaning_faults(rates):
        faults.setdefault(fault.where, fault)
    if faults:
        raise BookError(list(faults.values()))
    return rates


def _parsed(data: bytes) -> dict[str, Any]:
    if len(data) > LARGEST:
        raise BookError([Fault((), f"the file is over {LARGEST:,} bytes, too large for a rate book")])
    if data.startswith(_BYTE_ORDER_MARK):
        raise BookError([Fault((), "the file starts with a byte order mark: save it as UTF-8 without one")])
    lines = data.split(b"\n")
    try:
        text = data.decode()
    except UnicodeDecodeError as error:
        number = data.count(b"\n", 0, error.start) + 1
        raise BookError([Fault((), f"line {number} is not UTF-8: save the file as UTF-8")]) from None
    for number, each in enumerate(lines, 1):
        if len(each) > LONGEST_LINE:
            raise BookError([Fault((), f"line {number} is over {LONGEST_LINE:,} bytes: break it")])
    try:
        return tomllib.loads(text, parse_float=_decimal)
    except tomllib.TOMLDecodeError as error:
        # The parser's own words may repeat what stands in the file.
        reason = str(error)
        place = _PLACE.search(reason)
        at = f"line {place[1]}, column {place[2]}" if place and place[1] else f"line {len(lines)}, the last"
        detail = f"this is not TOML from {at}: put it right there or just before"
        raise BookError([Fault((), detail, _PLACE.sub("", reason))]) from None


def _decimal(text: str) -> Decimal:
    try:
        value = Decimal(text)
    except InvalidOperation:
        return Decimal("NaN")
    if not value:
        return Decimal(0)
    # A line shows its rate, as 1500 and not as 1.5E+3.
    return Decimal(f"{value:f}") if value.is_finite() and abs(value.adjusted()) < 20 else value


def _with_sound_numbers(value: Any, where: Path, faults: dict[Path, Fault]) -> Any:
    """Put 1, which is right anywhere, for what can be compared with nothing or is beyond any bound, and find fault."""
    if isinstance(value, dict):
        return {key: _with_sound_numbers(each, (*where, key), faults) for key, each in value.items()}
    if isinstance(value, list):
        return [_with_sound_numbers(each, (*where, at), faults) for at, each in enumerate(value)]
    if isinstance(value, Decimal) and not value.is_finite():
        faults[where] = Fault(where, "this is no number that can be reckoned with: check the figure", echo(value))
        return 1
    if isinstance(value, int) and abs(value) > _LARGEST_NUMBER:
        faults[where] = Fault(where, "this is over a thousand million: check the figure", echo(value))
        return 1
    return value


def _schema() -> Any:
    (whole,), components = msgspec.json.schema_components([Rates])
    return with_figures(whole | {"$defs": components}, FIGURES)


_CHECKER: Final = Checker(_schema(), why_not)
