"""What belongs to what is shown by the blanks before a line. A tab is wide in one editor and narrow in another, so
it does not count. On an empty line, before a comment and between words it does no harm."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to type instead of the tab."""
    what = "a tab stands before the first word of the line"
    do = "press the space bar instead, two blanks for each step; most editors can turn tabs into spaces"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a tab in the indentation",
    why="how far a tab reaches differs from editor to editor, and with it what the line belongs to",
    bad=(
        Bad("engine:\n\tcycle: two-stroke\n", where="\t"),
        Bad("figures:\n  plug-gap:\n    - mm: 0.9\n\t  source: plate\n", where="\t  "),
        Bad("figures:\n  plug-gap:\n    -\tmm: 0.9\n      source: plate\n", where="\t"),
    ),
    good=(
        Good("look_for:\tE31 stamped below the coil\n"),
        Good("engine:\n  cycle: two-stroke\n\t\n  cylinders: 3\n  power: {hp: 31}\n"),
        Good("look_for: E31\tstamped\t# below the coil\n"),
    ),
    check=check,
)
