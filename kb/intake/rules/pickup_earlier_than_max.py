"""The throttle picks up somewhere on the spark lever's way from idle to full advance, so the pickup is never earlier
than the maximum in the same state. The earliest end of the pickup is compared with the latest end of the maximum; equal
values are fine, and so are different speeds. Within one source it is an error, usually a wrong side; between two
sources it is a warning."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, same_state_except, value_path
from kb.intake.facts.float_values import begins_above
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.conditions import Condition

_SPEED = frozenset({Condition.RPM, Condition.CARBURETTOR})


def check(case: FileCase) -> Iterator[Slip]:
    """Every pickup compared with every maximum in the same state."""
    return one_per_place(_pairs(case))


def _pairs(case: FileCase) -> Iterator[Slip]:
    found = case.family_facts.clashes("throttle-pickup", "max-advance", same_state_except(_SPEED), begins_above)
    for pickup, maximum, same in found:
        what = f"the pickup, {quoted(pickup)}, is earlier than the maximum, {quoted(maximum)}"
        do = "check both pages: a side (btdc or atdc), a digit or a state is wrong"
        yield Slip(value_path(pickup), what, do, severity=None if same else Severity.WARNING)


_PICKUP = "figures:\n  throttle-pickup:\n    - "

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="throttle pickup earlier than the maximum advance",
    why="the lever never gets there, so the plates would stay shut or the maximum would be set far too late",
    bad=(
        Bad(f"{_PICKUP}{{btdc: [24, 26], state: cranking, source: handbook, page: 41}}\n", where="[24, 26]"),
        Bad(
            f"{_PICKUP}{{atdc: 4, state: cranking, source: handbook, page: 41}}\n"
            "  max-advance:\n    - {atdc: 24, state: cranking, source: handbook, page: 42}\n",
            where="4",
        ),
        Bad(f"{_PICKUP}{{btdc: 23, state: running, at: {{rpm: 900}}, source: manual, page: 7-2}}\n", where="23"),
        Bad(f"{_PICKUP}{{btdc: 25, state: cranking, source: plate}}\n", where="25", severity=Severity.WARNING),
    ),
    good=(
        Good(f"{_PICKUP}{{btdc: 24, state: cranking, source: handbook, page: 41}}\n"),
        Good(f"{_PICKUP}{{btdc: 26, state: static, source: handbook, page: 41}}\n"),
        Good(f"{_PICKUP}{{from: {{btdc: 2}}, to: {{atdc: 3}}, state: cranking, source: handbook, page: 41}}\n"),
    ),
    check=check,
    may_warn=True,
)
