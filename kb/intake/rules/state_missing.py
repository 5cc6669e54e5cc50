"""If a figure may be stated in several states, a statement must say which one it means: a maximum read while cranking
differs from one read when running. The state may be left out only where the catalogue allows just one."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import value_keys


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement and reading without a state; one marked absent needs none."""
    for stated in case.stated:
        document = stated.document
        if "state" not in document and len(stated.kind.states) > 1 and "absent" not in document:
            unit = value_keys(document)[0]
            do = f"add state: {either(stated.kind.states)}, as the page says"
            yield Slip((*stated.path, unit), f"{stated.figure} has no state", do, Part.KEY)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="no state on a figure that may be stated in several",
    why="an engine set when running to a figure meant for cranking can be two degrees too early",
    bad=(
        Bad("figures:\n  max-advance:\n    - {btdc: 24, source: handbook, page: 42}\n", where="btdc"),
        Bad("figures:\n  idle-timing:\n    - {from: {btdc: 2}, to: {atdc: 3}, source: plate}\n", where="from"),
        Bad(
            "as_found:\n  max-advance:\n    - {btdc: 27}\n",
            where="btdc",
            file="reports/skerrow/example/2026-05-12-slip.yaml",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
        Good("figures:\n  max-advance:\n    - {absent: not-stated, source: leaflet}\n"),
    ),
    check=check,
    kinds=("family", "report"),
)
