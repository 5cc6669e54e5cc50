"""One family fills some six thousand characters. A file beyond a mebibyte holds something else, and is not read at
all."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how large the file is and how large it may be."""
    size, most = int(fault.found), int(fault.expected[0])
    what = f"the file has {size:,} bytes; the largest that is read has {most:,}"
    do = "keep one family to a file; a scan or a table belongs elsewhere"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="the file is too large to be a family",
    why="reading it would keep everyone waiting, and no contributor could look it over",
    bad=(
        Bad(b"name: Example 31\n" + b"# a line of a pasted table\n" * 40_000, where="name: Example 31"),
        Bad(b"# scan\n" + b"look_for: " + b"x" * 1_100_000, where="# scan"),
        Bad(b"\n" * 1_048_577, where=""),
    ),
    good=(
        Good(b"name: Example 31\n" + b"# a line of a pasted table\n" * 30_000),
        Good("look_for: E31 stamped below the coil\n"),
    ),
    check=check,
)
