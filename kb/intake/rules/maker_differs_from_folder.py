"""A family is in the folder of its maker, because its id begins with the maker's. If the two differ, one of them is
wrong: move the file, or correct the maker."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The maker compared with the folder; a maker without a file is left to ``unknown-maker``."""
    folder, _, name = case.id.partition("/")
    maker = case.document.get("maker", folder)
    if maker != folder and maker in case.context.makers:
        do = f"write {folder}, or move the file to families/{maker}/{name}.yaml"
        yield Slip(("maker",), f"the maker is {maker}, but the file is in the folder of {folder}", do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a family whose maker differs from its folder",
    why="its id would name one maker and its page another",
    bad=(
        Bad("maker: pellwater\n", where="pellwater"),
        Bad("maker: pellwater\n", where="pellwater", file="families/skerrow/other.yaml"),
        Bad(
            "name: Foehn 9\nmaker: skerrow\ninvented: true\nengine: {cycle: two-stroke, cylinders: 2}\n"
            "ignition: {type: breaker-magneto}\nfigures: {}\n",
            where="skerrow",
            file="families/pellwater/foehn-9.yaml",
            whole=True,
        ),
    ),
    good=(Good("name: Pellwater in all but name\n"), Good("maker: pellwater\n", file="sources/plate.yaml")),
    check=check,
)
