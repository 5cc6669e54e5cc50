"""The catalogue's plausible windows, and whether a value lies outside one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from kb.book.geometry import Crank, in_degrees
from kb.book.records import FigureKind, as_list
from kb.quantity import Correction, Quantity, Value, read_value


@dataclass(frozen=True)
class Bound:
    """One window of the catalogue: beyond it a figure is more likely a slip; only under ``at``, where that is given."""

    window: Quantity
    at: Mapping[str, Any]
    because: str

    def left_by(self, value: Value, crank: Crank | None) -> bool:
        """Whether a value has an end outside the window; what can not be compared with it has not.

        Crank angles count by their side, a correction by its size to either side.
        """
        if isinstance(value, Correction):
            return any(not self.window.holds(point.degrees.value) for point in value.points)
        angle = in_degrees(value, crank) if isinstance(value, Quantity) else None
        if angle is None or angle.unit.dimension is not self.window.unit.dimension:
            return False
        return any(not self.window.holds(angle.unit.convert(end, self.window.unit)) for end in _ends(angle))


def _ends(value: Quantity) -> Iterator[Fraction]:
    low, high = value.low, value.high
    if low is not None:
        yield low
    if high is not None and high != low:
        yield high


def bounds_of(kind: FigureKind) -> tuple[Bound, ...]:
    """The plausible windows of one kind of figure."""
    found = []
    for entry in as_list(kind.document.get("plausible")):
        window = read_value(entry)
        if isinstance(window, Quantity):
            found.append(Bound(window, entry.get("at") or {}, entry["because"]))
    return tuple(found)


def bound_left(
    bounds: tuple[Bound, ...], value: Value, at: Mapping[str, Any] | None, crank: Crank | None
) -> Bound | None:
    """The first of the windows that holds under these conditions and that the value leaves."""
    for bound in bounds:
        if all((at or {}).get(key) == wanted for key, wanted in bound.at.items()) and bound.left_by(value, crank):
            return bound
    return None
