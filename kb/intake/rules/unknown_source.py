"""Every statement names its source by the name of a file in sources/; so do `supersedes` and, in a source,
`reprint_of`. A new source is one new file there, with its kind, its title and how it was seen."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Path, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every source that a family or a source refers to."""
    known = case.context.sources
    unknown = {source for source in case.cited if source not in known}
    for path, source in _named(case) if unknown else ():
        if source in unknown:
            otherwise = f"add sources/{source}.yaml with its kind, title and how it was seen"
            titles = {known[key].title: key for key in known}
            what, do = case.context.unknown_id("source", source, known, otherwise, titles)
            yield Slip(path, what, do)


def _named(case: FileCase) -> Iterator[tuple[Path, str]]:
    if case.kind == "source":
        if reprinted := case.document.get("reprint_of"):
            yield ("reprint_of",), reprinted
        return
    for figure, statements in case.family.statements.items():
        for statement in statements:
            yield ("figures", figure, statement.index, "source"), statement.source
            if statement.supersedes:
                yield ("figures", figure, statement.index, "supersedes", "source"), statement.supersedes[0]


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a source that has no file",
    why="a figure whose source nobody can look up is no better than hearsay",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbok, page: 38}\n", where="handbok"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: microfiche, page: 38}\n", where="microfiche"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, supersedes: {source: hand-book, page: 38}}\n",
            where="hand-book",
        ),
        Bad("reprint_of: handbooks\n", where="handbooks", file="sources/reprint.yaml"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: tables}\n",
            where="tables",
            beside={
                "retired.yaml": "retired:\n  - {id: tables, kind: source, to: [manual, list], since: 2026-01-25, "
                "because: two papers in one file}\n"
            },
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: leaflet, page: 3}\n"),
        Good("reprint_of: manual\n", file="sources/reprint.yaml"),
    ),
    check=check,
    kinds=("family", "source"),
)
