"""A step that disturbs what was set earlier says so under `makes_stale`, with the ids of earlier steps of the same
routine. It cannot make a later step stale, since that has not been done yet."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import write_instead
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every step that a later one makes stale."""
    steps = as_list(case.document.get("steps"))
    names = [step["id"] for step in steps]
    unread = {cut.get("id") for cut in case.cuts.below(("steps",)) if isinstance(cut, dict)}
    for number, step in enumerate(steps):
        earlier = names[:number]
        for index, name in enumerate(as_list(step.get("makes_stale"))):
            if name in earlier or name in unread:
                continue
            what = f"there is no step {name} before this one"
            if name == step["id"]:
                what = "a step cannot make itself stale"
            elif name in names:
                what = f"the step {name} comes after this one"
            otherwise = f"write an earlier step: {', '.join(earlier)}" if earlier else "delete it"
            yield Slip(("steps", number, "makes_stale", index), what, write_instead(name, earlier, otherwise))


def _steps(stale: str) -> str:
    return (
        "steps:\n  - {id: pickup, do: Set the pickup.}\n"
        f"  - {{id: maximum, do: Set the maximum., makes_stale: [{stale}]}}\n  - {{id: idle, do: Set the idle.}}\n"
    )


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="makes_stale names something that is not an earlier step",
    why="the sheet would not ask for the check that the step makes necessary",
    bad=(
        Bad(_steps("pickups"), where="pickups", file="routines/example.yaml"),
        Bad(_steps("idle"), where="idle", file="routines/example.yaml"),
        Bad(_steps("maximum"), where="maximum", file="routines/example.yaml"),
        Bad(
            "steps:\n  - {id: pickup, do: Set the pickup., makes_stale: [dead-centre]}\n",
            where="dead-centre",
            file="routines/example.yaml",
        ),
    ),
    good=(
        Good(_steps("pickup"), file="routines/example.yaml"),
        Good("steps:\n  - {id: pickup, do: Set the pickup.}\n", file="routines/example.yaml"),
    ),
    check=check,
    kinds=("routine",),
)
