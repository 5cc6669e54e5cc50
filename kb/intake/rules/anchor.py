"""YAML can give a part a name (``&late``) and repeat it elsewhere (``*late``). In this book every figure is written out
in full where it belongs, so a name is an error even if nothing repeats it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say which name to delete."""
    what = f"&{fault.found} gives a name to the part after it"
    do = f"delete &{fault.found} and write the value out wherever *{fault.found} is; if & is text, put it in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a named part (&), used or not",
    why="a change in one place would silently change another, in figures that people set engines by",
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
