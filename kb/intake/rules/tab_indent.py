"""The spaces before a line show what it belongs to. A tab is wide in one editor and narrow in another, so it is not
allowed there. On an empty line, before a comment and between words it does no harm."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to type instead of the tab."""
    what = "there is a tab before the first word of the line"
    do = "type spaces instead, two for each level; most editors can turn tabs into spaces"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a tab in the indentation",
    why="a tab's width differs from editor to editor, and with it what the line seems to belong to",
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
