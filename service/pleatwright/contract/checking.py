"""Finds everything that is wrong with a value at once, by its JSON Schema, and says it in words."""

import difflib
import re
from collections.abc import Callable, Container, Iterator, Sequence
from fractions import Fraction
from itertools import islice
from typing import Any, Final

import msgspec
from jsonschema import Draft202012Validator, ValidationError, validators

from pleatwright.faults import Fault, Path
from pleatwright.lengths import seen

Schema = dict[str, Any]
Keyword = Callable[[Any, Any, Any, Schema], Iterator[ValidationError]]
WhyNot = Callable[[str, Any], str | None]
"""Says why a value is none of the figures of a name, with a remedy; None when it is one."""

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


class Checker:
    """Checks values against one schema, whose figures, put in by `with_figures`, word their own faults."""

    def __init__(self, schema: Schema, why_not: WhyNot) -> None:
        self._validator = _validators(why_not)(schema)

    def faults(self, value: Any, most: int | None = None) -> list[Fault]:
        """Return the faults of `value`, one for each place: of the first `most` found, or of all."""
        faults: dict[Path, Fault] = {}
        for error in islice(self._validator.iter_errors(value), most):
            fault = _fault(error)
            faults.setdefault(fault.where, fault)
        return list(faults.values())


def with_figures(schema: Any, names: Container[str]) -> Any:
    """Put the keyword `figure` where a schema has, or refers to, a figure that words its own faults.

    >>> with_figures({"items": {"$ref": "#/$defs/Length", "description": "Of the rod."}}, ["Length"])
    {'items': {'figure': 'Length'}}
    """
    if isinstance(schema, list):
        return [with_figures(each, names) for each in schema]
    if not isinstance(schema, dict):
        return schema
    name = str(schema.get("$ref", schema.get("title"))).rpartition("/")[2]
    return {"figure": name} if name in names else {key: with_figures(each, names) for key, each in schema.items()}


def _validators(why_not: WhyNot) -> Any:
    def figure(_validator: Any, name: Any, instance: Any, _schema: Schema) -> Iterator[ValidationError]:
        if reason := why_not(name, instance):
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
            remedy = f'did you mean "{close[0]}"?' if close else "leave it out"
            return Fault(where, f"there is no field of this name: {remedy}", echo(value), ", ".join(asked))
        case "type":
            wanted = _NAMES_OF_TYPES[asked]
            return Fault(where, f"this must be {wanted}", echo(value), wanted)
        case "enum" | "const":
            choices = asked if error.validator == "enum" else [asked]
            listed = ", ".join(map(str, choices))
            close = difflib.get_close_matches(str(value)[:LONGEST_ECHO], [str(choice) for choice in choices], 1)
            remedy = (
                f'did you mean "{close[0]}"?'
                if close
                else f"choose {listed}"
                if len(listed) < 200
                else "choose another"
            )
            return Fault(where, f"this is not one of the choices: {remedy}", echo(value), listed)
        case "minimum":
            return Fault(where, f"this must be {asked:g} or more", echo(value), f"{asked:g} or more")
        case "maximum":
            return Fault(where, f"this must be {asked:g} or less", echo(value), f"{asked:g} or less")
        case "minLength" | "minItems" | "minProperties":
            counted = "characters" if error.validator == "minLength" else "entries"
            return Fault(where, f"this needs {asked} or more {counted}", echo(value), f"{asked} or more")
        case "maxLength" | "maxItems" | "maxProperties":
            counted = "characters" if error.validator == "maxLength" else "entries"
            return Fault(where, f"this takes up to {asked} {counted}", echo(value), f"up to {asked}")
        case "multipleOf":
            return Fault(where, f"this goes in steps of {asked:g}", echo(value), f"a multiple of {asked:g}")
        case _:
            return Fault(where, error.message, echo(value), asked if error.validator == "form" else None)


def echo(value: Any) -> str:
    """Repeat a value, short: what is long or nested is only named.

    >>> echo("84 ells"), echo(True), echo([84])
    ('84 ells', 'true', 'a list')
    """
    if isinstance(value, dict | list):
        return _NAMES_OF_TYPES["object" if isinstance(value, dict) else "array"]
    if isinstance(value, bool) or value is None:
        return msgspec.json.encode(value).decode()
    text = value if isinstance(value, str) else seen(value)
    return text if len(text) <= LONGEST_ECHO else text[:LONGEST_ECHO] + "…"
