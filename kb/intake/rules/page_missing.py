"""A statement from a source that has pages (a handbook, a workshop manual, a bulletin, a parts list) names the page. A
figure marked absent needs none."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The page of every statement whose source has pages."""
    sources = case.context.sources
    for figure, statements in case.family.statements.items():
        for statement in statements:
            if not statement.page and not statement.absent:
                source = sources.get(statement.source)
                if source and source.paged:
                    what = f"the page of {source.title} is missing"
                    do = "add page: with the page that states the figure"
                    yield Slip(("figures", figure, statement.index, "source"), what, do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a statement from a source with pages, without the page",
    why="without the page no second reader can check that the figure was typed correctly",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook}\n", where="handbook"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: leaflet}\n", where="leaflet"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n    - {mm: 0.9, source: list}\n", where="list"),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {absent: not-stated, source: handbook}\n"),
    ),
    check=check,
)
