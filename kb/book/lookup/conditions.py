"""Choosing among a figure's entries under different conditions: the one asked for, or an error that asks which."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import compress
from math import inf

from kb.errors import ConditionNeeded, ConditionNotFound

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Sequence
    from typing import Any

    from kb.book.model.catalogue import FigureKind
    from kb.book.model.documents import Entry
    from kb.book.model.engine_ranges import Document

_METRES = {"m": 1.0, "ft": 0.3048}
_SAME_HEIGHT = 0.5
"""Metres within which two heights are one: ranges are printed in whole metres or feet."""


def choose(kind: FigureKind, entries: Sequence[Entry], asked: Mapping[str, Any]) -> Entry:
    """The one of several entries of a figure that was asked for.

    An entry that names more of the conditions asked for is preferred; one that names another value is out. At the very
    height at which a jet changes, the one for lower down answers, the richer one. Where several are left with the same
    value, the least sure one answers, and a remark names the others.

    Raises:
        ConditionNotFound: nothing is known under those conditions, or the figure has no such condition.
        ConditionNeeded: several are left with different values; candidates are their conditions.
    """
    label = kind.label.lower()
    for key in asked:
        if key not in kind.conditions:
            raise ConditionNotFound(f"{label} does not depend on {key}", kind.conditions)
    held = [entry for entry in entries if _matches(entry["at"], asked)]
    if not held:
        wanted = ", ".join(f"{key} {_in_words(value)}" for key, value in asked.items())
        raise ConditionNotFound(f"nothing is known of {label} at {wanted}", _conditions(entries))
    best = max(sum(key in entry["at"] for key in asked) for entry in held)
    left = [entry for entry in held if sum(key in entry["at"] for key in asked) == best]
    left, higher = _richer(left, asked.get("altitude"))
    if len({_says(entry) for entry in left}) > 1:
        keys = sorted({key for entry in left for key in entry["at"]} - set(asked))
        raise ConditionNeeded(f"{label} differs by {' and '.join(keys) or 'condition'}; say which", _conditions(left))
    chosen = max(left, key=_weakness)
    if "error" in chosen:
        return chosen
    remarks = list(chosen["remarks"])
    if higher:
        remarks.append(
            f"at this height it changes; the richer one answers, not that for {'; '.join(_conditions(higher))}"
        )
    if others := [entry for entry in left if entry is not chosen]:
        remarks.append(f"the same is stated for: {'; '.join(_conditions(others))}")
    remarks += [f"no statement mentions {key}" for key in asked if key not in chosen["at"]]
    return {**chosen, "remarks": remarks}


def _richer(entries: list[Entry], asked: Any) -> tuple[list[Entry], list[Entry]]:
    """Of entries that hold at one height those whose range does not begin just there, and those whose range does; all
    of them, if they all do. The air is thinner higher up, so what is stated for lower down is the richer."""
    if len(entries) < 2 or not any("altitude" in entry["at"] for entry in entries) or not isinstance(asked, Mapping):
        return entries, []
    height = _lowest_metres(asked)
    begins = [abs(_lowest_metres(entry["at"].get("altitude") or {}) - height) < _SAME_HEIGHT for entry in entries]
    if all(begins):
        return entries, []
    return [one for one, here in zip(entries, begins, strict=True) if not here], list(compress(entries, begins))


def _lowest_metres(stated: Mapping[str, Any]) -> float:
    """The height at which a stated range begins; without end if it has none."""
    for unit, held in stated.items():
        if isinstance(held, Mapping):
            least = float(held.get("at_least", -inf))
            if "nominal" in held:
                least = float(held["nominal"]) - float(held.get("minus", held.get("plus_minus")))
        else:
            least = float(held[0] if isinstance(held, list) else held)
        return least * _METRES[unit]
    return -inf


def _weakness(entry: Entry) -> int:
    from kb.vocabulary.evidence import HowSure  # without conditions nothing is chosen between

    return 0 if "error" in entry else HowSure.words.index(entry["standing"])


def _says(entry: Entry) -> object:
    """The content of an entry for comparison: its value as printed, or in a dispute what each side states."""
    return tuple(entry["candidates"]) if "error" in entry else entry["printed"]


def _conditions(entries: Sequence[Entry]) -> list[str]:
    return [entry["conditions"] or "no condition" for entry in entries]


def _in_words(value: Any) -> str:
    if isinstance(value, Mapping):
        return ", ".join(f"{inner} {key}" for key, inner in value.items())
    return str(value)


def _matches(at: Document, asked: Mapping[str, Any]) -> bool:
    return all(key not in asked or _holds(value, asked[key]) for key, value in at.items())


def _holds(stated: Any, asked: Any) -> bool:
    """Whether a condition as stated (text, a pair of texts, or units with either) holds for what is asked."""
    if isinstance(asked, Mapping):
        return isinstance(stated, Mapping) and any(_holds_in(stated, key, value) for key, value in asked.items())
    if isinstance(stated, str) and stated == str(asked):
        return True
    try:
        number = float(asked)
        if isinstance(stated, list):
            return float(stated[0]) <= number <= float(stated[1])
        if isinstance(stated, Mapping):
            return _in_bounds(stated, number)
        return float(stated) == number
    except (TypeError, ValueError):  # words
        return False


def _in_bounds(stated: Document, number: float) -> bool:
    if "nominal" in stated:
        plus, minus = (stated.get(key, stated.get("plus_minus")) for key in ("plus", "minus"))
        nominal = float(stated["nominal"])
        return nominal - float(minus) <= number <= nominal + float(plus)
    if "at_least" in stated:
        return float(stated["at_least"]) <= number
    return "at_most" in stated and number <= float(stated["at_most"])  # else it has a unit, and none was given


def _holds_in(stated: Document, unit: str, asked: Any) -> bool:
    """Whether a quantity as stated holds for a number with its unit; heights are compared across metres and feet."""
    if unit in stated:
        return _holds(stated[unit], asked)
    (key,) = stated if len(stated) == 1 else ("",)
    if unit in _METRES and key in _METRES:
        try:
            return _holds(stated[key], float(asked) * _METRES[unit] / _METRES[key])
        except (TypeError, ValueError):
            return False
    return False
