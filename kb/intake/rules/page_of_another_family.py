"""Some sources give each family pages of its own; such a source says `page_for_one_family: true`. Then a page that is
cited for two families of one maker shows that a statement was typed into the wrong file. It is reported in the family
that cites the page less often. Move the statement, or correct the page; if the source does have a page for several
families, delete `page_for_one_family` from the source's file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Good, Rule


def extract_facts(case: FileCase) -> Any:
    """For each page of a source whose pages each cover one family: how often it is cited, and where first."""
    pages: dict[str, list[Any]] = {}
    sources = {key: source for key in case.cited if (source := case.context.sources.get(key))}
    single = {key for key, source in sources.items() if source.document.get("page_for_one_family") == "true"}
    for figure, statements in case.family.statements.items() if single else ():
        for statement in statements:
            if statement.page and statement.source in single:
                path = list(case.original(("figures", figure, statement.index, "page")))
                pages.setdefault(f"{statement.source} page {statement.page}", [0, path])[0] += 1
    return pages or None


def check(facts: Mapping[str, Any], _context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every page that more than one family cites."""
    cited: dict[str, list[tuple[int, str, list[Any]]]] = {}
    for file, pages in facts.items():
        for page, (count, path) in pages.items():
            cited.setdefault(page, []).append((count, file, path))
    for page, families in cited.items():
        families.sort(key=lambda one: (-one[0], one[1]))
        _, file, _ = families[0]
        owner = file.removeprefix("families/").removesuffix(".yaml")
        for _, other, path in families[1:]:
            yield (
                other,
                Slip(
                    tuple(path),
                    f"{page} belongs to {owner}, and in this source no page covers two families",
                    f"move the statement to {owner} if it was typed into the wrong file, or correct the page",
                ),
            )


_SOURCE = {"sources/handbook.yaml": "page_for_one_family: true\n"}


def _other(page: str) -> str:
    return f"figures:\n  plug-torque:\n    - {{Nm: [18, 22], source: handbook, page: {page}}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="maker",
    summary="a page that belongs to another family",
    why="a figure typed into the wrong file sets one engine to another's figure",
    bad=(
        Bad(_other("42"), where="42", file="families/skerrow/other.yaml", beside=_SOURCE),
        Bad(_other("41"), where="41", file="families/skerrow/other.yaml", beside=_SOURCE),
        Bad(_other("38"), where="38", file="families/skerrow/other.yaml", beside=_SOURCE),
    ),
    good=(
        Good(_other("42"), file="families/skerrow/other.yaml"),
        Good(_other("50"), file="families/skerrow/other.yaml", beside=_SOURCE),
    ),
    check=check,
    extract_facts=extract_facts,
)
