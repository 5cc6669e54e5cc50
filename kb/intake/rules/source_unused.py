"""A source that no statement cites and no source reprints is either new, with its figures still to come, or its name is
mistyped elsewhere. Say which, with an exception in the source's own file."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> Any:
    """For a family, the sources of its statements; for a source, its id and the source it reprints."""
    if case.kind == "source":
        return {"id": case.id, "reprint_of": case.document.get("reprint_of", "")}
    used = {statement.source for statements in case.family.statements.values() for statement in statements}
    used.update(source for cut in case.cuts.below(("figures",)) for source in _sources(cut))
    return sorted(used)


def _sources(cut: Any) -> Iterator[str]:
    """The sources named in parts that could not be read: a mistake in a statement does not make its source unused."""
    if isinstance(cut, dict) and isinstance(cut.get("source"), str):
        yield cut["source"]
    for inner in cut.values() if isinstance(cut, dict) else cut if isinstance(cut, list) else ():
        yield from _sources(inner)


def check(facts: Facts, _context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every source that nothing uses."""
    used: set[str] = set()
    for fact in facts.values():
        used.update(fact if isinstance(fact, list) else (fact["reprint_of"],))
    for file, fact in facts.items():
        if isinstance(fact, dict) and fact["id"] not in used:
            do = "enter the figures it states, or add an exception that says why it is kept"
            yield file, Slip(("title",), "no statement cites this source", do)


_SOURCE = "invented: true\nkind: plate\ntitle: Spare plate\nseen: on-the-engine\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="book",
    summary="a source that no statement cites",
    why="either its figures are still to be entered, or they cite another source by mistake",
    bad=(
        Bad(_SOURCE, where="Spare plate", file="sources/spare.yaml", whole=True),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: bench}\n", where="Plate on the engine"),
        Bad(f"{_SOURCE}reprint_of: plate\n", where="Spare plate", file="sources/spare.yaml", whole=True),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: bench}\n    - {mm: 0.9, source: plate}\n"),
        Good(_SOURCE, file="sources/spare.yaml", whole=True, beside={"sources/plate.yaml": "reprint_of: spare\n"}),
        Good(
            f"{_SOURCE}exceptions:\n  - {{rule: source-unused, because: its families are to come}}\n",
            file="sources/spare.yaml",
            whole=True,
        ),
    ),
    check=check,
    extract_facts=extract_facts,
    kinds=("family", "source"),
)
