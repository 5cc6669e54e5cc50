"""Which statements of the demonstration families have redundant evidence; fixed before any slip is planted.

It is told from the documents alone, never from what the rules say: a second unit on the page, a second independent
original that prints the figure in the same state and conditions, the other state beside a correction from the same
source, or a piston position beside degrees.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from kb.book.evidence.standing import original_of
from kb.book.model.family import Family, Source, Statement


@dataclass(frozen=True)
class Redundant:
    """A statement with the kinds of evidence beside it."""

    family: str
    statement: Statement
    evidence: tuple[str, ...]


def redundant_statements(families: Mapping[str, Family], sources: Mapping[str, Source]) -> list[Redundant]:
    """Every statement with redundant evidence, in order of family, figure and place."""
    found = []
    for key in sorted(families):
        statements = families[key].statements
        for figure, entries in statements.items():
            for statement in entries:
                if statement.absent or "mark" in statement.document:
                    continue
                kinds = tuple(_kinds(figure, statement, statements, sources))
                if kinds:
                    found.append(Redundant(key, statement, kinds))
    return found


def _kinds(
    figure: str, statement: Statement, statements: Mapping[str, tuple[Statement, ...]], sources: Mapping[str, Source]
) -> list[str]:
    kinds = []
    if also := statement.document.get("also"):
        by_piston = any(isinstance(value, Mapping) for value in (also.get("btdc"), also.get("atdc")))
        kinds.append("geometry" if by_piston else "second unit")
    beside = [
        other
        for other in statements[figure]
        if other is not statement
        and not other.absent
        and (other.state, other.at, other.only) == (statement.state, statement.at, statement.only)
        and original_of(other.source, sources) != original_of(statement.source, sources)
        and not sources[other.source].hearsay
    ]
    if beside and not sources[statement.source].hearsay:
        kinds.append("second source")
    if figure in ("max-advance", "cranking-correction") and _adds_up(statement, statements):
        kinds.append("second state")
    return kinds


def _adds_up(statement: Statement, statements: Mapping[str, tuple[Statement, ...]]) -> bool:
    of_source = [
        other
        for figure in ("max-advance", "cranking-correction")
        for other in statements.get(figure, ())
        if other.source == statement.source and not other.absent
    ]
    parts = {"correction" if other.figure == "cranking-correction" else other.state for other in of_source}
    return {"cranking", "running", "correction"} <= parts
