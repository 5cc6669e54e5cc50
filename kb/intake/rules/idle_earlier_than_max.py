"""Idle is the late end of the spark lever's travel and the maximum its early end, so in one state the idle timing is
never earlier than the maximum. On a fixed spark the two are equal, which is fine. Within one source it is an error,
usually a wrong side; between two sources it is a warning."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, same_state_except, value_path
from kb.intake.facts.float_values import Ends, begins_above
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Condition

_SPEED = frozenset({Condition.RPM, Condition.GEAR, Condition.ENGINE})


def check(case: FileCase) -> Iterator[Slip]:
    """Every idle timing compared with every maximum in the same state."""
    return one_per_place(_pairs(case))


def _pairs(case: FileCase) -> Iterator[Slip]:
    for idle, maximum, same in case.family_facts.clashes(
        "idle-timing", "max-advance", same_state_except(_SPEED), _wrong
    ):
        what = f"idle, {quoted(idle)}, is earlier than the maximum, {quoted(maximum)}"
        do = "check both pages: a side (btdc or atdc), a digit or a state is wrong"
        yield Slip(value_path(idle), what, do, severity=None if same else Severity.WARNING)


def _wrong(idle: Ends, maximum: Ends) -> bool:
    return idle != maximum and begins_above(idle, maximum)  # on a fixed spark the two are the same


_IDLE = "figures:\n  idle-timing:\n    - "

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="idle timing earlier than the maximum advance",
    why="the lever never reaches a spark earlier than the maximum, so one of the two figures must be wrong",
    bad=(
        Bad(f"{_IDLE}{{btdc: 25, state: cranking, source: handbook, page: 40}}\n", where="25"),
        Bad(
            f"{_IDLE}{{atdc: 9, state: cranking, source: handbook, page: 40}}\n"
            "  max-advance:\n    - {atdc: 24, state: cranking, source: handbook, page: 42}\n",
            where="9",
        ),
        Bad(f"{_IDLE}{{btdc: 25, state: cranking, source: plate}}\n", where="25", severity=Severity.WARNING),
        Bad(f"{_IDLE}{{btdc: 23, state: running, at: {{rpm: 700}}, source: manual, page: 7-2}}\n", where="23"),
    ),
    good=(
        Good(f"{_IDLE}{{btdc: 24, state: cranking, source: handbook, page: 40}}\n"),
        Good(f"{_IDLE}{{btdc: 25, state: static, source: handbook, page: 40}}\n"),
        Good(
            f"{_IDLE}{{btdc: [23, 25], state: static, source: handbook, page: 40}}\n"
            "  max-advance:\n    - {btdc: [23, 25], state: static, source: handbook, page: 40}\n"
        ),
    ),
    check=check,
    may_warn=True,
)
