"""Some keys are required: a family's name and maker, a statement's unit and source, an exception's reason; and every
key needs a value. If a page does not state a figure, write `absent: not-stated` instead of a unit."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import WHOLE_FILE, Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what is missing and give an example of it."""
    if fault.found == "nothing":
        key = fault.path[-1] if fault.path else ""
        what, do = (f"{key} has no value", f"write a value, or delete {key}")
        if isinstance(key, int):
            what, do = "this entry is empty", "write a value, or delete the entry"
        yield Slip(fault.path, what, do, fault.part)
    else:
        what, do = f"{fault.found} is missing", f"add it, for example {fault.expected[0]}"
        yield Slip(fault.path, what, do, fault.part, place=None if fault.path else WHOLE_FILE)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a required key is missing, or has no value",
    why="a figure without its unit or its source cannot be used, and a gap must never be taken for a value",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9}\n", where="{mm: 0.9}"),
        Bad("figures:\n  plug-gap:\n    - {source: plate}\n", where="{source: plate}"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, note: , source: plate}\n", where="note"),
        Bad("engine: {cycle: two-stroke, power: {hp: 31}}\n", where="engine"),
        Bad("name:\n", where="name"),
        Bad(
            "figures:\n  idle-timing:\n    - {from: {btdc: 2}, state: cranking, source: plate}\n",
            where="{from: {btdc: 2}, state: cranking, source: plate}",
        ),
    ),
    good=(
        Good("figures:\n  idle-timing:\n    - {absent: not-stated, source: handbook}\n"),
        Good("figures:\n  idle-timing:\n    - {tdc: 0, state: cranking, source: handbook, page: 40}\n"),
    ),
    check=check,
)
