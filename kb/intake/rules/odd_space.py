"""Non-breaking spaces, and spaces wider or narrower than the ordinary one, look like a space but are a letter to YAML.
Inside a sentence they do no harm."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Name the space and what to type instead."""
    code = " ".join(dict.fromkeys(f"U+{ord(letter):04X}" for letter in fault.found[:20]))
    what = f"this looks like a space but is another character ({code})"
    do = "delete it and press the space bar"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a space that is not the ordinary one",
    why="it would become part of the key or value next to it",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm:\u00a00.9, source: plate}\n".encode(), where="\u00a0"),
        Bad("look_for: E31 stamped below the coil\u00a0\n".encode(), where="\u00a0"),
        Bad("look_for:\u2003E31 stamped below the coil\n".encode(), where="\u2003"),
        Bad("engine:\n\u00a0\u00a0cycle: two-stroke\n".encode(), where="\u00a0\u00a0"),
    ),
    good=(Good("look_for: E31\u00a0stamped below the coil\n"), Good("look_for: from 2\u202f000 turns\n")),
    check=check,
)
