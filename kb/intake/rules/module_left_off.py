"""A step that leaves the modules disconnected says `module: disconnected`, and a later one must say `module: connected`
for every engine on which the first is done: it has no `when`, or the same conditions, or some of them. Ids and wording
are yours; these two keys alone tell a sheet that nothing stays unplugged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Module


def check(case: FileCase) -> Iterator[Slip]:
    """Every step that disconnects a module."""
    steps = as_list(case.document.get("steps"))
    if case.cuts.touched(("steps",)):
        return  # the step that reconnects it may be one that could not be read
    for number, step in enumerate(steps):
        if step.get("module") != Module.DISCONNECTED:
            continue
        later = [other for other in steps[number + 1 :] if other.get("module") == Module.CONNECTED]
        if not any(_covers(other.get("when") or {}, step.get("when") or {}) for other in later):
            who = "only a step under another when" if later else "no later step"
            what = f"the step {step['id']} leaves the modules {Module.DISCONNECTED}, and {who} reconnects them"
            when = " and the same when" if "when" in step else ""
            yield Slip(("steps", number, "module"), what, f"add a later step with module: {Module.CONNECTED}{when}")


def _covers(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether a step with the first condition is done wherever a step with the second is."""
    return all(key in other and other[key] == value for key, value in one.items())


def _steps(off: str, on: str = "") -> str:
    last = f"  - {{id: plug-in, do: Plug it in., {on}}}\n" if on else ""
    return f"steps:\n  - {{id: unplug, do: Unplug it., {off}}}\n  - {{id: read, do: Read it.}}\n{last}"


_OFF, _ON, _FITTED = "module: disconnected", "module: connected", "when: {modules: fitted}"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a routine that disconnects a module and never reconnects it",
    why="the engine would leave the workshop without what advances or limits its spark",
    bad=(
        Bad(_steps(_OFF), where="disconnected", file="routines/example.yaml"),
        Bad(
            _steps(f"{_OFF}, {_FITTED}", f"{_ON}, when: {{ignition: [transistor]}}"),
            where="disconnected",
            file="routines/example.yaml",
        ),
        Bad(
            "steps:\n  - {id: plug-in, do: Plug it in., module: connected}\n"
            "  - {id: unplug, do: Unplug it., module: disconnected}\n",
            where="disconnected",
            file="routines/example.yaml",
        ),
        Bad(_steps(_OFF, f"{_ON}, {_FITTED}"), where="disconnected", file="routines/example.yaml"),
    ),
    good=(
        Good(_steps(_OFF, _ON), file="routines/example.yaml"),
        Good(_steps(f"{_OFF}, {_FITTED}", f"{_ON}, {_FITTED}"), file="routines/example.yaml"),
        Good(_steps(f"{_OFF}, {_FITTED}", _ON), file="routines/example.yaml"),
        Good(_steps("module: connected"), file="routines/example.yaml"),
    ),
    check=check,
    kinds=("routine",),
)
