"""An id that was given up may say under `to` where it went: to ids of the same kind, which must be there. One that went
nowhere has no `to`."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import RuleContext, StatementCase
from kb.intake.rules import Bad, Facts, Good, Rule


def gather(case: StatementCase) -> list[Any]:
    """For each id that a retired one went to: its place, the kind and the id."""
    return [
        [list(case.original(("retired", number, "to", index))), entry["kind"], to]
        for number, entry in enumerate(as_list(case.document.get("retired")))
        for index, to in enumerate(as_list(entry.get("to")))
    ]


def check(facts: Facts, desk: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every id that a retired one went to."""
    there: Mapping[str, Collection[str]] = {
        "family": desk.families,
        "source": desk.sources,
        "maker": desk.makers,
        "figure": desk.figure_ids,
    }
    for file, went in facts.items():
        for path, kind, to in went:
            if to not in there[kind]:
                what, do = desk.instead(kind, to, there[kind], "write where it went, or take it out of to")
                yield file, Slip(tuple(path), what, do)


def _entry(kind: str, to: str) -> str:
    return f"retired:\n  - {{id: old-one, kind: {kind}, to: [{to}], since: 2026-02-01, because: a misread badge}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="an id that was given up for one that there is not",
    why="whoever follows an old id would be sent nowhere",
    bad=(
        Bad(_entry("family", "skerrow/exampel"), where="skerrow/exampel", file="retired.yaml"),
        Bad(_entry("source", "plates"), where="plates", file="retired.yaml"),
        Bad(_entry("figure", "old-one"), where="old-one", file="retired.yaml"),
        Bad(_entry("maker", "skerrow, nobody"), where="nobody", file="retired.yaml"),
    ),
    good=(
        Good(_entry("family", "skerrow/example, skerrow/other"), file="retired.yaml"),
        Good("retired:\n  - {id: old-one, kind: family, since: 2026-02-01, because: a joke}\n", file="retired.yaml"),
    ),
    check=check,
    gather=gather,
    kinds=("retired",),
)
