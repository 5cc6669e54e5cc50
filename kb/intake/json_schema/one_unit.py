"""One unit per statement, in JSON Schema that makes an editor mark the superfluous key.

A union with a schema for each unit would mean the same, but would mark the whole statement and offer every key several
times.
"""

from __future__ import annotations

from collections.abc import Sequence

from kb.book.model.family import FigureKind
from kb.intake.json_schema.editor_view import Schema
from kb.quantity import CRANK_KEYS, KEY_DIMENSIONS, VALUE_KEYS, Dimension

_ALONE = (Dimension.ORDER, Dimension.MARK, Dimension.CODE, Dimension.CORRECTION)


def units_of(kind: FigureKind) -> list[str]:
    """The value keys under which a figure may be stated: its units and, for an angle, a straddling window."""
    listed = set(kind.units)
    if listed & set(CRANK_KEYS):
        listed |= {"from", "to"}
    return [key for key in VALUE_KEYS if key in listed]


def also_units(kind: FigureKind) -> list[str]:
    """The value keys allowed under ``also`` for a figure; none if the figure has just one unit."""
    keys = [key for key in units_of(kind) if KEY_DIMENSIONS[key] not in _ALONE]
    return keys if len(keys) > 1 else []


def one_at_most(keys: Sequence[str]) -> dict[str, Schema]:
    """For each key, a schema that forbids the keys after it; ``from`` and ``to`` count as one key."""
    units = [key for key in keys if key != "to"]
    return {
        unit: _without(units[index + 1 :], f"one unit only: there is already {unit}")
        for index, unit in enumerate(units[:-1])
    }


def paired(keys: Sequence[str]) -> Schema:
    """``from`` and ``to`` only together, if they are among the keys."""
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
    """``absent`` is alone: no value next to it, and no second unit."""
    return {"absent": _without([*keys, "also"], "absent takes the place of a value and is never beside one")}


def second_units(keys: Sequence[str]) -> dict[str, Schema]:
    """For each unit, what ``also`` must not have: the unit itself, or anything if the unit is never converted."""
    forbidden: dict[str, Schema] = {}
    for key in keys:
        if KEY_DIMENSIONS[key] in _ALONE:
            forbidden[key] = _without(["also"], f"{key} has no second unit")
        elif key not in CRANK_KEYS:  # degrees and a piston position share their keys
            again = _without([key], f"{key} is already the first unit")
            forbidden[key] = {"patternProperties": {_any_of(["also"]): again}}
    return forbidden


def _without(keys: Sequence[str], message: str) -> Schema:
    """None of these keys; an editor marks each that is there, with the message."""
    return {"patternProperties": {_any_of(keys): False}, "errorMessage": message}


def _any_of(keys: Sequence[str]) -> str:
    return f"^(?:{'|'.join(keys)})$"
