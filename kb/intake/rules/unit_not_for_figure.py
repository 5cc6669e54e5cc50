"""The catalogue lists the units that a figure may be stated in, also under `also`. A gap is not an angle and a torque
is not a length: a different unit most likely comes from another line of the page."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import VALUE_KEYS, value_keys


def check(case: FileCase) -> Iterator[Slip]:
    """The unit of every statement and reading, and those under its ``also``."""
    for path, figure, kind, document in case.stated:
        others = _others(kind.units)
        if others.isdisjoint(document) and others.isdisjoint(document.get("also") or ()):
            continue
        for place, holder in ((path, document), ((*path, "also"), document.get("also") or ())):
            for key in value_keys(holder):
                if key in others:
                    do = f"write it under {either(kind.units)}, as printed"
                    yield Slip((*place, key), f"{key} is not a unit of {figure}", do, Part.KEY)


@cache
def _others(units: tuple[str, ...]) -> frozenset[str]:
    """The value keys that a figure with these units does not have; one with btdc also has from and to."""
    return frozenset(VALUE_KEYS).difference(units, ("from", "to") if "btdc" in units else ())


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a unit that the figure is not measured in",
    why="the value would be compared with values that measure something else",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {deg: 0.9, source: plate}\n", where="deg"),
        Bad("figures:\n  plug-gap:\n    - {in: 0.035, also: {deg: 0.89}, source: plate}\n", where="deg"),
        Bad("figures:\n  max-advance:\n    - {mm: 24, state: cranking, source: handbook, page: 42}\n", where="mm"),
        Bad(
            "as_found:\n  max-advance:\n    - {deg: 27, state: cranking}\n",
            where="deg",
            file="reports/skerrow/example/2026-05-12-slip.yaml",
        ),
    ),
    good=(
        Good("figures:\n  idle-timing:\n    - {from: {btdc: 2}, to: {atdc: 3}, state: cranking, source: plate}\n"),
        Good("figures:\n  max-advance:\n    - {btdc: {mm: 2.9}, also: {btdc: 24}, state: cranking, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {in: 0.035, also: {mm: 0.89, printed_so: true}, source: plate}\n"),
    ),
    check=check,
    kinds=("family", "report"),
)
