"""Reads a request's bytes: fast when they are right, and with every fault at once when they are not."""

import difflib
import re
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import islice
from typing import Any, Final

import msgspec
from jsonschema import Draft202012Validator, ValidationError, validators

from pleatwright.contract import scalars
from pleatwright.contract.openapi import COMPONENTS, Schema, document, request_type
from pleatwright.contract.operations import OPERATIONS
from pleatwright.contract.problems import MOST_FAULTS
from pleatwright.faults import Fault, Path
from pleatwright.lengths import UNITS, quoted

LONGEST_ECHO: Final = 60
"""Characters of a client's own text that a fault repeats."""
_NAMES_OF_TYPES: Final = {
    "string": "a text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "object": "an object",
    "array": "a list",
    "null": "null",
}


class UnreadableError(ValueError):
    """Bytes that are no request: not JSON at all, as `detail` tells, or against the contract, as `faults` tell."""

    def __init__(self, detail: str | None, *faults: Fault) -> None:
        super().__init__(detail or "; ".join(fault.detail for fault in faults))
        self.detail = detail
        self.faults = faults


class RequestReader:
    """Reads the requests of every operation, for the styles that are installed."""

    def __init__(self, options: Any) -> None:
        schemas = _with_figures(document(options)["components"]["schemas"])
        posts = [each for each in OPERATIONS if each.request]
        self._types = {each.name: request_type(each, options) for each in posts}
        self._decoders = {name: msgspec.json.Decoder(kind) for name, kind in self._types.items()}
        self._validators = {
            (each.name, units): _validator_for(units)(
                {"$ref": COMPONENTS + each.request.__name__, "components": {"schemas": schemas}}
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
            errors = self._validators[operation, known].iter_errors(value)
            faults: dict[Path, Fault] = {}
            for error in islice(errors, MOST_FAULTS):
                fault = _fault(error)
                faults.setdefault(fault.where, fault)
            return list(faults.values())
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


def _with_figures(schema: Any) -> Any:
    """Put the keyword `figure` where the document refers to a figure that words its own faults."""
    if isinstance(schema, list):
        return [_with_figures(each) for each in schema]
    if not isinstance(schema, dict):
        return schema
    name = str(schema.get("$ref", "")).removeprefix(COMPONENTS)
    return {"figure": name} if name in scalars.SCHEMAS else {key: _with_figures(each) for key, each in schema.items()}


Keyword = Callable[[Any, Any, Any, Schema], Iterator[ValidationError]]


def _validator_for(units: str) -> Any:
    def figure(_validator: Any, name: Any, instance: Any, _schema: Schema) -> Iterator[ValidationError]:
        if reason := scalars.why_not(name, instance, units):
            yield ValidationError(reason)

    keywords: dict[str, Keyword] = {
        "figure": figure,
        "anyOf": _any_of,
        "oneOf": _one_of,
        "required": _required,
        "additionalProperties": _additional_properties,
        "multipleOf": _multiple_of,
        "pattern": _pattern,
    }
    extend: Callable[..., Any] = validators.extend
    return extend(Draft202012Validator, keywords)


def _any_of(validator: Any, branches: Sequence[Schema], instance: Any, _schema: Schema) -> Iterator[ValidationError]:
    """Find a field that may be null at fault for what it is otherwise."""
    wanted = [branch for branch in branches if branch != {"type": "null"}]
    if instance is not None or len(wanted) == len(branches):
        yield from validator.descend(instance, wanted[0])


def _one_of(validator: Any, _branches: Any, instance: Any, schema: Schema) -> Iterator[ValidationError]:
    """Find a choice at fault for its name or, when that is known, for what goes with the name."""
    field, mapping = schema["discriminator"]["propertyName"], schema["discriminator"]["mapping"]
    if not isinstance(instance, dict):
        yield ValidationError("", validator="type", validator_value="object", instance=instance)
    elif field not in instance:
        yield ValidationError("", validator="missing", validator_value=field, path=[field])
    elif not isinstance(instance[field], str) or instance[field] not in mapping:
        yield ValidationError(
            "", validator="enum", validator_value=list(mapping), instance=instance[field], path=[field]
        )
    else:
        yield from validator.descend(instance, {"$ref": mapping[instance[field]]})


def _required(_validator: Any, fields: Sequence[str], instance: Any, _schema: Schema) -> Iterator[ValidationError]:
    if isinstance(instance, dict):
        for field in fields:
            if field not in instance:
                yield ValidationError("", validator="missing", validator_value=field, path=[field])


def _additional_properties(validator: Any, allowed: Any, instance: Any, schema: Schema) -> Iterator[ValidationError]:
    known = schema.get("properties", {})
    for field in instance if isinstance(instance, dict) else ():
        if field in known:
            continue
        if allowed is False:
            yield ValidationError("", validator="unknown", validator_value=list(known), instance=field, path=[field])
        else:
            yield from validator.descend(instance[field], allowed, path=field)


def _pattern(_validator: Any, pattern: str, instance: Any, schema: Schema) -> Iterator[ValidationError]:
    """Find a text at fault for its form, and show the forms that are read."""
    if isinstance(instance, str) and not re.search(pattern, instance):
        forms = " or ".join(schema.get("examples", ()))
        message = f"this is not in the form that is read: write it as {forms}"
        yield ValidationError(message, validator="form", validator_value=forms, instance=instance)


def _multiple_of(_validator: Any, step: float, instance: Any, _schema: Schema) -> Iterator[ValidationError]:
    """Check in fractions: a number too large to be a float has no remainder as one."""
    if isinstance(instance, int | float) and not isinstance(instance, bool) and Fraction(instance) % Fraction(step):
        yield ValidationError("")


def _fault(error: ValidationError) -> Fault:
    where: Path = tuple(part if isinstance(part, int) else part[:LONGEST_ECHO] for part in error.absolute_path)
    value: Any = error.instance
    asked: Any = error.validator_value
    match error.validator:
        case "missing":
            return Fault(where, f"{asked} is missing: add it", allowed="required")
        case "unknown":
            close = difflib.get_close_matches(str(value)[:LONGEST_ECHO], asked, 1)
            remedy = f"did you mean {close[0]}" if close else "leave it out"
            return Fault(where, f"there is no field of this name: {remedy}", _echo(value), ", ".join(asked))
        case "type":
            wanted = _NAMES_OF_TYPES[asked]
            return Fault(where, f"this must be {wanted}", _echo(value), wanted)
        case "enum" | "const":
            choices = asked if error.validator == "enum" else [asked]
            listed = ", ".join(map(str, choices))
            close = difflib.get_close_matches(str(value)[:LONGEST_ECHO], [str(choice) for choice in choices], 1)
            remedy = (
                f"did you mean {close[0]}" if close else f"choose {listed}" if len(listed) < 200 else "choose another"
            )
            return Fault(where, f"this is not one of the choices: {remedy}", _echo(value), listed)
        case "minimum":
            return Fault(where, f"this must be {asked:g} or more", _echo(value), f"{asked:g} or more")
        case "maximum":
            return Fault(where, f"this must be {asked:g} or less", _echo(value), f"{asked:g} or less")
        case "minLength" | "minItems" | "minProperties":
            counted = "characters" if error.validator == "minLength" else "entries"
            return Fault(where, f"this needs {asked} or more {counted}", _echo(value), f"{asked} or more")
        case "maxLength" | "maxItems" | "maxProperties":
            counted = "characters" if error.validator == "maxLength" else "entries"
            return Fault(where, f"this takes up to {asked} {counted}", _echo(value), f"up to {asked}")
        case "multipleOf":
            return Fault(where, f"this goes in steps of {asked:g}", _echo(value), f"a multiple of {asked:g}")
        case _:
            return Fault(where, error.message, _echo(value), asked if error.validator == "form" else None)


def _echo(value: Any) -> str:
    """Repeat a client's value, short: what is long or nested is only named."""
    if isinstance(value, dict | list):
        return _NAMES_OF_TYPES["object" if isinstance(value, dict) else "array"]
    if isinstance(value, bool) or value is None:
        return msgspec.json.encode(value).decode()
    if not isinstance(value, str):
        return quoted(value)
    return value if len(value) <= LONGEST_ECHO else value[:LONGEST_ECHO] + "…"
