"""In YAML ``*name`` repeats a part that has a name. In this book every figure is written out in full where it
belongs."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to write instead."""
    what = f"{'' if fault.found.startswith('*') else '*'}{fault.found} repeats a part that is named elsewhere"
    do = "write out here what the source says; if the * is part of the text, put the text in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a repeated part (*)",
    why="a change in one place would silently change another, and a few lines can expand into millions",
    bad=(
        Bad("name: &n Example 31\nlook_for: *n\n", where="*n"),
        Bad("look_for: *plate\n", where="*plate"),
        Bad("figures:\n  plug-gap:\n    - {mm: &g 0.9, also: {in: *g}, source: plate}\n", where="*g"),
        Bad("look_for: &a [*a, *a]\n", where="*a", count=2),
    ),
    good=(
        Good("look_for: E31 *plate* below the coil\n"),
        Good('look_for: "*plate stamped below the coil"\n'),
        Good("look_for: 2 * 3 on the plate  # *plate\n"),
    ),
    check=check,
)
