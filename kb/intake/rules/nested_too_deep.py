"""In this book lists and mappings are nested at most nine levels deep. Far deeper nesting is an accident, or meant to
crash a program."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how deep is too deep."""
    what = f"this is nested more than {fault.expected[0]} levels deep in lists and mappings"
    do = "check the brackets, or the spaces before the lines: something was typed many times over"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="lists and mappings nested too deep",
    why="programs that read it would run out of memory",
    bad=(
        Bad("look_for: " + "[" * 40 + "]" * 40 + "\n", where="["),
        Bad("look_for: " + "{a: " * 40 + "}" * 40 + "\n", where="{"),
        Bad("look_for:\n  " + "- " * 40 + "a\n", where="-"),
        Bad("look_for:\n" + "".join(" " * depth + "a:\n" for depth in range(1, 60)), where="a"),
        Bad("look_for: " + "[" * 5_000, where="["),
    ),
    good=(
        Good("look_for: " + "[" * 30 + "]" * 30 + "\n"),
        Good("look_for: '" + "[" * 60 + "'\n"),
        Good("look_for: x\n# " + "[" * 60 + "\n"),
    ),
    check=check,
)
