"""One unit a statement: how JSON Schema says it so that a mark stands at the key that is one too many.

A union of one schema a unit would say the same, and would mark the whole statement and offer every key several times.
"""

from __future__ import annotations

from collections.abc import Sequence

from kb.book.records import FigureKind
from kb.intake.authoring.showing import Schema
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


def one_unit(keys: Sequence[str], *, absent: bool) -> Schema:
    """Exactly one of the keys (``from`` and ``to`` count as one); where ``absent`` may stand instead, it may."""
    units = [key for key in keys if key != "to"]
    later = {
        unit: {
            "patternProperties": {_any_of(units[index + 1 :]): False},
            "errorMessage": f"one unit only: {unit} is there",
        }
        for index, unit in enumerate(units[:-1])
    }
    rules = some_unit(keys, instead="absent" if absent else units[0])
    return {"dependentSchemas": later, **rules} if later else rules


def some_unit(keys: Sequence[str], *, instead: str) -> Schema:
    """At least one of the keys, or ``instead``; ``from`` and ``to`` only together."""
    units = [key for key in keys if key != "to"]
    words = f"a unit with its value is missing{', or absent' if instead == 'absent' else ''}"
    unless = {
        "if": {"patternProperties": {_any_of(units): False}},
        "then": {"required": [instead], "errorMessage": words},
    }
    pair: Schema = {"dependentRequired": {"from": ["to"], "to": ["from"]}} if "to" in keys else {}
    return {**pair, "allOf": [unless]}


def state_unless_absent(keys: Sequence[str], *, state: bool) -> Schema:
    """A value or ``absent``, never both; and a ``state`` with every value, where the figure has more than one."""
    both = {
        "patternProperties": {_any_of([*keys, "also"]): False},
        "errorMessage": "absent stands instead of a value, never beside one",
    }
    return {"if": {"required": ["absent"]}, "then": both, **({"else": {"required": ["state"]}} if state else {})}


def second_units(keys: Sequence[str]) -> dict[str, Schema]:
    """For each unit, what ``also`` may then not hold: the unit itself, and anything beside what is never converted."""
    forbidden: dict[str, Schema] = {}
    for key in keys:
        if KEY_DIMENSIONS[key] in _ALONE:
            forbidden[key] = {"patternProperties": {"^also$": False}, "errorMessage": f"{key} has no second unit"}
        elif key not in CRANK_KEYS:  # degrees and a piston position share their keys
            again = {"patternProperties": {f"^{key}$": False}, "errorMessage": f"{key} is the first unit already"}
            forbidden[key] = {"patternProperties": {"^also$": again}}
    return forbidden


def _any_of(keys: Sequence[str]) -> str:
    return f"^(?:{'|'.join(keys)})$"
