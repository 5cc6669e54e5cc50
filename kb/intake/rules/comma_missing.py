"""Commas separate the entries inside brackets."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule
from kb.intake.yaml.fault import Fault


def check(fault: Fault) -> Iterator[Slip]:
    """Say where a comma is missing."""
    what = f"a comma is missing before or inside {fault.found}"
    do = "write a comma between entries; put text that contains a comma, a colon or a bracket in quotes"
    yield Slip(fault.path, what, do, fault.part, place=fault.place)


RULE = Rule(
    severity=Severity.ERROR,
    reads="text",
    summary="no comma between two entries",
    why="two entries would be read as one",
    bad=(
        Bad("engine: {cycle: two-stroke cylinders: 3}\n", where="two-stroke cylinders"),
        Bad('engine: {cycle: "two-stroke" cylinders: 3}\n', where='"two-stroke" cylinders: 3'),
        Bad("fits: [\n  {years: 1978}\n  {years: 1980},\n  ]\n", where="{years: 1980},"),
        Bad("figures:\n  plug-gap:\n    - {mm: [0.8, 0.9] source: plate}\n", where="source: plate"),
    ),
    good=(
        Good("engine: {cycle: two-stroke, cylinders: 3, power: {hp: 31}}\n"),
        Good("look_for: two-stroke cylinders\n"),
    ),
    check=check,
)
