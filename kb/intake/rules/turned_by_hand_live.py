"""A flywheel turned by hand can fire the engine as well as the starter can. So before a step with `turned: by-hand` the
last step that says how it leaves the ignition must leave it `dead`. Where engines differ in how that is done there is a
step for each, with its `when`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.work import IgnitionLeft, Turned


def check(case: FileCase) -> Iterator[Slip]:
    """Every step at which the flywheel is turned by hand."""
    if case.cuts.touched(("steps",)):
        return  # the step that makes it dead may be one that could not be read
    left, by = "", ""
    for number, step in enumerate(as_list(case.document.get("steps"))):
        if step.get("turned") == Turned.BY_HAND and left != IgnitionLeft.DEAD:
            since = f"the step {by} left the ignition {left}" if by else "no step before it makes the ignition dead"
            what = f"at the step {step['id']} the flywheel is turned by hand, and {since}"
            do = f"put a step with ignition: {IgnitionLeft.DEAD} before it, or move the step"
            yield Slip(("steps", number, "turned"), what, do)
        if "ignition" in step:
            left, by = step["ignition"], step["id"]


_DEAD = "  - {id: lead-grounded, do: Ground the lead., ignition: dead}\n"
_HAND = "  - {id: coil, do: Turn once round., turned: by-hand}\n"
_LIVE = "  - {id: lead-released, do: Release the lead., ignition: live}\n"
_FILE = "routines/example.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the flywheel is turned by hand with the ignition live",
    why="an engine that fires throws the hand off its flywheel, or the piston against what is in the plug hole",
    bad=(
        Bad(f"steps:\n{_HAND}", where="by-hand", file=_FILE),
        Bad(f"steps:\n{_DEAD}{_LIVE}{_HAND}", where="by-hand", file=_FILE),
        Bad(f"steps:\n{_HAND}{_DEAD}{_LIVE}", where="by-hand", file=_FILE),
    ),
    good=(
        Good(f"steps:\n{_DEAD}{_HAND}{_LIVE}", file=_FILE),
        Good(f"steps:\n{_DEAD}{_DEAD.replace('lead', 'battery')}{_HAND}{_HAND.replace('coil', 'lamp')}", file=_FILE),
        Good(f"steps:\n{_LIVE}{_HAND.replace('by-hand', 'by-starter')}", file=_FILE),
    ),
    check=check,
    kinds=("routine",),
)
