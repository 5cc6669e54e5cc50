"""A step that disturbs what another set says so under `makes_stale`, with the ids of steps of the same routine. An
earlier one is then read again before the job ends; a later one only if it was done already, when somebody comes back to
this step."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.spelling import write_instead
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every step that another makes stale."""
    steps = as_list(case.document.get("steps"))
    names = [step["id"] for step in steps]
    unread = {cut.get("id") for cut in case.cuts.below(("steps",)) if isinstance(cut, dict)}
    for number, step in enumerate(steps):
        others = [name for name in names if name != step["id"]]
        for index, name in enumerate(as_list(step.get("makes_stale"))):
            if name in others or name in unread:
                continue
            own = name == step["id"]
            what = "a step cannot make itself stale" if own else f"there is no step {name} in this routine"
            otherwise = f"write another step: {', '.join(others)}" if others else "delete it"
            yield Slip(("steps", number, "makes_stale", index), what, write_instead(name, others, otherwise))


def _steps(stale: str) -> str:
    return (
        "steps:\n  - {id: pickup, do: Set the pickup.}\n"
        f"  - {{id: maximum, do: Set the maximum., makes_stale: [{stale}]}}\n  - {{id: idle, do: Set the idle.}}\n"
    )


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="makes_stale names something that is not another step of the routine",
    why="the sheet would not ask for the check that the step makes necessary",
    bad=(
        Bad(_steps("pickups"), where="pickups", file="routines/example.yaml"),
        Bad(_steps("maximum"), where="maximum", file="routines/example.yaml"),
        Bad(
            "steps:\n  - {id: pickup, do: Set the pickup., makes_stale: [dead-centre]}\n",
            where="dead-centre",
            file="routines/example.yaml",
        ),
    ),
    good=(
        Good(_steps("pickup"), file="routines/example.yaml"),
        Good(_steps("pickup, idle"), file="routines/example.yaml"),
        Good("steps:\n  - {id: pickup, do: Set the pickup.}\n", file="routines/example.yaml"),
    ),
    check=check,
    kinds=("routine",),
)
