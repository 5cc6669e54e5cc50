"""A family's maker, and the maker that a source is about, is the name of a file in makers/. A new maker is one new file
there, with its name."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The maker of a family or a source."""
    maker, makers = case.document.get("maker"), case.context.makers
    if maker and maker not in makers:
        called = {name: key for key, known in makers.items() for name in (known.name, *known.also_called)}
        what, do = case.context.unknown_id("maker", maker, makers, f"add makers/{maker}.yaml with its name", called)
        yield Slip(("maker",), what, do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a maker that has no file",
    why="the family would be listed under a maker that nobody can choose",
    bad=(
        Bad("maker: skerow\n", where="skerow"),
        Bad(
            "maker: skerrow-marine\n",
            where="skerrow-marine",
            beside={"makers/skerrow.yaml": "also_called: [Skerrow Marine]\n"},
        ),
        Bad("maker: pelwater\n", where="pelwater", file="sources/plate.yaml"),
        Bad(
            "maker: pell\n",
            where="pell",
            file="sources/plate.yaml",
            beside={
                "retired.yaml": "retired:\n  - {id: pell, kind: maker, to: [pellwater], since: 2026-01-25, "
                "because: there never was a firm of that name}\n"
            },
        ),
    ),
    good=(Good("maker: pellwater\n", file="sources/plate.yaml"), Good("name: Example by Pellwater\n")),
    check=check,
    kinds=("family", "source"),
)
