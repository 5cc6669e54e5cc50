"""The values that each value key allows, as JSON Schema: a definition ``value_<key>`` for each.

A value is one flat schema of several types, not a union: every keyword applies to one type alone, so a mistake is
marked where it is and an editor offers each key once. The part for mappings is one level in, under ``allOf``, because
an editor would otherwise open a mapping whenever it completes the key.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from kb.intake.json_schema.editor_view import Schema, closed, with_examples
from kb.intake.json_schema.one_unit import one_unit
from kb.intake.models.key_help import DESCRIPTIONS, EXAMPLES, example_of
from kb.intake.models.scalars import LONGEST_TEXT, TEXT_PATTERN
from kb.intake.models.value_checks import FRACTION_WORDS, PLAIN_WORDS
from kb.quantity import DECIMAL_PATTERN, FRACTION_PATTERN, PLAIN_KEYS, SIDE_KEYS, UNITS, VALUE_KEYS

_LIMIT = 10**9  # the grammar takes nine digits before the point


def _number(pattern: str, least: Schema, words: str) -> Schema:
    return {
        "type": ["string", "number"],  # text is digits in quotes, or what a parser does not take for a number
        "pattern": f"^(?:{pattern})$",
        "patternErrorMessage": f"write {words}",
        **least,
        "exclusiveMaximum": _LIMIT,
    }


_NUMBERS = {
    "number": _number(DECIMAL_PATTERN, {"minimum": 0}, PLAIN_WORDS),
    "number-signed": _number(f"-?{DECIMAL_PATTERN}", {"exclusiveMinimum": -_LIMIT}, f"{PLAIN_WORDS}, or -5"),
    "number-or-fraction": _number(f"{DECIMAL_PATTERN}|{FRACTION_PATTERN}", {"minimum": 0}, FRACTION_WORDS),
}
_PLAIN: Schema = {"$ref": "#/$defs/number"}
_FRACTION: Schema = {"$ref": "#/$defs/number-or-fraction"}

_BOUND_WORDS = {
    "at_least": "The smallest value; the other side is open.",
    "at_most": "The largest value; the other side is open.",
    "nominal": "The value to aim at, with its tolerance.",
    "plus_minus": "How far either way.",
    "plus": "How far above.",
    "minus": "How far below.",
}
_BOUND_RULES: Schema = {
    "additionalProperties": False,
    "minProperties": 1,
    "dependentRequired": {"plus_minus": ["nominal"], "plus": ["nominal", "minus"], "minus": ["nominal", "plus"]},
    "dependentSchemas": {
        "at_least": {"maxProperties": 1},
        "at_most": {"maxProperties": 1},
        "nominal": {"minProperties": 2},
        "plus_minus": {"maxProperties": 2},
    },
}


def value_definitions() -> dict[str, Schema]:
    """Every ``value_<key>``, and the definitions they share, by name."""
    position = {
        "mm": {"$ref": "#/$defs/value_mm", "description": "A piston position in millimetres from top dead centre."},
        "in": {"$ref": "#/$defs/value_in", "description": "A piston position in inches from top dead centre."},
    }
    bounds = {
        "bound": _bound("number"),
        "bound-signed": _bound("number-signed", "number"),
        "bound-or-fraction": _bound("number-or-fraction"),
        "bound-or-position": _bound("number", also=position),
    }
    values = {f"value_{key}": {"description": DESCRIPTIONS[key], **_value(key)} for key in VALUE_KEYS}
    return _NUMBERS | bounds | values


def _value(key: str) -> Schema:
    if key in PLAIN_KEYS:
        unit, examples = UNITS[key], examples_of(key)
        if unit.fractions:
            return _flat("number-or-fraction", "bound-or-fraction", examples)
        return _flat("number-signed", "bound-signed", examples) if unit.signed else _flat("number", "bound", examples)
    if key in SIDE_KEYS:
        return _flat("number", "bound-or-position", [*examples_of(key), {"in": 0.15}, {"mm": [0.1, 0.22]}])
    return _OTHER[key] if key in _OTHER else _side(example_of(key))


def _flat(number: str, bound: str, examples: list[Any]) -> Schema:
    end = {"$ref": f"#/$defs/{number}"}
    return {
        **_NUMBERS[number],
        "type": [*_NUMBERS[number]["type"], "array", "object"],
        "prefixItems": [end, end],
        "minItems": 2,
        "maxItems": 2,
        "allOf": [{"$ref": f"#/$defs/{bound}"}],
        **with_examples(examples),
    }


def _bound(number: str, tolerance: str = "", also: dict[str, Schema] | None = None) -> Schema:
    """The keys of a bound or a tolerance, and which of them go together."""
    properties: dict[str, Schema] = {}
    for name, words in _BOUND_WORDS.items():
        differs = name in ("plus_minus", "plus", "minus")
        kind = {"$ref": f"#/$defs/{(differs and tolerance) or number}"}
        properties[name] = {"description": words, **kind, "examples": [1, 2] if differs else [24, 25]}
    alone = {name: {"maxProperties": 1} for name in also or ()}
    rules = {**_BOUND_RULES, "dependentSchemas": {**_BOUND_RULES["dependentSchemas"], **alone}}
    return {"properties": properties | (also or {}), **rules}


def _side(example: Any) -> Schema:
    """One end of a straddling window: one side with one number."""
    position: Schema = {
        "properties": {
            "mm": {"description": "Millimetres of piston travel.", **_PLAIN, "examples": [1.2, 1.4]},
            "in": {"description": "Inches of piston travel.", **_FRACTION, "examples": [0.15, 0.12]},
        },
        "additionalProperties": False,
        **one_unit(("mm", "in")),
    }
    number = _NUMBERS["number"]
    end: Schema = {**number, "type": [*number["type"], "object"], "allOf": [position]}
    before = "Degrees before top dead centre, or a piston position there."
    after = "Degrees after top dead centre, or a piston position there."
    sides = {
        "btdc": {"description": before, **end, "examples": [2, 3]},
        "atdc": {"description": after, **end, "examples": [3, 4]},
        "tdc": {"$ref": "#/$defs/value_tdc"},
    }
    return closed(sides, wanted=one_unit(tuple(sides)), examples=[example])


def examples_of(key: str) -> list[Any]:
    """A number, a window, a bound and a tolerance, from the one example in ``key_help``."""
    first = example_of(key)
    while isinstance(first, (list, dict)):
        first = first[0] if isinstance(first, list) else next(iter(first.values()))
    if isinstance(first, str):
        return [first, 0.5, [first, "15/16" if key == "in" else "1 1/2"], {"at_most": first}]
    number = Decimal(str(first))
    step = Decimal(1).scaleb(int(number.as_tuple().exponent))
    higher = float(number + 2 * step) if isinstance(first, float) else first + 2
    small = float(step) if isinstance(first, float) else 1
    return [first, [first, higher], {"at_least": first}, {"nominal": first, "plus_minus": small}]


_WORDS: Schema = {"type": ["string", "number"], "pattern": TEXT_PATTERN, "maxLength": LONGEST_TEXT}
_ROW = closed(
    {
        "rpm": {"description": "The speed when running.", **_PLAIN, "examples": [1000, 5000]},
        "cranking_earlier": {"description": DESCRIPTIONS["cranking_earlier"], **_PLAIN, "examples": [1, 2]},
        "cranking_later": {"description": DESCRIPTIONS["cranking_later"], **_PLAIN, "examples": [1, 2]},
    },
    {"minProperties": 2, "maxProperties": 2},
    required=["rpm"],
)
_CYLINDER: Schema = {"type": ["string", "integer"], "pattern": "^[1-9][0-9]?$", "minimum": 1, "maximum": 99}
_OTHER: dict[str, Schema] = {
    "tdc": {"type": ["string", "number"], "pattern": r"^0(?:\.0{1,9})?$", "minimum": 0, "maximum": 0, "examples": [0]},
    "mark": {**_WORDS, "examples": [EXAMPLES["mark"], "roller on the embossed line"]},
    "code": {**_WORDS, "examples": [EXAMPLES["code"], 68]},
    "order": {"type": "array", "items": _CYLINDER, "minItems": 1, "examples": [EXAMPLES["order"]]},
    "cranking_earlier": {**_PLAIN, "examples": [EXAMPLES["cranking_earlier"], 1.5]},
    "cranking_later": {**_PLAIN, "examples": [EXAMPLES["cranking_later"], 0.5]},
    "by_rpm": {"type": "array", "items": _ROW, "minItems": 2, **with_examples([EXAMPLES["by_rpm"]])},
}
