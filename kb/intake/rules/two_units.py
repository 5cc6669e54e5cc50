"""A value has exactly one unit, the one that the page prints. If the page prints a second one, it goes under `also`,
where it is checked against the first."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault
from kb.quantity import VALUE_KEYS


def check(fault: Fault) -> Iterator[Slip]:
    """Say which two and where the second belongs."""
    inside = fault.path[-2] if len(fault.path) > 1 and fault.path[-2] in VALUE_KEYS else ""
    second = f"{inside}: {{{fault.found}: ...}}" if inside else f"{fault.found}: ..."
    do = f"keep the one that the page prints; if it prints both, write the second as also: {{{second}}}"
    if fault.path[0] != "figures":
        do = "keep the one that the page prints"
    yield Slip(fault.path, f"{fault.found} is a second unit next to {fault.expected[0]}", do, Part.KEY)


RULE = Rule(
    severity=Severity.ERROR,
    reads="typing",
    summary="a value under two units",
    why="nobody could tell which of the two is printed and which was worked out",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {in: 0.035, mm: 0.9, source: plate}\n", where="mm"),
        Bad("figures:\n  max-advance:\n    - {btdc: 24, deg: 24, state: cranking, source: plate}\n", where="deg"),
        Bad("engine: {cycle: two-stroke, cylinders: 3, power: {hp: 31, kW: 23.1}}\n", where="kW"),
        Bad("figures:\n  max-advance:\n    - {btdc: {mm: 3, in: 0.12}, state: cranking, source: plate}\n", where="in"),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {in: 0.035, also: {mm: 0.89}, source: plate}\n"),
        Good("figures:\n  idle-timing:\n    - {from: {btdc: 2}, to: {atdc: 3}, state: cranking, source: plate}\n"),
    ),
    check=check,
)
