"""UTF-16 and UTF-32 use two or four bytes for every letter. Some editors save them under the name Unicode."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Name its encoding and the one to save it in."""
    what = f"the file is in {fault.found}, not in UTF-8"
    do = "save the file as UTF-8; some editors call it UTF-8 without BOM, and call this one Unicode"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a file in UTF-16 or UTF-32",
    why="most programs, and every comparison of two versions, take it for binary data and not for text",
    bad=(
        Bad("name: Example 31\nmaker: skerrow\n".encode("utf-16"), where="name: Example 31"),
        Bad("name: Example 31\nmaker: skerrow\n".encode("utf-16-be"), where="name: Example 31"),
        Bad("name: Example 31\nmaker: skerrow\n".encode("utf-32"), where="name: Example 31"),
    ),
    good=(Good("name: Example 31 Ω\n"), Good("look_for: the letters 日本 on the plate\n")),
    check=check,
)
