"""The catalogue's plausible windows, and whether a value is outside one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kb.book.model.family import FigureKind, Statement, as_list
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.float_values import Ends, comparable_ends, exceeds
from kb.quantity import Correction, Dimension, Quantity, read_value


@dataclass(frozen=True, slots=True)
class Bound:
    """A plausible window from the catalogue, with its reason; if ``at`` is given, for these conditions only."""

    window: Quantity
    at: Mapping[str, Any]
    because: str
    ends: Ends
    dimension: Dimension

    def is_exceeded_by(self, statement: Statement, facts: FamilyFacts) -> bool:
        """Whether a statement's value has an end outside the window; false if the two cannot be compared.

        Crank angles count with their side, a correction by its size on either side.
        """
        ends = facts.ends(statement)
        low, high = self.ends
        if ends is not None and low <= ends[0] and ends[1] <= high:  # as nearly always
            return False
        value = statement.value
        if ends is None:
            sizes = [float(point.degrees.value) for point in value.points] if isinstance(value, Correction) else []
            return any(exceeds(size, high) or exceeds(low, size) for size in sizes)
        measured = value.unit.dimension if isinstance(value, Quantity) else None
        if measured is Dimension.PISTON_POSITION:
            measured = Dimension.CRANK_ANGLE
        closed = [end for end in ends if abs(end) != float("inf")]
        return measured is self.dimension and any(exceeds(end, high) or exceeds(low, end) for end in closed)


def bounds_of(kind: FigureKind) -> tuple[Bound, ...]:
    """The plausible windows of one kind of figure."""
    found = []
    for entry in as_list(kind.document.get("plausible")):
        window = read_value(entry)
        ends = comparable_ends(window, None) if isinstance(window, Quantity) else None
        if isinstance(window, Quantity) and ends:
            found.append(Bound(window, entry.get("at") or {}, entry["because"], ends, window.unit.dimension))
    return tuple(found)


def exceeded_bound(bounds: Sequence[Bound], statement: Statement, facts: FamilyFacts) -> Bound | None:
    """The first window that applies under the statement's conditions and that its value exceeds."""
    for bound in bounds:
        if bound.at:
            at = statement.document.get("at") or {}
            if any(at.get(key) != wanted for key, wanted in bound.at.items()):
                continue
        if bound.is_exceeded_by(statement, facts):
            return bound
    return None
