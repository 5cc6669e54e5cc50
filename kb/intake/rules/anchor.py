"""YAML can name a part (``&late``) and repeat it elsewhere (``*late``). Here every figure stands in full where it
belongs, used or not."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say which name to take out."""
    what = f"&{fault.found} gives the part behind it a name, to be repeated elsewhere"
    do = f"delete &{fault.found}, and write in full wherever *{fault.found} stands; if it is text, put it in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a named part (&), whether it is used or not",
    why="a change in one place would change another one unseen, in figures that men set engines by",
    bad=(
        Bad("look_for: &plate E31 stamped below the coil\n", where="&plate"),
        Bad("figures:\n  plug-gap:\n    - &gap {mm: 0.9, source: plate}\n", where="&gap"),
        Bad("figures:\n  plug-gap:\n    - {mm: &gap 0.9, source: plate}\n", where="&gap"),
        Bad("engine: &engine\n  cycle: two-stroke\n  cylinders: 3\n  power: {hp: 31}\n", where="&engine"),
    ),
    good=(
        Good("look_for: Hollin & Drake below the coil\n"),
        Good('look_for: "&plate stamped below the coil"\n'),
        Good("look_for: R&D on the plate  # &plate\n"),
    ),
    check=check,
)
