"""The shape of a vector file, as JSON Schema, and a calculation in that shape."""

from __future__ import annotations

from typing import Any

from kb.publish.vectors.calculation import Calculation

_NAME = {"type": "string", "pattern": "^[a-z][a-z-]*$"}
_UNITS = {
    "type": "object",
    "minProperties": 1,
    "propertyNames": {"pattern": "^[a-z][a-z_]*$"},
    "additionalProperties": {"type": "string", "minLength": 1},
}
_VALUES = {
    "type": "object",
    "minProperties": 1,
    "propertyNames": {"pattern": "^[a-z][a-z_]*$"},
    "additionalProperties": {"$ref": "#/$defs/value"},
}
SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "Check vectors of one calculation",
    "description": "Inputs with the outputs, or the refusal, that every program must come to.",
    "type": "object",
    "additionalProperties": False,
    "required": ["calculation", "about", "source", "inputs", "outputs", "tolerance", "rows"],
    "properties": {
        "calculation": {**_NAME, "description": "The calculation's name; the file is named after it."},
        "about": {"type": "string", "minLength": 1, "description": "The formula in words."},
        "source": {"type": "string", "minLength": 1, "description": "Where the formula is published."},
        "inputs": {**_UNITS, "description": "The unit of each input."},
        "outputs": {**_UNITS, "description": "The unit of each output."},
        "tolerance": {
            "description": "A number agrees if it is off by at most absolute, or relative times the wanted one.",
            "type": "object",
            "additionalProperties": False,
            "required": ["relative", "absolute"],
            "properties": {"relative": {"type": "number", "minimum": 0}, "absolute": {"type": "number", "minimum": 0}},
        },
        "rows": {
            "type": "array",
            "minItems": 1,
            "items": {
                "type": "object",
                "additionalProperties": False,
                "required": ["in"],
                "oneOf": [{"required": ["out"]}, {"required": ["error"]}],
                "properties": {
                    "in": _VALUES,
                    "out": _VALUES,
                    "error": {"type": "string", "pattern": "^[A-Z][A-Za-z]*$", "description": "The refusal's name."},
                },
            },
        },
    },
    "$defs": {
        "value": {
            "description": "A number; a fraction or word as text; true, false, null; a list; an object by number.",
            "anyOf": [
                {"type": ["number", "string", "boolean", "null"]},
                {"type": "array", "items": {"$ref": "#/$defs/value"}},
                {"type": "object", "additionalProperties": {"type": "number"}},
            ],
        }
    },
}


def document(calculation: Calculation) -> dict[str, Any]:
    """A calculation with all its rows, as ``SCHEMA`` says."""
    return {
        "calculation": calculation.name,
        "about": calculation.about,
        "source": calculation.source,
        "inputs": dict(calculation.inputs),
        "outputs": dict(calculation.outputs),
        "tolerance": {"relative": calculation.relative, "absolute": calculation.absolute},
        "rows": calculation.rows(),
    }
