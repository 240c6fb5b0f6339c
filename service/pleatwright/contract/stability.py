"""What a change of the contract breaks: the rules of DEVELOPERS.md, applied to two OpenAPI documents.

A client made from the old document must be able to live with the new one. Whatever it could send must still be taken
and mean the same; whatever it is sent must be what it was told of, though an object may have gained fields. Both are
one question, whether one schema allows all that another does, asked of the new one for requests and of the old one for
replies.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any, Final, NamedTuple

Schema = dict[str, Any]
METHODS: Final = ("get", "put", "post", "delete", "options", "head", "patch", "trace")
LEAST: Final = ("minimum", "minLength", "minItems")
MOST: Final = ("maximum", "maxLength", "maxItems", "maxProperties")
SAME: Final = ("pattern", "format", "propertyNames")
SAYS_NOTHING: Final = ("title", "description", "examples", "discriminator")
COMPARED: Final = {
    *("$ref", "anyOf", "oneOf", "type", "enum", "const", "default", "multipleOf", "items"),
    *("properties", "required", "additionalProperties", *LEAST, *MOST, *SAME, *SAYS_NOTHING),
}
ANYTHING: Final = frozenset(("string", "number", "integer", "boolean", "object", "array", "null"))


class Break(NamedTuple):
    """What a client may trip over, and where: a JSON Pointer into the old document, or into the new for an addition."""

    at: str
    why: str


def breaks(old: Schema, new: Schema) -> list[Break]:
    """Return what the new document breaks for a client made from the old one."""
    return list(dict.fromkeys(_Comparison(old, new).document()))


class _Comparison:
    def __init__(self, old: Schema, new: Schema) -> None:
        self.old, self.new = old, new
        self._known: dict[tuple[str, str, bool], list[Break]] = {}

    def document(self) -> Iterator[Break]:
        for path, item in self.old["paths"].items():
            for method in METHODS:
                if method in item:
                    at = f"/paths/{_escaped(path)}/{method}"
                    operation = self.new["paths"].get(path, {}).get(method)
                    if operation is None:
                        yield Break(at, "the operation is gone")
                    else:
                        yield from self._operation(item[method], operation, at)
        for name in self.old["components"]["schemas"]:
            if name not in self.new["components"]["schemas"]:
                yield Break(f"/components/schemas/{name}", "the name is gone, by which generated code calls the type")

    def _operation(self, old: Schema, new: Schema, at: str) -> Iterator[Break]:
        if old["operationId"] != new["operationId"]:
            yield Break(f"{at}/operationId", f"is now {new['operationId']}, by which generated code calls it")
        yield from self._parameters(old.get("parameters", []), new.get("parameters", []), at)
        yield from self._body(old.get("requestBody"), new.get("requestBody"), at)
        for status, answer in old["responses"].items():
            here = f"{at}/responses/{status}"
            if status not in new["responses"]:
                yield Break(here, "the status is gone")
                continue
            told = _found(self.old, answer), _found(self.new, new["responses"][status])
            for header in told[0].get("headers", {}).keys() - told[1].get("headers", {}).keys():
                yield Break(f"{here}/headers/{header}", "the header is gone")
            yield from self._content(told[0].get("content", {}), told[1].get("content", {}), here, reply=True)
        for status in new["responses"].keys() - old["responses"].keys():
            if status.startswith("2"):
                yield Break(f"{at}/responses/{status}", "is a success that no client knows of")
        open_to = new.get("security", self.new.get("security")) or [{}]
        for way in old.get("security", self.old.get("security")) or [{}]:
            if way not in open_to and {} not in open_to:
                yield Break(f"{at}/security", f"{' and '.join(way) or 'no key'} is not enough any more")

    def _parameters(self, old: list[Schema], new: list[Schema], at: str) -> Iterator[Break]:
        given = {(each["in"], each["name"]): each for each in new}
        for number, each in enumerate(old):
            here = f"{at}/parameters/{number}"
            now = given.pop((each["in"], each["name"]), None)
            if now is None:
                yield Break(here, f"the parameter {each['name']} is gone")
                continue
            if now.get("required") and not each.get("required"):
                yield Break(f"{here}/required", "must be given now")
            yield from self._schema(each["schema"], now["schema"], f"{here}/schema", reply=False)
        for each in given.values():
            if each.get("required"):
                yield Break(f"{at}/parameters/{new.index(each)}", f"the parameter {each['name']} must be given now")

    def _body(self, old: Schema | None, new: Schema | None, at: str) -> Iterator[Break]:
        if old is None or new is None:
            if old is not None or (new is not None and new.get("required")):
                yield Break(f"{at}/requestBody", "is gone" if old is not None else "must be sent now")
            return
        if new.get("required") and not old.get("required"):
            yield Break(f"{at}/requestBody/required", "must be sent now")
        yield from self._content(old["content"], new["content"], f"{at}/requestBody", reply=False)

    def _content(self, old: Schema, new: Schema, at: str, *, reply: bool) -> Iterator[Break]:
        for media, content in old.items():
            here = f"{at}/content/{_escaped(media)}"
            if media not in new:
                yield Break(here, "the form is gone")
            else:
                yield from self._schema(content["schema"], new[media]["schema"], f"{here}/schema", reply=reply)

    def _schema(self, old: Schema, new: Schema, at: str, *, reply: bool) -> Iterator[Break]:
        if not reply and (old.get("default"), "default" in old) != (new.get("default"), "default" in new):
            yield Break(f"{at}/default", "left out, it means something else now")
        # Each pair is compared once; one that is met within itself is taken to be well.
        key = (str(old) if "$ref" in old else at, str(new), reply)
        if key not in self._known:
            self._known[key] = []
            self._known[key] = list(self._choices(old, new, at, reply=reply))
        yield from self._known[key]

    def _choices(self, old: Schema, new: Schema, at: str, *, reply: bool) -> Iterator[Break]:
        olds, news = list(_variants(self.old, old, at)), list(_variants(self.new, new, at))
        for where, variant in news if reply else olds:
            against = olds if reply else news
            found = [
                list(
                    self._variant(
                        *((other, variant) if reply else (variant, other)), near if reply else where, reply=reply
                    )
                )
                for near, other in against
            ]
            if [] in found:
                continue
            if len(olds) == len(news) == 1:
                yield from found[0]
            else:
                alike = [each for each, (_, other) in zip(found, against, strict=True) if _alike(other, variant)]
                what = "a choice that no client knows of" if reply else "a choice that is gone, or was narrowed"
                yield from min(alike, key=len) if alike else [Break(where, what)]

    def _variant(self, old: Schema, new: Schema, at: str, *, reply: bool) -> Iterator[Break]:
        wide, narrow = (old, new) if reply else (new, old)
        if strange := (old.keys() | new.keys()) - COMPARED:
            yield Break(at, f"cannot be compared: {', '.join(sorted(strange))}")
        if not _types(narrow) <= _types(wide):
            yield Break(f"{at}/type", f"was {old.get('type', 'anything')}, is {new.get('type', 'anything')}")
        words, allowed = _words(narrow), _words(wide)
        if allowed is not None and (words is None or not words <= allowed):
            which = "anything" if words is None else ", ".join(sorted(words - allowed))
            yield Break(f"{at}/enum", f"{which} {'is new' if reply else 'is not taken any more'}")
        yield from _limits(wide, narrow, at)
        if "items" in wide:
            items = (old.get("items", {}), new.get("items", {}))
            yield from self._schema(*items, f"{at}/items", reply=reply)
        yield from self._fields(old, new, at, reply=reply)

    def _fields(self, old: Schema, new: Schema, at: str, *, reply: bool) -> Iterator[Break]:
        wide, narrow = (old, new) if reply else (new, old)
        for field in sorted({*wide.get("required", ())} - {*narrow.get("required", ())}):
            why = "is not always there any more" if reply else "must be given now"
            yield Break(f"{at}/properties/{_escaped(field)}", why)
        fields, now = old.get("properties", {}), new.get("properties", {})
        for field, schema in fields.items():
            here = f"{at}/properties/{_escaped(field)}"
            if field not in now:
                yield Break(here, "the field is gone")
            else:
                yield from self._schema(schema, now[field], here, reply=reply)
        rest, others = wide.get("additionalProperties", True), narrow.get("additionalProperties", True)
        if isinstance(rest, dict) and isinstance(others, dict):
            yield from self._schema(
                *((rest, others) if reply else (others, rest)), f"{at}/additionalProperties", reply=reply
            )
        elif rest is not True and others is not False and rest != others:
            yield Break(f"{at}/additionalProperties", f"was {old.get('additionalProperties', True)}")


def _limits(wide: Schema, narrow: Schema, at: str) -> Iterator[Break]:
    for limit in (*LEAST, *MOST):
        bound, kept = wide.get(limit), narrow.get(limit)
        if bound is not None and (kept is None or (kept < bound if limit in LEAST else kept > bound)):
            yield Break(f"{at}/{limit}", f"{bound} does not allow for {'none' if kept is None else kept}")
    for limit in SAME:
        if limit in wide and wide[limit] != narrow.get(limit):
            yield Break(f"{at}/{limit}", "is another")
    step, steps = wide.get("multipleOf"), narrow.get("multipleOf")
    if step is not None and (steps is None or Fraction(str(steps)) % Fraction(str(step))):
        yield Break(f"{at}/multipleOf", "is another")


def _variants(document: Schema, schema: Schema, at: str) -> Iterator[tuple[str, Schema]]:
    """Yield what a schema allows one or another of, without references and choices, each with the way to it."""
    if "$ref" in schema:
        own = {key: value for key, value in schema.items() if key not in ("$ref", *SAYS_NOTHING, "default")}
        yield from _variants(document, _found(document, schema) | own, schema["$ref"].removeprefix("#"))
        return
    for key in ("anyOf", "oneOf"):
        if key in schema:
            for number, each in enumerate(schema[key]):
                yield from _variants(document, each, f"{at}/{key}/{number}")
            return
    yield at, schema


def _found(document: Schema, schema: Schema) -> Schema:
    found: Any = document
    for part in schema["$ref"].removeprefix("#/").split("/") if "$ref" in schema else ():
        found = found[part.replace("~1", "/").replace("~0", "~")]
    return found if "$ref" in schema else schema


def _alike(one: Schema, other: Schema) -> bool:
    """Tell whether two variants are meant for the same, by their types and by the constants that tag them."""
    tags, others = (
        {name: each["const"] for name, each in schema.get("properties", {}).items() if "const" in each}
        for schema in (one, other)
    )
    return tags == others and not _types(one).isdisjoint(_types(other))


def _types(schema: Schema) -> frozenset[str]:
    if "type" not in schema:
        return ANYTHING if _words(schema) is None else frozenset(("string",))
    named = schema["type"]
    kinds = frozenset((named,) if isinstance(named, str) else named)
    return kinds | {"integer"} if "number" in kinds else kinds


def _words(schema: Schema) -> frozenset[str] | None:
    if "const" in schema:
        return frozenset((str(schema["const"]),))
    return frozenset(map(str, schema["enum"])) if "enum" in schema else None


def _escaped(part: str) -> str:
    return part.replace("~", "~0").replace("/", "~1")
