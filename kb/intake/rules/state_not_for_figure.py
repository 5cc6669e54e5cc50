"""The catalogue lists the states that a figure may be stated in: a cranking speed is never a running one. Only figures
in the same state are compared."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The state of every statement and reading that names one."""
    for stated in case.stated:
        state = stated.document.get("state")
        if state is not None and state not in stated.kind.states:
            what = f"{stated.figure} is never stated for {state}"
            yield Slip((*stated.path, "state"), what, f"write {either(stated.kind.states)}")


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a state that the figure is never stated in",
    why="the figure would be compared with nothing, and nobody who looks for it as it is measured would find it",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, state: running, source: plate}\n", where="running"),
        Bad("figures:\n  idle-speed:\n    - {rpm: 700, state: cranking, source: plate}\n", where="cranking"),
        Bad(
            "as_left:\n  plug-gap:\n    - {mm: 0.9, state: static}\n",
            where="static",
            file="reports/skerrow/example/2026-05-12-slip.yaml",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, state: at-rest, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
    ),
    check=check,
    kinds=("family", "report"),
)
