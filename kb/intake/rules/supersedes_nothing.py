"""`supersedes` names the source and page of an earlier statement of the same figure, which stays in the file and is
shown as superseded. If it matches no statement, it supersedes nothing."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement that supersedes another."""
    for figure, statements in case.family.statements.items():
        for statement in statements:
            if not statement.supersedes or statement.supersedes[0] not in case.context.sources:
                continue
            source, page = statement.supersedes
            others = [other for other in statements if other is not statement]
            if any(other.source == source and page in ("", other.page) for other in others):
                continue
            if case.cuts.touched(("figures", figure)):
                continue  # it may supersede the statement that could not be read
            pages = dict.fromkeys(other.page for other in others if other.source == source and other.page)
            do = f"write page {either(pages)}" if pages else f"add the statement from {source}, or delete supersedes"
            what = f"no other statement of {figure} is from {source}" + (f", page {page}" if page else "")
            yield Slip(("figures", figure, statement.index, "supersedes"), what, do)


def _stated(superseded: str, *others: str) -> str:
    first = f"{{mm: 0.8, source: leaflet, page: 2, supersedes: {superseded}}}"
    return "figures:\n  plug-gap:\n" + "".join(f"    - {one}\n" for one in (first, *others))


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a statement that supersedes one which does not exist",
    why="the replaced page would go on counting, or was never entered",
    bad=(
        Bad(_stated("{source: handbook, page: 38}"), where="{source: handbook, page: 38}"),
        Bad(
            _stated("{source: handbook, page: 83}", "{mm: 0.9, source: handbook, page: 38}"),
            where="{source: handbook, page: 83}",
        ),
        Bad(_stated("{source: leaflet, page: 2}"), where="{source: leaflet, page: 2}"),
    ),
    good=(
        Good(_stated("{source: handbook, page: 38}", "{mm: 0.9, source: handbook, page: 38}")),
        Good(_stated("{source: plate}", "{mm: 0.9, source: plate}")),
    ),
    check=check,
)
