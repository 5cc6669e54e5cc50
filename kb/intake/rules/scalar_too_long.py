"""A name, a note or a number is at most a page of text. The rest of a longer one is not read."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how long it is and how long it may be."""
    size, most = int(fault.found), int(fault.expected[0])
    what = f"this value has {size:,} characters; the limit is {most:,}"
    do = "say it in a sentence or two; do not copy a page out of a manual, cite its number"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a value longer than a page of text",
    why="facts are free, but a maker's text is not; nor would it fit on a screen",
    bad=(
        Bad("look_for: " + "x" * 10_001 + "\n", where="x" * 10_001),
        Bad('look_for: "' + "E31 " * 3_000 + '"\n', where='"' + "E31 " * 3_000 + '"'),
        Bad(
            "look_for: |\n" + "  stamped below the coil\n" * 600,
            where="|\n" + "  stamped below the coil\n" * 599 + "  stamped below the coil",
        ),
    ),
    good=(Good("look_for: " + "x" * 10_000 + "\n"), Good("look_for: E31\n" + "# stamped below the coil\n" * 600)),
    check=check,
)
