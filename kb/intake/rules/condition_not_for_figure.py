"""The catalogue lists the conditions that a figure may depend on. A plug gap does not depend on the gear. A condition
that is not listed belongs to another figure, or in a note."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import either
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every condition of every statement and reading."""
    for stated in case.stated:
        for key in stated.document.get("at") or ():
            if key not in stated.kind.conditions:
                allowed = stated.kind.conditions
                do = "put it in a note" + (f"; the conditions allowed here are {either(allowed)}" if allowed else "")
                yield Slip((*stated.path, "at", key), f"{stated.figure} does not depend on {key}", do, Part.KEY)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a condition that the figure does not depend on",
    why="only figures under the same conditions are compared, so this one would be compared with none",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, at: {gear: neutral}, source: plate}\n", where="gear"),
        Bad(
            "figures:\n  premix:\n    - {to_one: 50, at: {octane: {ron: 92}, engine: warm}, source: plate}\n",
            where="engine",
        ),
        Bad(
            "as_left:\n  plug-gap:\n    - {mm: 0.9, at: {rpm: 700}}\n",
            where="rpm",
            file="reports/skerrow/example/2026-05-12-slip.yaml",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, note: in neutral, source: plate}\n"),
        Good("figures:\n  idle-speed:\n    - {rpm: 700, at: {gear: in-gear}, source: handbook, page: 43}\n"),
    ),
    check=check,
    kinds=("family", "report"),
)
