"""One family takes up some six thousand characters. A file larger than a mebibyte holds something else and is not read
at all."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say how large the file is and how large it may be."""
    size, most = int(fault.found), int(fault.expected[0])
    what = f"the file has {size:,} bytes; the limit is {most:,}"
    do = "write one family per file; keep scans and tables out of the book"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a file too large to be a family",
    why="reading it would keep everyone waiting, and nobody could review it",
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
