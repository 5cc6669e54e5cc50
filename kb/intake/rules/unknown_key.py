"""Every mapping has its known keys; any other key is most likely a typing mistake. The value of an unknown key would be
silently ignored, so it is an error. If the key is plainly a misspelling of a known one, the rest of the file is checked
as if that one were there."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault
from kb.quantity import VALUE_KEYS


def check(fault: Fault) -> Iterator[Slip]:
    """Say which key is meant, or which are allowed here."""
    plain = [key for key in fault.expected if key not in VALUE_KEYS]
    units = len(fault.expected) - len(plain)
    here = ", ".join(plain if plain else fault.expected) + (" and one unit" if plain and units else "")
    do = f"write {either(fault.near)}" if fault.near else f"delete it; the keys allowed here are {here}"
    yield Slip(fault.path, f"{fault.found} is not a key that is allowed here", do, fault.part)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a key that is not allowed there",
    why="the value of a key that nothing reads would be silently ignored",
    bad=(
        Bad("linkege: cam-touches-at-idle\n", where="linkege"),
        Bad("engine: {cycle: two-stroke, cyclinders: 3, power: {hp: 31}}\n", where="cyclinders"),
        Bad(
            """
figures:
  max-advance:
    - bdtc: 24
      state: cranking
      source: handbook
      page: 42
""",
            where="bdtc",
        ),
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, colour: red, source: plate}\n", where="colour"),
        Bad("engine: {cycle: two-stroke, cylinders: 3, power: {HP: 31}}\n", where="HP"),
        Bad("figures:\n  plug-gap:\n    - {mm: {atleast: 0.9}, source: plate}\n", where="atleast"),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, note: read in poor light, source: plate}\n"),
        Good("linkage: cam-touches-at-idle  # linkege: a slip of the keys in a comment is none\n"),
    ),
    check=check,
)
