"""A step that sets a figure says under `records` what to write down: as-found, as-left, or both. Otherwise the sheet
shows the figure without a box for the reading. A figure that is only looked at has as-found alone."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.book.setting.routine_figures import figures_of
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every step that has a figure."""
    for number, step in enumerate(as_list(case.document.get("steps"))):
        figures = figures_of(step)
        if figures and not as_list(step.get("records")):
            what = f"the step {step['id']} is about {' and '.join(figures)}, but it records nothing"
            where = "figure" if "figure" in step else "figures"
            yield Slip(("steps", number, where), what, "add records: [as-found, as-left], or one of the two")


def _step(more: str) -> str:
    return f"steps:\n  - {{id: gap, do: Set the gap.{more}}}\n"


RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a step that sets a figure and records nothing",
    why="what nobody wrote down cannot be compared when the engine runs badly later",
    bad=(
        Bad(_step(", figure: plug-gap"), where="plug-gap", file="routines/example.yaml"),
        Bad(
            _step(", figure: breaker-gap, when: {ignition: [breaker-magneto]}"),
            where="breaker-gap",
            file="routines/example.yaml",
        ),
        Bad(_step(", figure: coil-gap, records: []"), where="coil-gap", file="routines/example.yaml"),
        Bad(
            _step(", figures: [{figure: coil-gap}, {figure: plug-gap}]"),
            where="[{figure: coil-gap}, {figure: plug-gap}]",
            file="routines/example.yaml",
        ),
    ),
    good=(
        Good(_step(", figure: plug-gap, records: [as-left]"), file="routines/example.yaml"),
        Good(_step(", figure: plug-type, records: [as-found]"), file="routines/example.yaml"),
        Good(_step(""), file="routines/example.yaml"),
    ),
    check=check,
    kinds=("routine",),
)
