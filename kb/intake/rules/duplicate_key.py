"""A key is written once in its mapping. The first is used for the rest of the check; each further one is reported."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say where it was first."""
    what = f"{fault.found} is already on line {fault.expected[0]}"
    do = "keep the one that the source supports and delete the other; a second statement is a new entry of the list"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a key written twice",
    why="some programs take the first and some the last, and none says that there were two",
    bad=(
        Bad("name: Example 31\nmaker: skerrow\nname: Example 32\n", where="name", whole=True),
        Bad("engine: {cycle: two-stroke, cylinders: 3, cylinders: 2, power: {hp: 31}}\n", where="cylinders"),
        Bad("figures:\n  plug-gap:\n    - mm: 0.9\n      source: plate\n      source: handbook\n", where="source"),
        Bad('figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, "mm": 0.8}\n', where='"mm"'),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, also: {in: 0.035}, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n    - {mm: 0.9, source: handbook, page: 3}\n"),
    ),
    check=check,
)
