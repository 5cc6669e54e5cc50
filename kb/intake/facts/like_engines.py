"""Comparing a figure across similar engines: its middle on each, and those far from the others."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf
from typing import Any

from kb.book.model.family import FigureKind, Statement
from kb.intake.facts.family_facts import FamilyFacts
from kb.quantity import Correction, Quantity, read_value

Engines = list[tuple[float, str, list[Any]]]
"""The middle of a figure, the file and the rest of the path, once for each engine."""

FEWEST_OTHERS = 4


def middle_of(facts: FamilyFacts, statement: Statement) -> float | None:
    """The middle of the printed value, in the unit that its dimension is compared in; None if it has none."""
    ends = facts.ends(statement)
    if ends is None:
        value = statement.value
        points = value.points if isinstance(value, Correction) else ()
        return float(sum(point.signed for point in points) / len(points)) if points else None
    low, high = ends
    return high if low == -inf else low if high == inf else (low + high) / 2


def far_from_others(engines: Engines, kind: FigureKind | None) -> Iterator[tuple[float, float, tuple[str, list[Any]]]]:
    """The engines whose figure is further from the median of the others than the catalogue allows."""
    distance = _distance(kind)
    if distance is None or len(engines) <= FEWEST_OTHERS:
        return
    middles = sorted(middle for middle, _, _ in engines)
    for middle, file, path in engines:
        median = _median_without(middles, middle)
        if abs(middle - median) > distance:
            yield middle, median, (file, path)


def _distance(kind: FigureKind | None) -> float | None:
    outlier = kind and kind.document.get("outlier")
    value = read_value(outlier) if outlier else None
    return float((value.high or 0) * value.unit.factor) if isinstance(value, Quantity) else None


def _median_without(middles: Sequence[float], one: float) -> float:
    """The median of sorted numbers without one of them."""
    gone, half = middles.index(one), (len(middles) - 1) // 2

    def at(index: int) -> float:
        return middles[index + (index >= gone)]

    return at(half) if len(middles) % 2 == 0 else (at(half - 1) + at(half)) / 2


def words(base: float, kind: FigureKind) -> str:
    """A value in words, in the unit of the catalogue's ``outlier``."""
    outlier = read_value(kind.document["outlier"])
    if not isinstance(outlier, Quantity):
        return f"{base:.3g}"
    symbol = outlier.unit.symbol if outlier.unit.symbol in ("°", ":1") else f" {outlier.unit.symbol}"
    if kind.document["dimension"] == "crank-angle":
        symbol += " BTDC" if base >= 0 else " ATDC"
    if kind.document["dimension"] == "correction":
        symbol += " earlier" if base >= 0 else " later"
    return f"{abs(base) / float(outlier.unit.factor):.3g}{symbol}"
