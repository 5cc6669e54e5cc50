"""A file is a mapping: keys at the left edge, each with its value after a colon."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what the file is instead."""
    what = f"the file is {fault.found}, not keys with values"
    do = "begin the lines with a key and a colon, such as name: or maker:, at the left edge"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a file that is a list or plain text",
    why="nothing in it has a key to find it by",
    bad=(
        Bad("- name: Example 31\n- maker: skerrow\n", where="- name: Example 31", whole=True),
        Bad("Example 31 by skerrow\n", where="Example 31 by skerrow", whole=True),
        Bad("[name, maker]\n", where="[name, maker]", whole=True),
        Bad("# a family\nname:Example 31\n", where="name:Example 31", whole=True),
    ),
    good=(Good("name: Example 31\n", whole=True), Good("{name: Example 31, maker: skerrow}\n", whole=True)),
    check=check,
)
