"""A list in brackets ends with ``]``, a mapping in braces with ``}``, on the line where it begins or on a later line
that is indented further."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say which bracket is missing or superfluous."""
    opening = fault.expected[0]
    closing = {"[": "]", "{": "}", "": ""}[opening]
    if opening:
        what = f"{fault.found} opens with {opening} and is never closed with {closing}"
        do = f"write {closing} where it ends"
    else:
        what = f"{fault.found} closes a bracket that was never opened"
        do = "delete it, or write the opening bracket where the list or mapping begins; if it is text, put it in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="a bracket without its partner",
    why="without it there is no telling where the list or mapping ends",
    bad=(
        Bad(
            "figures:\n  throttle-pickup:\n    - atdc: [4, 6\n      state: cranking\n      source: handbook\n",
            where="[4, 6",
        ),
        Bad("engine: {cycle: two-stroke, cylinders: 3\n", where="{cycle: two-stroke, cylinders: 3"),
        Bad("figures:\n  throttle-pickup:\n    - atdc: [4, 6}\n      state: cranking\n", where="[4, 6}"),
        Bad("figures:\n  throttle-pickup:\n    - atdc: [4, 6]]\n      state: cranking\n", where="]"),
        Bad("figures:\n  throttle-pickup:\n    - atdc: [4, 6)\n      state: cranking\n", where="[4, 6)"),
        Bad("cautions: ]\n", where="]"),
    ),
    good=(
        Good("engine: {\n  cycle: two-stroke, cylinders: 3,\n  power: {hp: 31}}\n"),
        Good("look_for: a bracket ] on the plate\n"),
        Good('look_for: "[E31"\n'),
    ),
    check=check,
)
