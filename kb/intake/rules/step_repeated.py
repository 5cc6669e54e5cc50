"""Ids distinguish the steps of a routine: a sheet files what is recorded at a step under its id, and `makes_stale`
refers to it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The ids of a routine's steps."""
    seen: set[str] = set()
    for number, step in enumerate(as_list(case.document.get("steps"))):
        if step["id"] in seen:
            yield Slip(("steps", number, "id"), f"this is a second step {step['id']}", "give one of the two another id")
        seen.add(step["id"])


def _steps(*names: str) -> str:
    return "steps:\n" + "".join(f"  - {{id: {name}, do: Do it.}}\n" for name in names)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="two steps of a routine with one id",
    why="what was recorded at one step would be shown at the other",
    bad=(
        Bad(_steps("pickup", "pickup"), where="pickup", file="routines/example.yaml"),
        Bad(_steps("pickup", "maximum", "pickup"), where="pickup", file="routines/example.yaml"),
        Bad(_steps("idle", "idle", "idle"), where="idle", file="routines/example.yaml", count=2),
    ),
    good=(
        Good(_steps("pickup", "pickup-again"), file="routines/example.yaml"),
        Good(_steps("idle"), file="routines/example.yaml", beside={"routines/second.yaml": _steps("idle")}),
    ),
    check=check,
    kinds=("routine",),
)
