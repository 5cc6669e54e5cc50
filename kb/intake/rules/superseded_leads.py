"""A superseded statement stays in the file and is shown as superseded, below the one that replaced it. Whoever reads
the file, or a change to it, takes the first statement for the one in force. Move the newer one above the older."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.evidence.standing import superseded_by
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, one_per_place
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement that supersedes an earlier one of the list."""
    return one_per_place(_leading(case))


def _leading(case: FileCase) -> Iterator[Slip]:
    for figure, statements in case.family.statements.items():
        superseding = [one for one in statements if "supersedes" in one.document]
        for old in statements if superseding and case.family_facts.has_statements(figure) else ():
            every_part = frozenset(one.only for one in superseding if one.only)
            new = superseded_by(old, superseding, every_part, case.context.sources)
            if new and new.index > old.index:
                what = f"{cite(old)} comes first, but {cite(new)} supersedes it"
                path = ("figures", figure, new.index, "supersedes")
                yield Slip(path, what, f"move the statement from {cite(new)} above it")


_OLD = "    - {mm: 0.9, source: handbook, page: 38}\n"
_NEW = "    - {mm: 0.8, source: leaflet, page: 2, supersedes: {source: handbook, page: 38}}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a superseded statement before the one that supersedes it",
    why="whoever reads the file takes the first statement for the one in force",
    bad=(
        Bad(f"figures:\n  plug-gap:\n{_OLD}{_NEW}", where="{source: handbook, page: 38}"),
        Bad(
            f"figures:\n  plug-gap:\n{_OLD}    - {{mm: 0.8, source: plate}}\n{_NEW}",
            where="{source: handbook, page: 38}",
        ),
        Bad(
            f"figures:\n  plug-gap:\n{_OLD}" + _NEW.replace("page: 38}", "page: 38}, only: {serials: {from: 350000}}"),
            where="{source: handbook, page: 38}",
        ),
    ),
    good=(
        Good(f"figures:\n  plug-gap:\n{_NEW}{_OLD}"),
        Good(f"figures:\n  plug-gap:\n    - {{mm: 0.8, source: plate}}\n{_NEW}{_OLD}"),
        Good(f"figures:\n  plug-gap:\n{_OLD}    - {{mm: 0.9, source: leaflet, page: 2}}\n"),
    ),
    check=check,
)
