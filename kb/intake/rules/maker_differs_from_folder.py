"""A family lies in the folder of its maker, as its id begins with the maker's. If the two differ, one of them is wrong:
move the file, or mend the maker."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule


def check(case: StatementCase) -> Iterator[Slip]:
    """The maker beside the folder; a maker that there is not is reported elsewhere."""
    folder, _, name = case.id.partition("/")
    maker = case.document.get("maker", folder)
    if maker != folder and maker in case.desk.makers:
        do = f"write {folder}, or move the file to families/{maker}/{name}.yaml"
        yield Slip(("maker",), f"the maker is {maker}, but the file lies in the folder of {folder}", do)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a family whose maker is not that of its folder",
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
