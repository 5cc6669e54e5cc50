"""A key is a word. YAML lets a list, a mapping or nothing at all stand in its place."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say what stands there."""
    what = f"{fault.found.strip()} stands where a key should" if fault.found.strip() else "there is no key here"
    do = "write a word before the colon, without brackets and without a question mark"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a key that is no word",
    why="no one can look it up",
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
