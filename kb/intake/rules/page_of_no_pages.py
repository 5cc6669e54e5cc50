"""A plate, a bench measurement, common practice and memory have no pages. A page on a statement from one of them means
that the source is the wrong one, or that its kind is wrong."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every page that a statement names, its own or the one it supersedes."""
    sources = {key: source for key in case.cited if (source := case.context.sources.get(key))}
    pageless = {key: source.kind for key, source in sources.items() if source.kind and not source.paged}
    for path, key in _paged(case) if pageless else ():
        if key in pageless:
            what = f"a page of {key}, which has no pages (kind: {pageless[key]})"
            yield Slip(path, what, "delete the page, or name the document that has this page")


def _paged(case: FileCase) -> Iterator[tuple[Path, str]]:
    """The place of every page that is named, and its source."""
    for figure, statements in case.family.statements.items():
        for statement in statements:
            if statement.page:
                yield ("figures", figure, statement.index, "page"), statement.source
            if statement.supersedes and statement.supersedes[1]:
                yield ("figures", figure, statement.index, "supersedes", "page"), statement.supersedes[0]


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a page of a source that has no pages",
    why="the figure comes from some document, and it is not the source that is named",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, page: 38}\n", where="38"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: bench, page: 4-12}\n", where="4-12"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.8, source: plate, supersedes: {source: custom, page: 7}}\n"
            "    - {mm: 0.9, source: custom}\n",
            where="7",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: list, page: 4-12}\n"),
    ),
    check=check,
)
