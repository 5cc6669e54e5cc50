"""Cranking speed is below idle, idle is below fast idle, and full throttle is fastest. A speed that is wholly out of
that order, with both its ends, has a wrong digit or is under the wrong figure. Within one source it is an error,
between two a warning; overlapping windows are fine."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import conditions_agree, one_per_place, quoted, value_path
from kb.intake.facts.float_values import lies_above
from kb.intake.facts.plausible_bounds import exceeded_bound
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule

_ORDER = ("cranking-speed", "idle-speed", "fast-idle-speed", "full-throttle-speed")


def check(case: FileCase) -> Iterator[Slip]:
    """Every two speeds of different kinds."""
    return one_per_place(_pairs(case))


def _pairs(case: FileCase) -> Iterator[Slip]:
    facts = case.family_facts
    for slow, fast in combinations([figure for figure in _ORDER if facts.has_statements(figure)], 2):
        for one, other, same in facts.clashes(slow, fast, conditions_agree, lies_above):
            what = f"{slow}, {quoted(one)}, is above {fast}, {quoted(other)}"
            do = "check the pages: a digit is wrong, or a speed is under the wrong figure"
            wrong = one if _implausible(case, one) else other
            yield Slip(value_path(wrong), what, do, severity=None if same else Severity.WARNING)


def _implausible(case: FileCase, statement: Statement) -> bool:
    bounds = case.context.bounds.get(statement.figure, ())
    return exceeded_bound(bounds, statement, case.family_facts) is not None


_SLOW_FULL = "figures:\n  full-throttle-speed:\n    - {rpm: [500, 550], source: handbook, page: 45}\n"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="engine speeds in the wrong order",
    why="one of the two speeds is wrong, and an engine set to it stalls or overspeeds",
    bad=(
        Bad(_SLOW_FULL, where="[500, 550]"),
        Bad(_SLOW_FULL.replace("handbook, page: 45", "plate"), where="[500, 550]", severity=Severity.WARNING),
        Bad("figures:\n  fast-idle-speed:\n    - {rpm: 600, source: handbook, page: 44}\n", where="600"),
        Bad(
            "figures:\n  cranking-speed:\n    - {rpm: [2500, 4000], source: handbook, page: 44}\n", where="[2500, 4000]"
        ),
    ),
    good=(
        Good(_SLOW_FULL.replace("[500, 550]", "[5000, 5500]")),
        Good("figures:\n  fast-idle-speed:\n    - {rpm: [700, 1500], source: handbook, page: 44}\n"),
        Good("figures:\n  fast-idle-speed:\n    - {rpm: 780, at: {gear: in-gear}, source: handbook, page: 44}\n"),
    ),
    check=check,
    may_warn=True,
)
