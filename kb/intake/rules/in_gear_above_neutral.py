"""An idling engine slows down when it is put in gear, so its idle speed in gear is never above that in neutral; equal
speeds are fine. Two windows are compared end by end, a single number with a window as a whole. Within one source it is
an error, usually two swapped lines of the page; between two sources it is a warning."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, value_path
from kb.intake.facts.float_values import Ends, exceeds, lies_above
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Condition, Gear

_IN_GEAR, _NEUTRAL = ((Condition.GEAR, gear) for gear in (Gear.IN_GEAR, Gear.NEUTRAL))


def check(case: FileCase) -> Iterator[Slip]:
    """Every idle speed in gear compared with every one in neutral."""
    return one_per_place(_pairs(case))


def _pairs(case: FileCase) -> Iterator[Slip]:
    for in_gear, neutral, same in case.family_facts.clashes("idle-speed", "idle-speed", _in_gear_and_neutral, _above):
        what = f"the idle speed in gear, {quoted(in_gear)}, is above that in neutral, {quoted(neutral)}"
        do = "check the page: the two may be swapped, or a digit is wrong"
        yield Slip(value_path(in_gear), what, do, severity=None if same else Severity.WARNING)


def _in_gear_and_neutral(one: Statement, other: Statement) -> bool:
    if _IN_GEAR not in one.at or _NEUTRAL not in other.at:
        return False
    return {**one.conditions, Condition.GEAR: ""} == {**other.conditions, Condition.GEAR: ""}


def _above(first: Ends, second: Ends) -> bool:
    if first[0] < first[1] and second[0] < second[1]:
        return exceeds(first[0], second[0]) or exceeds(first[1], second[1])
    return lies_above(first, second)


def _idle(in_gear: str, neutral: str, source: str = "source: handbook, page: 43") -> str:
    return (
        f"figures:\n  idle-speed:\n    - {{rpm: {in_gear}, at: {{gear: in-gear}}, source: handbook, page: 43}}\n"
        f"    - {{rpm: {neutral}, at: {{gear: neutral}}, {source}}}\n"
    )


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the idle speed in gear is above that in neutral",
    why="set to it, the engine moves the boat at the dock or stalls when it is put in gear",
    bad=(
        Bad(_idle("[800, 900]", "[650, 750]"), where="[800, 900]"),
        Bad(_idle("[650, 950]", "[800, 900]"), where="[650, 950]"),
        Bad(_idle("950", "[800, 900]"), where="950"),
        Bad(_idle("900", "800", "source: plate"), where="900", severity=Severity.WARNING),
    ),
    good=(
        Good(_idle("[800, 900]", "[800, 900]")),
        Good(_idle("850", "[800, 900]")),
        Good(_idle("[900, 950]", "[650, 750]").replace("in-gear}", "in-gear, engine: cold}")),
    ),
    check=check,
    may_warn=True,
)
