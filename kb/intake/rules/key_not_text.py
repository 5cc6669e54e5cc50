"""A key is a word. YAML also allows a list, a mapping or nothing at all in its place."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what is in the key's place."""
    what = f"{fault.found.strip()} is in the place of a key" if fault.found.strip() else "there is no key here"
    do = "write a word before the colon, without brackets or a question mark"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a key that is not a word",
    why="it cannot be looked up",
    bad=(
        Bad("look_for: E31\n? [a, b]\n: c\n", where="[a, b]"),
        Bad("engine: {cycle: two-stroke, {a: b}: c}\n", where="{a: b}"),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, [page]: 3}\n", where="[page]"),
        Bad('engine: {cycle: two-stroke, "": 3}\n', where='""'),
    ),
    good=(
        Good("look_for: why? [a] is on the plate\n"),
        Good("engine:\n  ? cycle\n  : two-stroke\n  cylinders: 3\n  power: {hp: 31}\n"),
    ),
    check=check,
)
