"""A file is empty, or has nothing in it but comments."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what a file begins with."""
    what = "there is nothing in this file but blank lines and comments"
    do = "write the family here, beginning with name: and maker:, or delete the file"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="an empty file",
    why="it would use up an id and say nothing",
    bad=(
        Bad(b"", where="", whole=True),
        Bad("# a family to come\n# with its figures\n", where="# a family to come", whole=True),
        Bad("---\n", where="---", whole=True),
        Bad(b"  \n\n", where=""),
    ),
    good=(Good("name: Example 31\n", whole=True), Good("# a family\nname:\n", whole=True)),
    check=check,
)
