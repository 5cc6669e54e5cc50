"""A source may say how many pages it has. A page beyond its last one is a typing mistake, or a page of another source.
Pages such as 7-3, which are numbered by chapter, are not checked."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The page of every statement whose source says how many it has."""
    ends: dict[str, int | None] = {}
    for figure, statements in case.family.statements.items():
        for statement in statements:
            source, page = statement.source, statement.page
            if source not in ends:
                ends[source] = _last_page(case, source)
            last = ends[source]
            if last and page.isdigit() and not 1 <= int(page) <= last:
                what = f"there is no page {page} in {source}, which has {last} pages"
                do = f"write the page that states it, or correct pages in sources/{source}.yaml"
                yield Slip(("figures", figure, statement.index, "page"), what, do)


def _last_page(case: FileCase, key: str) -> int | None:
    source = case.context.sources.get(key)
    return int(source.document["pages"]) if source and source.paged and "pages" in source.document else None


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a page beyond the last page of its source",
    why="a second reader would look for the page in vain",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 65}\n", where="65"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 0}\n", where="0"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: manual, page: 138}\n",
            where="138",
            beside={"sources/manual.yaml": "pages: 120\n"},
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 64}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 7-65}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: manual, page: 912}\n"),
    ),
    check=check,
)
