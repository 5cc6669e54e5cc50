"""Some characters are invisible: control characters such as NUL, marks that reverse the reading direction, zero-width
spaces, separators that only some programs treat as the end of a line. They are picked up when text is copied from a
scan."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Name the character by its code point."""
    code = " ".join(dict.fromkeys(f"U+{ord(letter):04X}" for letter in fault.found[:20]))
    what = f"there is an invisible character here ({code})"
    do = "delete it: put the cursor after it and press backspace, or retype the line"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="an invisible character",
    why="two values that look the same would differ, or a line would not say what it seems to say",
    bad=(
        Bad(b"look_for: E31\x00 stamped below the coil\n", where="\x00"),
        Bad("look_for: E31\u200b stamped below the coil\n".encode(), where="\u200b"),
        Bad("look_for: E31 \u202e13E\u202c stamped\n".encode(), where="\u202e", count=2),
        Bad(b"look_for: E31 stamped\xe2\x80\xa8below the coil\n", where="\u2028"),
        Bad(b"look_for: E31 stamped\xc2\x85below the coil\n", where="\x85"),
        Bad(b"look_for: \x1b[1mE31\n", where="\x1b"),
    ),
    good=(
        Good("look_for: E31 stamped, e\u0301maille\u0301\n"),
        Good('look_for: "E31\\u200b stamped below the coil"\n'),
        Good("look_for: \U0001f6e5 on the plate\n"),
    ),
    check=check,
)
