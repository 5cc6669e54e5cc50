"""A value must be of the kind that its key takes: a list where several entries are possible, a year of four digits, a
date, an id of lower-case letters, digits and hyphens."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what is there and what is wanted."""
    keys = [part for part in fault.path if isinstance(part, str)]
    if fault.part is Part.KEY:
        what = f"{fault.found} is not an id"
    elif not keys:
        what = f"the whole file is {fault.found}"
    else:
        what = f"{fault.found} is not allowed under {keys[-1]}"
    yield Slip(fault.path, what, f"write {fault.expected[0]}", fault.part)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a value of the wrong kind for its key",
    why="it cannot be read, so it would be missing from every answer",
    bad=(
        Bad("fits:\n  - years: [78, 1981]\n", where="78"),
        Bad("engine: {cycle: two-stroke, cylinders: three, power: {hp: 31}}\n", where="three"),
        Bad("figures:\n  plug-gap:\n    - {mm: [0.9], source: plate}\n", where="[0.9]"),
        Bad("figures:\n  plug-gap: {mm: 0.9, source: plate}\n", where="{mm: 0.9, source: plate}"),
        Bad("figures:\n  Plug gap:\n    - {mm: 0.9, source: plate}\n", where="Plug gap"),
        Bad("- name: Example 31\n- maker: skerrow\n", where="", whole=True),
        Bad("figures:\n  idle-timing:\n    - {tdc: 4, state: cranking, source: handbook, page: 40}\n", where="4"),
    ),
    good=(
        Good("fits:\n  - years: 1978\n    serials: {from: 300100, to: 418999}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: [0.8, 0.9], source: plate}\n"),
    ),
    check=check,
)
