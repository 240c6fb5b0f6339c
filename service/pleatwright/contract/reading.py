"""Reads a request's bytes: fast when they are right, and with every fault at once when they are not."""

from functools import partial
from typing import Any

import msgspec

from pleatwright.contract import scalars
from pleatwright.contract.checking import Checker, with_figures
from pleatwright.contract.openapi import COMPONENTS, document, request_type
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.problems import MOST_FAULTS
from pleatwright.faults import Fault
from pleatwright.lengths import UNITS


class UnreadableError(ValueError):
    """Bytes that are no request: not JSON at all, as `detail` tells, or against the contract, as `faults` tell."""

    def __init__(self, detail: str | None, *faults: Fault) -> None:
        super().__init__(detail or "; ".join(fault.detail for fault in faults))
        self.detail = detail
        self.faults = faults


class RequestReader:
    """Reads the requests of every operation, for the styles that are installed."""

    def __init__(self, options: Any) -> None:
        schemas = with_figures(document(options)["components"]["schemas"], scalars.SCHEMAS)
        posts = [each for each in OPERATIONS if each.request]
        self._types = {each.name: request_type(each, options) for each in posts}
        self._decoders = {name: msgspec.json.Decoder(kind) for name, kind in self._types.items()}
        self._checkers = {
            (each.name, units): Checker(
                {"$ref": COMPONENTS + each.request.__name__, "components": {"schemas": schemas}},
                partial(scalars.why_not, units=units),
            )
            for each in posts
            for units in UNITS
        }

    def read(self, operation: str, body: bytes) -> Any:
        """Return the request in `body`. Raises UnreadableError with every fault there is."""
        try:
            return self._decoders[operation].decode(body)
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
            if faults := self.faults(operation, body):
                raise UnreadableError(None, *faults) from None
            # JSON Schema takes 6.0 for a whole number; msgspec does not.
            value = _whole_numbers(msgspec.json.decode(body))
            return msgspec.convert(value, self._types[operation])

    def faults(self, operation: str, body: bytes) -> list[Fault]:
        """Return what in `body` is against the contract. Raises UnreadableError when it is not JSON."""
        try:
            value = msgspec.json.decode(body)
            units = value.get("units") if isinstance(value, dict) else None
            known = units if isinstance(units, str) and units in UNITS else UNITS[0]
            return self._checkers[operation, known].faults(value, MOST_FAULTS)
        except msgspec.DecodeError as error:
            raise UnreadableError(f"The request is not JSON that can be read: {error}.") from None
        except UnicodeDecodeError:
            raise UnreadableError("The request is not JSON: its text is not UTF-8.") from None
        except RecursionError:
            raise UnreadableError("The request is nested too deeply: no request needs more than ten levels.") from None


def _whole_numbers(value: Any) -> Any:
    if isinstance(value, float) and value.is_integer():
        return int(value)
    if isinstance(value, list):
        return [_whole_numbers(each) for each in value]
    return {key: _whole_numbers(each) for key, each in value.items()} if isinstance(value, dict) else value
