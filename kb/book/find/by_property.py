"""Families by property, read from their headings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from kb.book.model.engine_kinds import range_holds_serial, range_holds_year
from kb.book.model.engine_ranges import Document, Range, as_list, part
from kb.quantity import UNITS, Quantity, read_value


def _wanted(value: Any) -> set[str]:
    return {str(one) for one in (value if isinstance(value, (list, tuple, set, frozenset)) else (value,))}


def _equal(*path: str) -> Callable[[Document, Any], bool]:
    return lambda document, value: str(part(document, *path)) in _wanted(value)


def _listed(*path: str) -> Callable[[Document, Any], bool]:
    return lambda document, value: bool(_wanted(value) & set(part(document, *path) or ()))


def _year(document: Document, value: Any) -> bool:
    ranges = [Range.read(fit.get("years")) for fit in as_list(document.get("fits"))]
    return any(range_holds_year(held, int(value)) for held in ranges if held)


def _serial(document: Document, value: Any) -> bool:
    ranges = [Range.read(fit.get("serials")) for fit in as_list(document.get("fits"))]
    return any(range_holds_serial(held, str(value)) for held in ranges if held)


def _power(document: Document, value: Any) -> bool:
    raw = part(document, "engine", "power")
    power = read_value(raw) if raw else None
    if not isinstance(power, Quantity) or power.low is None:
        return False
    horsepower = float(power.unit.convert(power.low, UNITS["hp"]))
    low, high = value if isinstance(value, (list, tuple)) else (value, value)
    return float(low) - 0.05 <= horsepower <= float(high) + 0.05


_PROPERTIES: dict[str, Callable[[Document, Any], bool]] = {
    "maker": _equal("maker"),
    "cylinders": _equal("engine", "cylinders"),
    "cycle": _equal("engine", "cycle"),
    "layout": _equal("engine", "layout"),
    "carburettors": _equal("engine", "carburettors"),
    "ignition": _equal("ignition", "type"),
    "module": _listed("ignition", "modules"),
    "linkage": _equal("linkage"),
    "figure": _listed("figures"),
    "year": _year,
    "serial": _serial,
    "power": _power,
}


def holds(document: Document, properties: Mapping[str, Any]) -> bool:
    """Whether a family's heading has all the properties.

    Raises:
        TypeError: there is no such property; the message lists the properties.
    """
    unknown = sorted(set(properties) - set(_PROPERTIES))
    if unknown:
        raise TypeError(f"no property {unknown[0]!r}; there are {', '.join(sorted(_PROPERTIES))}")
    return all(_PROPERTIES[name](document, value) for name, value in properties.items())
