"""Reads a request's bytes: fast when they are right, and with every fault at once when they are not."""

import json
from collections import Counter
from collections.abc import Iterator
from functools import cached_property, partial
from typing import Any, Final

import msgspec

from pleatwright.contract import scalars
from pleatwright.contract.checking import LONGEST_ECHO, Checker, Schema, echo, with_figures
from pleatwright.contract.openapi import COMPONENTS, document, request_type
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.problems import MOST_FAULTS
from pleatwright.faults import Fault, Path
from pleatwright.lengths import UNITS, Units


class UnreadableError(ValueError):
    """Bytes that are no request: not JSON at all, as `detail` tells, or against the contract, as `faults` tell."""

    def __init__(self, detail: str | None, *faults: Fault) -> None:
        super().__init__(detail or "; ".join(fault.detail for fault in faults))
        self.detail = detail
        self.faults = faults


class RequestReader:
    """Reads the requests of every operation, for the styles that are installed."""

    def __init__(self, options: Any, described: Schema | None = None) -> None:
        """Read requests by the types of these options; a document already made of them, `described`, tells faults.

        It is looked into when there is a fault, and made then if it was not.
        """
        self._options = options
        self._described = described
        self._posts = {each.name: each for each in OPERATIONS if each.request}
        self._types = {name: request_type(each, options) for name, each in self._posts.items()}
        self._decoders = {name: msgspec.json.Decoder(kind) for name, kind in self._types.items()}
        self._checkers: dict[tuple[str, Units], Checker] = {}

    @cached_property
    def _schemas(self) -> Schema:
        described = self._described or document(self._options)
        schemas: Schema = with_figures(described["components"]["schemas"], scalars.SCHEMAS)
        return schemas

    def _checker(self, operation: str, units: Units) -> Checker:
        if (operation, units) not in self._checkers:
            name = self._posts[operation].request.__name__
            schema = {"$ref": COMPONENTS + name, "components": {"schemas": self._schemas}}
            self._checkers[operation, units] = Checker(schema, partial(scalars.why_not, units=units))
        return self._checkers[operation, units]

    def read(self, operation: str, body: bytes) -> Any:
        """Return the request in `body`. Raises UnreadableError with every fault there is."""
        try:
            request = self._decoders[operation].decode(body)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
            if faults := self.faults(operation, body):
                raise UnreadableError(None, *faults) from None
            # JSON Schema takes 6.0 for a whole number; msgspec does not.
            value = _whole_numbers(msgspec.json.decode(body))
            return msgspec.convert(value, self._types[operation])
        if faults := _given_twice(body):
            raise UnreadableError(None, *faults)
        return request

    def faults(self, operation: str, body: bytes) -> list[Fault]:
        """Return what in `body` is against the contract. Raises UnreadableError when it is not JSON."""
        try:
            value = msgspec.json.decode(body)
            units = value.get("units") if isinstance(value, dict) else None
            known = next((each for each in UNITS if each == units), UNITS[0])
            faults = [*_given_twice(body), *self._checker(operation, known).faults(value, MOST_FAULTS)]
            return faults[:MOST_FAULTS]
        except msgspec.DecodeError as error:
            raise UnreadableError(f"The request is not JSON that can be read: {error}.") from None
        except UnicodeDecodeError:
            raise UnreadableError("The request is not JSON: its text is not UTF-8.") from None
        except RecursionError:
            raise UnreadableError("The request is nested too deeply: no request needs more than ten levels.") from None


class _TwiceError(Exception):
    """An object has a field twice."""


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    given = dict(pairs)
    if len(given) < len(pairs):
        raise _TwiceError
    return given


_CHECK: Final = json.JSONDecoder(object_pairs_hook=_once, parse_int=str, parse_float=str)


def _given_twice(body: bytes) -> list[Fault]:
    """Return the fields that an object has twice, of which a reader can only guess which was meant.

    RFC 8259 leaves open what comes of them, and msgspec takes the last without a word.
    """
    try:
        _CHECK.decode(body.decode())
    except _TwiceError:
        return _twice_faults(body)
    return []


def _twice_faults(body: bytes) -> list[Fault]:
    found: list[tuple[dict[str, Any], str]] = []

    def once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        given = dict(pairs)
        if len(given) < len(pairs):
            counts = Counter(name for name, _ in pairs)
            found.extend((given, name) for name, count in counts.items() if count > 1)
        return given

    value = json.loads(body, object_pairs_hook=once, parse_int=str)
    places = {id(place): where for place, where in _objects(value, ())}
    detail = "this is given more than once: give it once"
    return [
        Fault((*places[id(given)], name) if len(name) <= LONGEST_ECHO else places[id(given)], detail, echo(name))
        for given, name in found[:MOST_FAULTS]
        if id(given) in places
    ]


def _objects(value: Any, where: Path) -> Iterator[tuple[dict[str, Any], Path]]:
    if isinstance(value, dict):
        yield value, where
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, each in inner:
        yield from _objects(each, (*where, name))


def _whole_numbers(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_whole_numbers(each) for each in value]
    return {key: _whole_numbers(each) for key, each in value.items()} if isinstance(value, dict) else value
