"""One unit a statement: how JSON Schema says it so that a mark stands at the key that is one too many.

A union of one schema a unit would say the same, and would mark the whole statement and offer every key several times.
"""

from __future__ import annotations

from collections.abc import Sequence

from kb.book.model.family import FigureKind
from kb.intake.json_schema.editor_view import Schema
from kb.quantity import CRANK_KEYS, KEY_DIMENSIONS, VALUE_KEYS, Dimension

_ALONE = (Dimension.ORDER, Dimension.MARK, Dimension.CODE, Dimension.CORRECTION)


def units_of(kind: FigureKind) -> list[str]:
    """The value keys under which a figure may be stated: its units, and a straddling window where it is an angle."""
    listed = set(kind.units)
    if listed & set(CRANK_KEYS):
        listed |= {"from", "to"}
    return [key for key in VALUE_KEYS if key in listed]


def also_units(kind: FigureKind) -> list[str]:
    """The value keys under which the page's further units of a figure may stand; none where it has just one unit."""
    keys = [key for key in units_of(kind) if KEY_DIMENSIONS[key] not in _ALONE]
    return keys if len(keys) > 1 else []


def one_at_most(keys: Sequence[str]) -> dict[str, Schema]:
    """For each of the keys, none of those behind it beside it; ``from`` and ``to`` count as one."""
    units = [key for key in keys if key != "to"]
    return {
        unit: _without(units[index + 1 :], f"one unit only: {unit} is there") for index, unit in enumerate(units[:-1])
    }


def paired(keys: Sequence[str]) -> Schema:
    """``from`` and ``to`` only together, where they are among the keys."""
    return {"dependentRequired": {"from": ["to"], "to": ["from"]}} if "to" in keys else {}


def one_at_least(keys: Sequence[str], message: str = "a unit with its value is missing") -> Schema:
    """One of the keys or more."""
    units = [key for key in keys if key != "to"]
    none = {"patternProperties": {_any_of(units): False}}
    return {"if": none, "then": {"required": [units[0]], "errorMessage": message}}


def one_unit(keys: Sequence[str]) -> Schema:
    """Exactly one of the keys."""
    later = one_at_most(keys)
    return {**({"dependentSchemas": later} if later else {}), **paired(keys), **one_at_least(keys)}


def some_unit(keys: Sequence[str]) -> Schema:
    """One of the keys or more."""
    return {**paired(keys), **one_at_least(keys)}


def nothing_beside_absent(keys: Sequence[str]) -> dict[str, Schema]:
    """``absent`` stands alone: no value beside it, and no second unit."""
    return {"absent": _without([*keys, "also"], "absent stands instead of a value, never beside one")}


def second_units(keys: Sequence[str]) -> dict[str, Schema]:
    """For each unit, what ``also`` may then not hold: the unit itself, and anything beside what is never converted."""
    forbidden: dict[str, Schema] = {}
    for key in keys:
        if KEY_DIMENSIONS[key] in _ALONE:
            forbidden[key] = _without(["also"], f"{key} has no second unit")
        elif key not in CRANK_KEYS:  # degrees and a piston position share their keys
            again = _without([key], f"{key} is the first unit already")
            forbidden[key] = {"patternProperties": {_any_of(["also"]): again}}
    return forbidden


def _without(keys: Sequence[str], message: str) -> Schema:
    """None of the keys; an editor marks each that there is, with the message."""
    return {"patternProperties": {_any_of(keys): False}, "errorMessage": message}


def _any_of(keys: Sequence[str]) -> str:
    return f"^(?:{'|'.join(keys)})$"
