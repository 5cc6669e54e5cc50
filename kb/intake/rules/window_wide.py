"""A timing is set to within a few degrees, so a window of more than six degrees of crank usually has a wrong digit at
one end, or is the range of the lever and not a setting. If the page prints so wide a window, accept the warning with an
exception. Six degrees is common practice and has no source."""

from __future__ import annotations

from collections.abc import Iterator
from math import inf

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, value_path
from kb.intake.facts.float_values import exceeds
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule

_WIDEST = 6.0


def check(case: FileCase) -> Iterator[Slip]:
    """Every crank angle."""
    for statement in case.family_facts.angles:
        ends = case.family_facts.ends(statement)
        if ends and exceeds(ends[1] - ends[0], _WIDEST) and -inf < ends[0] and ends[1] < inf:
            what = f"{statement.value} is wider than {_WIDEST:g} degrees"
            do = f"check {cite(statement)}; if that is what it says, add an exception that gives the reason"
            yield Slip(value_path(statement), what, do)


_PICKUP = "figures:\n  throttle-pickup:\n    - {state: static, source: handbook, page: 41, "

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a timing window wider than six degrees",
    why="an engine may be set anywhere in it, and at the two ends of so wide a window it runs very differently",
    bad=(
        Bad(f"{_PICKUP}atdc: [4, 16]}}\n", where="[4, 16]"),
        Bad(f"{_PICKUP}from: {{btdc: 4}}, to: {{atdc: 3}}}}\n", where="{btdc: 4}"),
        Bad(f"{_PICKUP}btdc: {{mm: [0.1, 1.0]}}}}\n", where="{mm: [0.1, 1.0]}"),
        Bad(f"{_PICKUP}atdc: {{nominal: 5, plus_minus: 4}}}}\n", where="{nominal: 5, plus_minus: 4}"),
    ),
    good=(
        Good(f"{_PICKUP}atdc: [4, 10]}}\n"),
        Good(f"{_PICKUP}from: {{btdc: 2}}, to: {{atdc: 3}}}}\n"),
        Good(f"{_PICKUP}btdc: {{at_most: 12}}}}\n"),
    ),
    check=check,
)
