"""A reprint counts as one with its original. If a source reprints itself, directly or by way of others, there is no
original, and the sources would be counted as independent."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Follow the reprints from a source."""
    way = [case.id]
    while (source := case.context.sources.get(way[-1])) and source.reprint_of:
        way.append(source.reprint_of)
        if way[-1] == case.id:
            by_way = f" by way of {', '.join(way[1:-1])}" if len(way) > 2 else ""
            yield Slip(("reprint_of",), f"{case.id} reprints itself{by_way}", "delete reprint_of in the original")
        if way[-1] in way[:-1]:
            return


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="sources that reprint each other in a circle",
    why="one document would be counted as two that agree",
    bad=(
        Bad("reprint_of: reprint\n", where="reprint", file="sources/reprint.yaml"),
        Bad("reprint_of: reprint\n", where="reprint", file="sources/handbook.yaml", count=2),
        Bad(
            "reprint_of: manual\n",
            where="manual",
            file="sources/handbook.yaml",
            count=3,
            beside={"sources/manual.yaml": "reprint_of: reprint\n"},
        ),
    ),
    good=(
        Good("reprint_of: manual\n", file="sources/handbook.yaml"),
        Good("reprint_of: handbook\n", file="sources/list.yaml"),
    ),
    check=check,
    kinds=("source",),
)
