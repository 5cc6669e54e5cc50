"""In YAML a tag before a value (``!!int``) says what kind of value it is, and some programs create objects from it.
Here every value is text until its figure says what it is."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what to delete."""
    what = f"{fault.found} is a tag, which tells a program what to make of the value"
    do = f"delete {fault.found}; if it is text, put it in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a tag (!) before a value",
    why="a program that obeys tags can be made to run whatever the file says",
    bad=(
        Bad("look_for: !!str E31\n", where="!!str"),
        Bad("look_for: !!python/object/apply:os.system [ls]\n", where="!!python/object/apply:os.system"),
        Bad("look_for: ! E31\n", where="!"),
        Bad("look_for: !plate E31\n", where="!plate"),
        Bad("look_for: !<tag:example.org,2026:plate> E31\n", where="!<tag:example.org,2026:plate>"),
        Bad("look_for: !e!plate E31\n", where="!e!plate"),
    ),
    good=(
        Good("look_for: E31! stamped below the coil\n"),
        Good('look_for: "!E31 stamped below the coil"\n'),
        Good("look_for: E31  # !!str\n"),
    ),
    check=check,
)
