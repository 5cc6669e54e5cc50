"""A line that begins with ``%`` is an instruction to YAML programs: the version, or short names for tags. This book has
no use for them."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to delete."""
    what = f"{fault.found} is an instruction to YAML programs"
    do = "delete the line"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a directive (%) before the document",
    why="it changes how other programs read the file, but not how this one does",
    bad=(
        Bad("%YAML 1.1\n---\nname: Example 31\n", where="%YAML 1.1", whole=True),
        Bad("%TAG ! tag:example.org,2026:\n---\nname: Example 31\n", where="%TAG ! tag:example.org,2026:", whole=True),
        Bad("# family\n%PLATE E31\n---\nname: Example 31\n", where="%PLATE E31", whole=True),
    ),
    good=(Good("# %YAML 1.1\nname: Example 31\n", whole=True), Good("look_for: 50 %\n")),
    check=check,
)
