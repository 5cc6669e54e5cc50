"""A retired id may say under `to` what replaced it: ids of the same kind, which must exist. An id without a replacement
has no `to`."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> list[Any]:
    """The place, kind and id of each replacement of a retired id."""
    return [
        [list(case.original(("retired", number, "to", index))), entry["kind"], to]
        for number, entry in enumerate(as_list(case.document.get("retired")))
        for index, to in enumerate(as_list(entry.get("to")))
    ]


def check(facts: Facts, context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every replacement of a retired id that does not exist."""
    there: Mapping[str, Collection[str]] = {
        "family": context.families,
        "source": context.sources,
        "maker": context.makers,
        "figure": context.figure_ids,
    }
    for file, replacements in facts.items():
        for path, kind, to in replacements:
            if to not in there[kind]:
                what, do = context.unknown_id(kind, to, there[kind], "write an id that exists, or delete it from to")
                yield file, Slip(tuple(path), what, do)


def _entry(kind: str, to: str) -> str:
    return f"retired:\n  - {{id: old-one, kind: {kind}, to: [{to}], since: 2026-02-01, because: a misread badge}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="a retired id replaced by one that does not exist",
    why="whoever follows the old id would find nothing",
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
    extract_facts=extract_facts,
    kinds=("retired",),
)
