"""The part of the schema that comes from the catalogue: a definition for each figure, which allows only its own units,
states and conditions."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Annotated, Any, get_args, get_origin

from pydantic.fields import FieldInfo

from kb.book.model.family import FigureKind
from kb.intake.json_schema.editor_view import Schema, closed, with_examples
from kb.intake.json_schema.models import Author, keys_of, least, model_of, value_of, word_of
from kb.intake.json_schema.one_unit import (
    also_units,
    nothing_beside_absent,
    one_at_least,
    one_at_most,
    paired,
    second_units,
    units_of,
)
from kb.intake.json_schema.values import examples_of
from kb.intake.models import Document
from kb.intake.models.routine import OF_ANGLES, TimedStates
from kb.quantity import CRANK_KEYS, VALUE_KEYS
from kb.vocabulary.states import CORRECTED_STATES, State

_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")


class CatalogueAuthor(Author):
    """Writes the schema of one kind of file with the figures of a catalogue."""

    def __init__(self, figures: Iterable[FigureKind]) -> None:
        super().__init__()
        self._figures = list(figures)

    def figures(self) -> list[str]:
        """The ids of the figures, in the order of the job."""
        return [kind.id for kind in self._figures]

    def by_figure(self, annotation: Any, examples: Sequence[Any]) -> Schema:
        """A mapping keyed by figure: one property for each figure of the catalogue."""
        if annotation == TimedStates:
            self.definitions["states"] = {
                "description": "States of a figure.",
                **self.shape(annotation, examples=[[State.STATIC], list(CORRECTED_STATES)]),
            }
            properties = {
                kind.id: {"description": f"By the state of: {kind.label.lower()}.", "$ref": "#/$defs/states"}
                for kind in self._figures
            }
        elif get_origin(annotation) is Annotated:
            inner, *metadata = get_args(annotation)
            model = model_of(inner)
            for kind in self._figures:
                self.definitions[kind.id] = self._of_figure(model, kind)
            properties = {kind.id: _figure(kind, model) | least(metadata) for kind in self._figures}
        else:
            entries = [entry for example in examples for entry in example.values()]
            properties = {
                kind.id: {"description": f"What sets it: {kind.label.lower()}."} | self.reference(annotation, entries)
                for kind in self._figures
            }
        return {"type": "object", "properties": properties, "additionalProperties": False}

    def _of_figure(self, model: type[Document], kind: FigureKind) -> Schema:
        """A statement or a reading of one figure."""
        units, fields = units_of(kind), keys_of(model)
        keys = {
            key: self._narrowed(key, field, kind, word_of(model))
            for key, field in fields.items()
            if key not in VALUE_KEYS
        }
        properties = {key: value_of(key) for key in units} | {key: schema for key, schema in keys.items() if schema}
        required = [key for key in properties if key in keys and fields[key].is_required()]
        absent, several_states = "absent" in properties, len(kind.states) > 1
        beside = one_at_most(units) | (nothing_beside_absent(units) if absent else {})
        if "also" in properties:
            for key, forbidden in second_units(units).items():
                beside[key] = {"allOf": [beside[key], forbidden]} if key in beside else forbidden
        rules = paired(units) | ({"dependentSchemas": beside} if beside else {})
        stated = [*required, "state"] if several_states else required
        if not absent:
            return closed(properties, rules, stated, one_at_least(units))
        value = one_at_least(units, "a unit with its value is missing, or absent")
        only_if_absent = {"if": {"required": ["absent"]}, "then": {"required": required}}
        return closed(properties, {**rules, **only_if_absent, "else": {"required": stated, **value}})

    def _narrowed(self, key: str, field: FieldInfo, kind: FigureKind, word: str) -> Schema:
        """One key of a statement, narrowed to what its figure allows; empty if the figure allows nothing."""
        if key == "state":
            states = list(kind.states)
            return {"description": field.description, "type": "string", "enum": states, "examples": states}
        if key == "at":
            return self._conditions(field, kind) if kind.conditions else {}
        if key == "also":
            return self._also(field, kind) if also_units(kind) else {}
        if key in OF_ANGLES and not set(kind.units) & set(CRANK_KEYS):
            return {}
        return self._shared(f"{word}_{key}", field)

    def _conditions(self, field: FieldInfo, kind: FigureKind) -> Schema:
        conditions = {
            key: inner for key, inner in keys_of(model_of(field.annotation)).items() if key in kind.conditions
        }
        properties = {key: self._shared(f"at_{key}", inner) for key, inner in conditions.items()}
        examples = [{key: inner.examples[0]} for key, inner in conditions.items() if inner.examples]
        rules = {"minProperties": 1}
        return {"description": field.description, **closed(properties, rules, examples=examples[:1])}

    def _also(self, field: FieldInfo, kind: FigureKind) -> Schema:
        units = also_units(kind)
        fields = keys_of(model_of(field.annotation))
        properties = {key: value_of(key) for key in units}
        properties |= {
            key: self._shared(f"also_{key}", inner) for key, inner in fields.items() if key not in VALUE_KEYS
        }
        example = {"btdc": {"in": 0.15}} if "btdc" in units else {units[-1]: examples_of(units[-1])[0]}
        shape = closed(properties, paired(units), wanted=one_at_least(units), examples=[example])
        return {"description": field.description, **shape}

    def _shared(self, name: str, field: FieldInfo) -> Schema:
        if name not in self.definitions:
            self.definitions[name] = self.key(field)
        return {"$ref": f"#/$defs/{name}"}


def _figure(kind: FigureKind, model: type[Document]) -> Schema:
    """The key of a figure: what it is, how dangerous it is, and an example as it would be written."""
    about, because = kind.document.get("about", ""), kind.document.get("hazard_because", "")
    hazard = f"Hazard {kind.hazard}: {because}." if because else f"Hazard {kind.hazard}."
    keys = keys_of(model)
    example = {key: _typed(value) for key, value in kind.document["example"].items()}
    if len(kind.states) > 1:
        example["state"] = kind.states[0]
    if "source" in keys:
        example |= {"source": "skerrow-handbook-3", "page": 42}
    example = {key: value for key, value in example.items() if key in keys}
    return {
        "description": f"{kind.label}. {about}",
        "markdownDescription": f"**{kind.label}**\n\n{about}\n\n{hazard}",
        "type": "array",
        "items": {"$ref": f"#/$defs/{kind.id}"},
        **with_examples([[example]]),
    }


def _typed(value: Any) -> Any:
    """An example with its scalars, which are text, as an editor's parser reads them."""
    if isinstance(value, Mapping):
        return {key: _typed(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_typed(inner) for inner in value]
    if _NUMBER.fullmatch(value):
        return float(value) if "." in value else int(value)
    return value
