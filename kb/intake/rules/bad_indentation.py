"""The spaces before a line show what it belongs to: all keys of one mapping begin in the same column."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def _spaces(count: str) -> str:
    return "no space" if count == "0" else "one space" if count == "1" else f"{count} spaces"


def check(fault: Fault) -> Iterator[Slip]:
    """Say in which columns the line could begin."""
    here = _spaces(fault.found)
    others = " or ".join(fault.expected)
    what = f"the line is indented by {here}, which fits none of the lines above"
    do = f"indent it by {others} spaces, like the lines it belongs with" if others else "move it to the left edge"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a line whose indentation matches no other line",
    why="the column alone shows what the line belongs to",
    bad=(
        Bad("figures:\n  plug-gap:\n    - mm: 0.9\n       source: plate\n", where="source: plate"),
        Bad("figures:\n  plug-gap:\n    - mm: 0.9\n     source: plate\n", where="source: plate"),
        Bad("engine:\n  cycle: two-stroke\n cylinders: 3\n", where="cylinders: 3"),
        Bad("look_for: E31\n  stamped: below the coil\n", where="stamped: below the coil"),
    ),
    good=(
        Good("engine:\n    cycle: two-stroke\n    cylinders: 3\n    power: {hp: 31}\n"),
        Good("look_for: E31\n  stamped below the coil\n"),
        Good("fits:\n- years: 1978\n  serials: {from: 300100, to: 418999}\n"),
    ),
    check=check,
)
