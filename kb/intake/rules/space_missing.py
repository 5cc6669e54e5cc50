"""A colon ends a key only if a space follows it, and a hyphen begins an entry only if a space follows it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Show the line with the space."""
    sign = "hyphen" if fault.found.startswith("-") else "colon"
    what = f"there is no space after the {sign} in {fault.found}"
    do = f"write {fault.expected[0]}"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="no space after a colon or a hyphen",
    why="without it the line is one piece of text and has no key",
    bad=(
        Bad("engine:\n  cycle:two-stroke\n  cylinders: 3\n", where="cycle:two-stroke"),
        Bad("figures:\n  plug-gap:\n    -mm: 0.9\n     source: plate\n", where="-mm: 0.9"),
        Bad("maker:skerrow\nname: Example 31\n", where="maker:skerrow", whole=True),
        Bad("name: Example 31\nmaker:skerrow\ninvented: true\n", where="maker:skerrow", whole=True),
    ),
    good=(Good("look_for: E31:2 below the coil\n"), Good("look_for: a mark at -5 on the scale\n")),
    check=check,
)
