"""Which statements of the demonstration families have redundant evidence; fixed before any slip is planted.

It is told from the documents alone, never from what the rules say: a second unit on the page, a second independent
original that prints the figure in the same state and conditions, the other state beside a correction from the same
source or from one of which the page is superseded, a range of serial numbers that ends where one of the family's does,
or a piston position beside degrees.
"""

from __future__ import annotations

from collections.abc import Mapping, Set
from dataclasses import dataclass

from kb.book.evidence.standing import original_of
from kb.book.model.engine_kinds import changeovers
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
        statements, ends = families[key].statements, {end for fit in families[key].fits for end in changeovers(fit)}
        for figure, entries in statements.items():
            for statement in entries:
                if statement.absent or "mark" in statement.document:
                    continue
                kinds = (*_kinds(figure, statement, statements, sources), *_reach(statement, ends))
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


def _reach(statement: Statement, ends: Set[object]) -> list[str]:
    return ["range"] if statement.supersedes and statement.only and changeovers(statement.only) <= ends else []


def _adds_up(statement: Statement, statements: Mapping[str, tuple[Statement, ...]]) -> bool:
    stated = [one for figure in ("max-advance", "cranking-correction") for one in statements.get(figure, ())]
    sources = {statement.source, *(statement.supersedes or ())[:1]}
    sources |= {one.source for one in stated if one.supersedes and one.supersedes[0] in sources}
    of_source = [one for one in stated if one.source in sources and not one.absent]
    parts = {"correction" if other.figure == "cranking-correction" else other.state for other in of_source}
    return {"cranking", "running", "correction"} <= parts
