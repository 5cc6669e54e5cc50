"""At idle the lever rests against its stop and the spark is late; moving forward it meets the throttle at the pickup,
and then goes on to the maximum. So the idle timing is not earlier than the pickup in the same state; if both its ends
are, a side, a state or a digit may be wrong. If the plates are cracked open at idle, or the maker means the lever to be
held against another stop, say so in an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, same_state_except, value_path
from kb.intake.facts.float_values import lies_above
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Condition

_SPEED = frozenset({Condition.RPM, Condition.CARBURETTOR, Condition.GEAR})


def check(case: FileCase) -> Iterator[Slip]:
    """Every idle timing compared with every pickup in the same state."""
    return one_per_place(_pairs(case))


def _pairs(case: FileCase) -> Iterator[Slip]:
    for idle, pickup, _ in case.family_facts.clashes(
        "idle-timing", "throttle-pickup", same_state_except(_SPEED), lies_above
    ):
        what = f"idle, {quoted(idle)}, is earlier than the pickup, {quoted(pickup)}"
        yield Slip(value_path(idle), what, "check both pages: a side (btdc or atdc), a state or a digit may be wrong")


_IDLE = "figures:\n  idle-timing:\n    - "

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="idle timing earlier than the throttle pickup",
    why="the lever would have to move back to open the throttle; usually the side of one of the two is wrong",
    bad=(
        Bad(f"{_IDLE}{{btdc: [4, 6], state: cranking, source: handbook, page: 40}}\n", where="[4, 6]"),
        Bad(f"{_IDLE}{{atdc: 3, state: cranking, source: handbook, page: 40}}\n", where="3"),
        Bad(f"{_IDLE}{{atdc: [3, 5], state: cranking, source: manual, page: 7-2}}\n", where="[3, 5]"),
    ),
    good=(
        Good(f"{_IDLE}{{atdc: [4, 6], state: cranking, source: handbook, page: 40}}\n"),
        Good(f"{_IDLE}{{atdc: [3, 7], state: cranking, source: handbook, page: 40}}\n"),
        Good(f"{_IDLE}{{atdc: 9, state: cranking, source: handbook, page: 40}}\n"),
        Good(f"{_IDLE}{{btdc: 4, state: running, source: handbook, page: 40}}\n"),
    ),
    check=check,
)
