"""The messages' types as pydantic models: what an author of a FastAPI service would have written by hand."""

from functools import cache
from typing import Annotated, Any, Literal, Union

import msgspec
from msgspec import inspect
from pydantic import BaseModel, ConfigDict, Field, create_model


def model_of(kind: Any) -> type[BaseModel]:
    """Return the model of a struct's type."""
    found = _of(inspect.type_info(kind))
    assert issubclass(found, BaseModel)
    return found


@cache
def _model(cls: Any) -> type[BaseModel]:
    info = inspect.type_info(cls)
    fields: dict[str, Any] = {}
    if info.tag_field:
        fields[info.tag_field] = (Literal[info.tag], ...)
    for field in info.fields:
        kind = _of(field.type)
        if field.default_factory is not inspect.NODEFAULT:
            default: Any = Field(
                default_factory=lambda made=field.default_factory: _plain(made()), alias=field.encode_name
            )
        elif field.required:
            default = Field(alias=field.encode_name)
        else:
            absent = None if field.default in (inspect.NODEFAULT, msgspec.UNSET) else _plain(field.default)
            default = Field(default=absent, alias=field.encode_name)
        name = f"{field.name}_" if field.name.startswith("model_") else field.name
        fields[name] = (kind, default)
    config = ConfigDict(extra="forbid" if info.forbid_unknown_fields else "ignore", populate_by_name=True)
    return create_model(cls.__name__.partition("[")[0], __config__=config, **fields)


def _plain(value: Any) -> Any:
    return msgspec.to_builtins(value)


def _of(info: Any) -> Any:
    match info:
        case inspect.StructType():
            return _model(info.cls)
        case inspect.Metadata():
            return _of(info.type)
        case inspect.UnionType():
            return Union[tuple(_of(each) for each in info.types)]  # noqa: UP007 - of kinds known only now
        case inspect.ListType() | inspect.VarTupleType():
            return list[_of(info.item_type)]
        case inspect.DictType():
            return dict[_of(info.key_type), _of(info.value_type)]
        case inspect.LiteralType():
            return Literal[info.values]
        case inspect.StrType():
            return Annotated[str, Field(max_length=info.max_length)]
        case _:
            return _PLAIN.get(type(info), Any)


_PLAIN = {inspect.IntType: int, inspect.FloatType: float, inspect.BoolType: bool, inspect.NoneType: None}
