"""From models to JSON Schema, field by field.

The schema that pydantic writes would do for a validator but not for an editor: it shows class names and titles, and
offers ``null`` wherever a key is optional.
"""

from __future__ import annotations

import re
from abc import ABC, abstractmethod
from collections.abc import Sequence
from enum import StrEnum
from types import NoneType, UnionType
from typing import Annotated, Any, TypeGuard, Union, get_args, get_origin

from annotated_types import MinLen
from pydantic import WithJsonSchema
from pydantic.fields import FieldInfo

from kb.intake.json_schema.editor_view import Schema, closed, with_examples
from kb.intake.json_schema.one_unit import one_unit, some_unit
from kb.intake.json_schema.values import value_definitions
from kb.intake.models import Document
from kb.intake.models.scalars import Filled, OfCatalogue, OneOf
from kb.intake.models.statement import Exempt
from kb.intake.models.value_checks import Units
from kb.intake.models.value_keys import OneValue, Valued
from kb.quantity import VALUE_KEYS, Side

_TYPES = ("string", "number", "integer", "boolean", "array", "object")


class Author(ABC):
    """Writes the schema of one kind of file."""

    def __init__(self) -> None:
        self.definitions: dict[str, Schema] = {}

    def document(self, model: type[Document]) -> Schema:
        """The whole schema of a model, with only the definitions that it needs."""
        body = self.mapping(model)
        definitions = self.definitions | value_definitions()
        needed = _reached(body, definitions)
        return {**body, "$defs": {name: schema for name, schema in definitions.items() if name in needed}}

    def mapping(self, model: type[Document], examples: Sequence[Any] = ()) -> Schema:
        """A model as a closed mapping."""
        fields = keys_of(model)
        values = [key for key in fields if key in VALUE_KEYS] if issubclass(model, Valued) else []
        properties = {key: value_of(key) if key in values else self.key(field) for key, field in fields.items()}
        required = [key for key, field in fields.items() if field.is_required()]
        rules = {"minProperties": 1} if issubclass(model, Filled) else {}
        return closed(properties, rules, required, self._units(model, values) if values else {}, examples)

    def _units(self, model: type[Document], values: Sequence[str]) -> Schema:
        self.definitions["one-unit"] = one_unit(values)
        self.definitions["some-unit"] = some_unit(values)
        return {"$ref": f"#/$defs/{'one' if issubclass(model, OneValue) else 'some'}-unit"}

    def key(self, field: FieldInfo) -> Schema:
        """One key of a model, with its description and its examples."""
        return {"description": field.description, **self.shape(field.annotation, field.metadata, field.examples or [])}

    def shape(self, annotation: Any, metadata: Sequence[Any] = (), examples: Sequence[Any] = ()) -> Schema:
        """The schema of an annotation, with the examples where they belong."""
        origin, arguments = get_origin(annotation), get_args(annotation)
        if any(isinstance(item, OfCatalogue) for item in metadata):
            return {"type": "string", "enum": self.figures(), **with_examples(examples)}
        for item in metadata:
            if isinstance(item, WithJsonSchema):
                return {**(item.json_schema or {}), **with_examples(examples)}
            if isinstance(item, OneOf):
                return {"type": "string", "enum": list(item.words.words), **with_examples(examples)}
            if isinstance(item, Units):
                properties = {key: number_of(key) if item.single else value_of(key) for key in item.keys}
                return closed(properties, wanted=one_unit(item.keys), examples=examples)
        if origin is Annotated:
            return self.shape(arguments[0], [*arguments[1:], *metadata], examples)
        if origin in (Union, UnionType):
            parts = [part for part in arguments if part is not NoneType]
            return self.shape(parts[0], metadata, examples) if len(parts) == 1 else self._flat(parts, examples)
        if origin is dict:
            return {**self.by_figure(arguments[1], examples), **with_examples(examples)}
        if _is_model(annotation):
            return self.reference(annotation, examples)
        return {**self._plain(annotation, metadata), **with_examples(examples)}

    @abstractmethod
    def figures(self) -> list[str]:
        """The ids of the catalogue's figures."""

    @abstractmethod
    def by_figure(self, annotation: Any, examples: Sequence[Any]) -> Schema:
        """A mapping with one key for each of the catalogue's figures."""

    def reference(self, model: type[Document], examples: Sequence[Any] = ()) -> Schema:
        """A reference to a model's definition; its name is in plain words, since an editor may show it."""
        name = word_of(model)
        if name not in self.definitions:
            about = " ".join((model.__doc__ or "").split())
            self.definitions[name] = {"description": about, **self.mapping(model, examples)}
        return {"$ref": f"#/$defs/{name}"}

    def _plain(self, annotation: Any, metadata: Sequence[Any]) -> Schema:
        origin, arguments = get_origin(annotation), get_args(annotation)
        if isinstance(annotation, type) and issubclass(annotation, StrEnum):
            return {"type": "string", "enum": [member.value for member in annotation]}
        if origin is list:
            return {"type": "array", "items": self.shape(arguments[0]), **least(metadata)}
        if origin is tuple:
            pair = [self.shape(argument) for argument in arguments]
            return {"type": "array", "prefixItems": pair, "minItems": len(pair), "maxItems": len(pair)}
        raise TypeError(f"no schema for {annotation!r}")

    def _flat(self, parts: Sequence[Any], examples: Sequence[Any]) -> Schema:
        """Parts of different types as one flat schema, in which each keyword applies to one type alone."""
        types: list[str] = []
        merged: Schema = {}
        shapes = [self.mapping(part) if _is_model(part) else self.shape(part) for part in map(_bare_model, parts)]
        for shape in sorted(shapes, key=lambda shape: _TYPES.index(_types(shape)[0])):
            types.extend(_types(shape))
            rest = {key: value for key, value in shape.items() if key != "type"}
            merged.update({"allOf": [rest]} if shape["type"] == "object" else rest)
        return {"type": types, **merged, **with_examples(examples)}


def keys_of(model: type[Document]) -> dict[str, FieldInfo]:
    """The fields of a model by the key in the file."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def value_of(key: str) -> Schema:
    """A reference to the schema of a value key's value."""
    return {"$ref": f"#/$defs/value_{key}"}


def number_of(key: str) -> Schema:
    """The schema of an angle's value where it is one plain number; top dead centre always is."""
    if key == Side.CENTRE:
        return value_of(key)
    return {"description": "Degrees, one number.", "$ref": "#/$defs/number", "examples": [2, 0.5]}


def least(metadata: Sequence[Any]) -> Schema:
    """The smallest number of entries that the metadata of a list demands."""
    inner = [deeper for item in metadata if isinstance(item, FieldInfo) for deeper in item.metadata]
    return next(({"minItems": item.min_length} for item in [*metadata, *inner] if isinstance(item, MinLen)), {})


def word_of(model: type[Document]) -> str:
    """The name of a model in words, such as ``numbered-marks``."""
    if model is Exempt:
        return "exception"  # its name in a file, which Python uses for something else
    bare = model.__name__.removesuffix("Entry").removesuffix("File")
    return re.sub(r"(?<=[a-z])(?=[A-Z])", "-", bare).lower()


def model_of(annotation: Any) -> type[Document]:
    """The model inside an annotation.

    Raises:
        TypeError: there is no model in it.
    """
    if _is_model(annotation):
        return annotation
    for inner in get_args(annotation):
        try:
            return model_of(inner)
        except TypeError:
            continue
    raise TypeError(f"no model in {annotation!r}")


def _is_model(annotation: Any) -> TypeGuard[type[Document]]:
    return isinstance(annotation, type) and issubclass(annotation, Document)


def _bare_model(part: Any) -> Any:
    bare = get_args(part)[0] if get_origin(part) is Annotated else part
    return bare if _is_model(bare) else part


def _types(shape: Schema) -> list[str]:
    kind = shape["type"]
    return [kind] if isinstance(kind, str) else list(kind)


def _reached(schema: Any, definitions: dict[str, Schema]) -> set[str]:
    """The names of all definitions that a schema leads to."""
    reached: set[str] = set()
    waiting = [schema]
    while waiting:
        here = waiting.pop()
        if isinstance(here, dict):
            name = str(here.get("$ref", "")).removeprefix("#/$defs/")
            if name in definitions and name not in reached:
                reached.add(name)
                waiting.append(definitions[name])
            waiting.extend(here.values())
        elif isinstance(here, list):
            waiting.extend(here)
    return reached
