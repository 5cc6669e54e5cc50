"""A byte order mark is an invisible character that some editors put before the first letter of a UTF-8 file."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say that it is there and how to get rid of it."""
    what = "an invisible byte order mark (BOM) comes before the first letter"
    do = "save the file as UTF-8 without BOM, under that name in the editor's list of encodings"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="an invisible byte order mark before the first letter",
    why="programs that do not expect it take it for part of the first key",
    bad=(
        Bad(b"\xef\xbb\xbfname: Example 31\nmaker: skerrow\n", where="name: Example 31"),
        Bad(b"\xef\xbb\xbf# a comment\nname: Example 31\n", where="# a comment"),
        Bad(b"\xef\xbb\xbfname: Example 31\r\nmaker: skerrow\r\n", where="name: Example 31"),
    ),
    good=(Good(b"name: Example 31\nmaker: skerrow\n"), Good("# a comment\nname: Example 31\n", whole=True)),
    check=check,
)
