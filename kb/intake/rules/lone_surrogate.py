"""Some characters are written as a pair of numbers, and here is only one of the two; or an escape gives a number that
belongs to no character."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say where the half character comes from."""
    if fault.expected[:1] == ("bytes",):
        what = f"these bytes are half a character ({fault.found})"
    else:
        what = f"{fault.found} is not the number of a character"
    do = "type the character itself, or delete it"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="half a character",
    why="it cannot be shown or stored, and programs stop at it",
    bad=(
        Bad(b"name: Example \xed\xa0\x80\nmaker: skerrow\n", where="\ufffd\ufffd\ufffd"),
        Bad('look_for: "E31 \\ud83d on the plate"\n', where="\\ud83d"),
        Bad('look_for: "E31 \\U0000dc00 on the plate"\n', where="\\U0000dc00"),
        Bad('look_for: "E31 \\UFFFFFFFF on the plate"\n', where="\\UFFFFFFFF"),
    ),
    good=(
        Good("look_for: \U0001f6e5 on the plate\n"),
        Good('look_for: "E31 \\U0001f6e5 on the plate"\n'),
        Good("look_for: E31 \\ud83d on the plate\n"),
    ),
    check=check,
)
