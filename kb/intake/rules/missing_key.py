"""Some keys must be there: a family's name and maker, a statement's unit and source, an exception's reason; and a key
that is there must have something behind it. Where a page says nothing, write `absent: not-stated` instead of a unit."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import WHOLE_FILE, Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what is missing and give an example of it."""
    if fault.found == "nothing":
        key = fault.path[-1] if fault.path else ""
        what, do = (f"nothing stands behind {key}", f"write a value, or take {key} out")
        if isinstance(key, int):
            what, do = "an entry with nothing in it", "write a value, or take the entry out"
        yield Slip(fault.path, what, do, fault.part)
    else:
        what, do = f"{fault.found} is missing", f"add it, such as {fault.expected[0]}"
        yield Slip(fault.path, what, do, fault.part, place=None if fault.path else WHOLE_FILE)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a key that must be there is not, or has nothing behind it",
    why="a figure without its unit or its source can not be used, and a gap is never to be taken for a value",
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
