"""Some characters have no shape: controls such as NUL, marks that turn the direction of reading, spaces without
width, separators that only some programs take for the end of a line. They come along when text is copied from a
scan."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Name the character by its number."""
    code = " ".join(dict.fromkeys(f"U+{ord(letter):04X}" for letter in fault.found[:20]))
    what = f"an unseen character stands here ({code})"
    do = "delete it: put the cursor behind it and press the backspace key, or type the line anew"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a character that nobody sees",
    why="two values that look alike would differ, or a line would read otherwise than it looks",
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
