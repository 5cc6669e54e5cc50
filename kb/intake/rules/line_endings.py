"""Every line ends with a line feed (LF) alone. Some editors, mostly on Windows, end lines with a carriage return. The
rest of the file is checked as if its lines ended with a line feed."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how the lines end and how they should."""
    name = "a carriage return and a line feed (CRLF)" if fault.found == "CRLF" else "a bare carriage return (CR)"
    what = f"this line, and perhaps others, ends with {name}"
    do = "set line endings to LF in the editor and save; with git, also run: git config core.autocrlf input"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="lines that end with a carriage return",
    why="a comparison of two versions would show every line as changed",
    bad=(
        Bad(b"name: Example 31\r\nmaker: skerrow\r\n", where="name: Example 31"),
        Bad(b"name: Example 31\nmaker: skerrow\r\n", where="maker: skerrow"),
        Bad(b"name: Example 31\rmaker: skerrow\r", where="name: Example 31"),
    ),
    good=(Good(b"name: Example 31\nmaker: skerrow\n"), Good('look_for: "E31\\r stamped below the coil"\n')),
    check=check,
)
