"""The catalogue's plausible windows, and whether a value lies outside one."""

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
    """One window of the catalogue: beyond it a figure is more likely a slip; only under ``at``, where that is given."""

    window: Quantity
    at: Mapping[str, Any]
    because: str
    ends: Ends
    dimension: Dimension

    def left_by(self, statement: Statement, judged: FamilyFacts) -> bool:
        """Whether a statement's value has an end outside the window; what can not be compared with it has not.

        Crank angles count by their side, a correction by its size to either side.
        """
        value, ends = statement.value, judged.ends(statement)
        if ends is None:
            sizes = [float(point.degrees.value) for point in value.points] if isinstance(value, Correction) else []
            return any(exceeds(size, self.ends[1]) or exceeds(self.ends[0], size) for size in sizes)
        low, high = self.ends
        if low <= ends[0] and ends[1] <= high:  # as nearly always
            return False
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


def bound_left(bounds: Sequence[Bound], statement: Statement, judged: FamilyFacts) -> Bound | None:
    """The first of the windows that holds under the statement's conditions and that its value leaves."""
    for bound in bounds:
        if bound.at:
            at = statement.document.get("at") or {}
            if any(at.get(key) != wanted for key, wanted in bound.at.items()):
                continue
        if bound.left_by(statement, judged):
            return bound
    return None
