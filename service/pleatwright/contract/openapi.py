"""The OpenAPI 3.1 document, built from the message types and the table of operations.

msgspec describes the types; what it cannot know is put in here: the two figures that have a component of their own,
the choice of a style by its name, and plain names for types that are generic in the styles' options.
"""

import json
from typing import Any, Final

import msgspec

from pleatwright import __version__
from pleatwright.contract import choices, scalars, usage
from pleatwright.contract.about import Problem
from pleatwright.contract.operations import NDJSON, OPERATIONS, Operation
from pleatwright.contract.papers import HTML, PDF, SVG, Parameter
from pleatwright.contract.problems import KINDS, MEDIA_TYPE
from pleatwright.lengths import LONGEST_TEXT, PATTERN

Schema = dict[str, Any]
COMPONENTS: Final = "#/components/schemas/"
RESPONSES: Final = "#/components/responses/"
KEYS: Final = {
    "customer_key": "A customer's key, where the service has customers: for all but the workroom's own.",
    "workroom_key": "The workroom's key: for its own view of a price and for discounts by name, and all the rest.",
}
ALWAYS: Final = (400, 500)
"""400 is there for a request without a sound Host, whatever it asks for."""
WITH_BODY: Final = (408, 413, 415, 422)
HEADERS: Final = {
    401: ("WWW-Authenticate", "Bearer, with the scope of the key that is needed: customer or workroom."),
    429: ("Retry-After", "Seconds to wait."),
    503: ("Retry-After", "Seconds to wait."),
}

_DESCRIPTION: Final = (
    "The arithmetic of a drapery workroom. Send measurements; receive everything needed to cut, sew, mark and hang "
    "pleated panels.\n\n"
    "Nothing is stored: the same request to the same version gives the same reply. Figures are estimates for a "
    "competent maker to check on the table; local codes and licensed practice come first.\n\n"
    "While addresses begin with /v1, what works goes on working. Replies may gain fields, and operations kinds of "
    "problems, so pass over fields that you do not know and take a status that you do not know by its first digit."
)

_LINES: Final[Schema] = {"type": "string", "format": "binary"}
"""Generated clients give and take lines as a file, whose lines need not all be there at once."""
_OTHERS: Final[dict[str, Schema]] = {
    NDJSON: _LINES,
    SVG: {"type": "string"},
    HTML: {"type": "string"},
    PDF: {"type": "string", "format": "binary"},
}
_GENERAL: Final = ("A length.", "A length that may be negative.", "Flat width divided by finished width.")
"""Descriptions that say no more than the component does."""
_TAGS: Final = (
    ("workroom", "From measurements to marks."),
    ("headings", "The heading styles."),
    ("service", "The service itself."),
)


def document(options: Any) -> Schema:
    """Return the document for the union of styles' options `options`."""
    types = [_request(each, options) for each in OPERATIONS if each.request] + [each.reply for each in OPERATIONS]
    described, components = msgspec.json.schema_components([*types, Problem], ref_template=COMPONENTS + "{name}")
    plain = _plain_names(components)
    references = {COMPONENTS + name: COMPONENTS + own for name, own in plain.items()}
    schemas = {plain[name]: _tidied(schema, references) for name, schema in components.items()} | scalars.SCHEMAS
    chosen = choices.named(schemas)
    schemas = choices.tidied(schemas, chosen) | chosen
    described = _tidied(list(described), references)
    requests = {each.name: described[at] for at, each in enumerate(each for each in OPERATIONS if each.request)}
    paths: dict[str, Schema] = {}
    for at, each in enumerate(OPERATIONS, len(requests)):
        operation = _operation(each, requests.get(each.name), described[at])
        paths.setdefault(each.path, {})[each.method.lower()] = operation
    return {
        "openapi": "3.1.0",
        "info": {
            "title": "Pleatwright",
            "version": __version__,
            "summary": "The arithmetic of a drapery workroom.",
            "description": _DESCRIPTION,
            "license": {"name": "MIT", "identifier": "MIT"},
        },
        "servers": [{"url": "/", "description": "The service that gave this document."}],
        "security": [],
        "tags": [{"name": name, "description": text} for name, text in _TAGS],
        "paths": usage.shown(choices.tidied(paths, chosen)),
        "components": {
            "schemas": dict(sorted(schemas.items())),
            "responses": {KINDS[status].name: _problem_response(status) for status in _problems_there_are()},
            "securitySchemes": {
                key: {"type": "http", "scheme": "bearer", "description": text} for key, text in KEYS.items()
            },
        },
    }


def written(described: Schema) -> bytes:
    """Return a document as it is served and committed."""
    return (json.dumps(described, indent=2, ensure_ascii=False) + "\n").encode()


def options_schema(options: Any) -> Schema:
    """Return the JSON Schema of one style's options, complete in itself."""
    _, components = msgspec.json.schema_components([options], ref_template=COMPONENTS + "{name}")
    schemas = {name: _tidied(schema, {}) for name, schema in components.items()}
    own = schemas.pop(options.__name__)
    whole = own | {"$defs": schemas | {"Length": scalars.SCHEMAS["Length"]}}
    schema: Schema = json.loads(json.dumps(whole).replace(COMPONENTS, "#/$defs/"))
    return schema


def request_type(operation: Operation, options: Any) -> Any:
    """Return the type of an operation's request, with the styles' options filled in."""
    return _request(operation, options)


def _request(operation: Operation, options: Any) -> Any:
    return operation.request[options] if operation.names_heading else operation.request


def _operation(operation: Operation, request: Schema | None, reply: Schema) -> Schema:
    described: Schema = {
        "operationId": operation.name,
        "tags": [operation.tag],
        "summary": operation.summary,
        "responses": {
            "200": {"description": "What was asked for.", "content": _content(operation, reply)},
            **{str(status): {"$ref": RESPONSES + KINDS[status].name} for status in _problems(operation)},
        },
    }
    if operation.description:
        described["description"] = operation.description
    if operation.needs_key:
        described["security"] = [{}, *({key: []} for key in KEYS)]
    if parameters := _parameters(operation):
        described["parameters"] = parameters
    if operation.lines:
        described["requestBody"] = {"required": True, "content": _content(operation, {})}
    if request:
        described["requestBody"] = {"required": True, "content": {"application/json": {"schema": request}}}
    return described


def _problems(operation: Operation) -> list[int]:
    """Return every status besides 200 that an operation may end in."""
    found = {*ALWAYS, *operation.problems, *(WITH_BODY if operation.request else ())}
    found |= {422} if operation.parameters else set()
    found |= {401} if operation.needs_key else set()
    found |= set() if operation.watches else {429}
    found |= {406, 415} if operation.lines else set() if operation.reply is str else {406}
    return sorted(found)


def _content(operation: Operation, schema: Schema) -> Schema:
    if operation.lines:
        return {NDJSON: {"schema": _LINES}}
    if operation.reply is str:
        return {"text/plain": {"schema": schema}}
    data = {media: {"schema": schema} for media in ("application/json", "application/msgpack")}
    return data | {media: {"schema": _OTHERS[media]} for media in operation.forms}


def _parameters(operation: Operation) -> list[Schema]:
    found: list[Schema] = []
    if "{name}" in operation.path:
        found.append(
            {
                "name": "name",
                "in": "path",
                "required": True,
                "description": "Name of the kind of problem.",
                "schema": {"enum": sorted(kind.name for kind in KINDS.values())},
            }
        )
    if "{style}" in operation.path:
        found.append(
            {
                "name": "style",
                "in": "path",
                "required": True,
                "description": "Name of the style.",
                "schema": {"type": "string", "pattern": "^[a-z][a-z0-9-]*$", "maxLength": 40},
            }
        )
    found += [
        {"name": each.name, "in": "query", "description": each.description, "schema": _parameter(each)}
        for each in operation.parameters
    ]
    return found


def _parameter(parameter: Parameter) -> Schema:
    if parameter.choices:
        return {"enum": list(parameter.choices), "default": parameter.usual}
    if parameter.most:
        return {"type": "integer", "minimum": 1, "maximum": parameter.most}
    return {"type": "string", "maxLength": LONGEST_TEXT, "pattern": PATTERN}


def _problems_there_are() -> list[int]:
    return sorted({status for operation in OPERATIONS for status in _problems(operation)})


def _problem_response(status: int) -> Schema:
    described: Schema = {"description": f"{KINDS[status].title}."}
    if status in HEADERS:
        name, text = HEADERS[status]
        described["headers"] = {name: {"description": text, "schema": {"type": "string"}}}
    return described | {"content": {MEDIA_TYPE: {"schema": {"$ref": COMPONENTS + "Problem"}}}}


def _plain_names(components: Schema) -> dict[str, str]:
    """Return the name in the document for each name that msgspec gives a component.

    A type of ours goes by its own name, without the styles' options that it may be generic in. A plugin's type of the
    same name is told apart: msgspec names both with their modules, and where ours is generic, a word is put before it.
    """
    titles = {name: str(schema.get("title", name)) for name, schema in components.items()}
    taken = choices.RESERVED | {title.partition("[")[0] for title in titles.values() if "[" in title}
    plain = {}
    for name, title in titles.items():
        if "[" in title or name.startswith("pleatwright."):
            plain[name] = title.partition("[")[0]
        else:
            plain[name] = f"Style.{name}" if name in taken else name
    return plain


def _tidied(schema: Any, names: dict[str, str]) -> Any:
    """Return a schema from msgspec with what only the contract knows put in."""
    if isinstance(schema, list):
        return [_tidied(each, names) for each in schema]
    if not isinstance(schema, dict):
        return names.get(schema, schema) if isinstance(schema, str) and schema.startswith(COMPONENTS) else schema
    title = schema.get("title")
    if title in scalars.SCHEMAS:
        own = schema.get("description") not in (None, *_GENERAL)
        return {"$ref": COMPONENTS + title, **({"description": schema["description"]} if own else {})}
    tidy = {
        key: {field: _tidied(each, names) for field, each in value.items()}
        if key == "properties"
        else _tidied(value, names)
        for key, value in schema.items()
    }
    if isinstance(title, str):
        tidy["title"] = title.partition("[")[0]
    if "discriminator" in tidy:
        tidy = {"oneOf" if key == "anyOf" else key: value for key, value in tidy.items()}
    if isinstance(tidy.get("enum"), list) and len(tidy["enum"]) == 1:
        tidy["const"] = tidy.pop("enum")[0]
    return tidy
