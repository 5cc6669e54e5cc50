"""What belongs to what is shown by the blanks before a line: all keys of one mapping begin in the same column."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def _blanks(count: str) -> str:
    return "no blank" if count == "0" else "one blank" if count == "1" else f"{count} blanks"


def check(fault: Fault) -> Iterator[Slip]:
    """Say in which columns the line could begin."""
    here = _blanks(fault.found)
    others = " or ".join(fault.expected)
    what = f"the line begins behind {here}, where none of the lines above lets it begin"
    do = f"let it begin behind {others} blanks, as the lines it belongs with" if others else "move it to the left edge"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a line that begins in a column of its own",
    why="what the line belongs to is told by its column alone",
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
