"""The family's linkage selects the routine, so there is one routine for each kind of linkage. Where engines of one
linkage differ, `when` says so, step by step."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> str | None:
    """The linkage that a routine is for."""
    linkage: str | None = case.document.get("linkage")
    return linkage


def check(facts: Facts, _context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every further routine for a linkage; the one named after the linkage counts as the first, then by name."""
    first: dict[str, str] = {}
    for file, linkage in sorted(facts.items(), key=lambda fact: (fact[0] != f"routines/{fact[1]}.yaml", fact[0])):
        if linkage in first:
            what = f"there is already a routine for {linkage}, {first[linkage]}"
            do = "write the linkage this one is for, or move its steps into the other routine under a when"
            yield file, Slip(("linkage",), what, do)
        first.setdefault(linkage, file)


def _routine(linkage: str) -> str:
    return f"name: Another\nlinkage: {linkage}\nsteps:\n  - {{id: wash, do: Wash the plugs.}}\n"


_SECOND = "routines/second.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="two routines for one kind of linkage",
    why="which of the two a mechanic gets would depend on how the files are named",
    bad=(
        Bad(_routine("cam-touches-at-idle"), where="cam-touches-at-idle", file=_SECOND, whole=True),
        Bad(
            _routine("fixed-spark"),
            where="fixed-spark",
            file=_SECOND,
            whole=True,
            beside={"routines/fixed-spark.yaml": _routine("fixed-spark")},
        ),
        Bad(
            _routine("roller-on-mark"),
            where="roller-on-mark",
            file="routines/another.yaml",
            whole=True,
            beside={"routines/roller-on-mark.yaml": _routine("roller-on-mark")},
        ),
    ),
    good=(
        Good(_routine("fixed-spark"), file=_SECOND, whole=True),
        Good(
            _routine("cam-clear-at-idle"),
            file=_SECOND,
            whole=True,
            beside={"routines/fixed-spark.yaml": _routine("fixed-spark")},
        ),
    ),
    check=check,
    extract_facts=extract_facts,
    kinds=("routine",),
)
