"""A firing order is written starting from cylinder one, the cylinder that is timed. `[3, 2, 1]` is the same order as
`[1, 3, 2]`, but it looks like another one, and usually two numbers are swapped. Write it starting from 1."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The firing order of the engine."""
    order = (case.document.get("engine") or {}).get("firing_order") or ["1"]
    if order[0] != "1" and "1" in order:
        turned = [*order[order.index("1") :], *order[: order.index("1")]]
        do = f"write [{', '.join(turned)}] if that is the order, or correct the two numbers that were swapped"
        yield Slip(("engine", "firing_order"), f"the order begins with cylinder {order[0]}", do)


def _engine(order: str, cylinders: int = 3) -> str:
    return f"engine: {{cycle: two-stroke, cylinders: {cylinders}, firing_order: {order}}}\n"


RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a firing order that does not begin with cylinder one",
    why="usually two numbers are swapped, which puts the timing of the other cylinders in the wrong place",
    bad=(
        Bad(_engine("[3, 1, 2]"), where="[3, 1, 2]"),
        Bad(_engine("[2, 1]", 2), where="[2, 1]"),
        Bad(_engine("[4, 2, 1, 3]", 4), where="[4, 2, 1, 3]"),
    ),
    good=(Good(_engine("[1, 3, 2]")), Good(_engine("[1]", 1)), Good("engine: {cycle: two-stroke, cylinders: 3}\n")),
    check=check,
)
