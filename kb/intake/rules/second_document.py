"""YAML can hold several documents in one file, separated by ``---``. Here a file is one family, or one source; what
comes after the first document is not read."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to do with the second."""
    what = "a second document begins here"
    do = "move it to a file of its own, or delete the line of hyphens or dots above it"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a second document in one file",
    why="only the first would be read, and whatever is in the others would be silently missing",
    bad=(
        Bad("name: Example 31\n---\nname: Example 32\n", where="---", whole=True),
        Bad("---\nname: Example 31\n---\n", where="---", whole=True),
        Bad("name: Example 31\n...\nname: Example 32\n", where="name: Example 32", whole=True),
        Bad("name: Example 31\n--- {name: Example 32}\n", where="--- {name: Example 32}", whole=True),
    ),
    good=(
        Good("---\nname: Example 31\n", whole=True),
        Good("# family\n---\nname: Example 31\n...\n", whole=True),
        Good("look_for: E31 --- stamped below the coil\n"),
    ),
    check=check,
)
