"""A plate, a bench measurement, common practice and memory have no pages. A page on a statement from one of them means
that the source, or its kind, is the wrong one."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Path, Severity, Slip
from kb.intake.desk import Case
from kb.intake.rules import Bad, Good, Rule


def check(case: Case) -> Iterator[Slip]:
    """Every page that is named, of a statement or of what it supersedes."""
    sources = case.desk.sources
    for figure, statements in case.family.statements.items():
        for statement in statements:
            path: Path = ("figures", figure, statement.index)
            named: list[tuple[Path, str, str]] = [((*path, "page"), statement.source, statement.page)]
            if statement.supersedes:
                named.append(((*path, "supersedes", "page"), *statement.supersedes))
            for place, key, page in named:
                source = sources.get(key) if page else None
                if source and source.kind and not source.paged:
                    what = f"a page of {source.id}, which is a {source.kind} and has none"
                    yield Slip(place, what, "take the page out, or name the paper that it is a page of")


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a page of a source that has no pages",
    why="the figure stands on some paper, and it is not the source that is named",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, page: 38}\n", where="38"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: bench, page: 4-12}\n", where="4-12"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.8, source: plate, supersedes: {source: custom, page: 7}}\n"
            "    - {mm: 0.9, source: custom}\n", where="7"),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: list, page: 4-12}\n"),
    ),
    check=check,
)
