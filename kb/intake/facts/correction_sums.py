"""Whether a cranking and a running maximum differ by the correction that is stated with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from math import inf

from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.family import Statement
from kb.calc.correction import correction_at
from kb.errors import NumberNotPlain, Refusal
from kb.intake.facts.citation import conditions_agree
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.float_values import NEAR, Ends
from kb.quantity import Correction, Dimension, Quantity, read_number
from kb.vocabulary.conditions import Condition
from kb.vocabulary.states import CORRECTED_STATES

Triple = tuple[Statement, Statement, Statement]
"""A cranking maximum, a running one, and a correction."""

_MOST = 30  # how many of each are combined with one another; no family has nearly as many
_RPM = frozenset({Condition.RPM})
_CORRECTION = "correction"
_MEMBERS = (*CORRECTED_STATES, _CORRECTION)


def correction_triples(facts: FamilyFacts) -> Iterator[tuple[Triple, bool]]:
    """Every triple that holds for one engine under the same conditions, and whether all three are from one original.

    Nothing if all of them plainly add up. A triple across originals counts only if one of its members is in no triple
    from its own original. Where every maximum of a state, or every correction, is superseded, what was superseded takes
    the place: a page that moves the setting to another state leaves the spark where it was.
    """
    if not (facts.has_statements(MAXIMUM) and facts.has_statements(CORRECTION)):
        return
    if facts.is_uniform(MAXIMUM) and facts.is_uniform(CORRECTION):  # then one of each represents all
        leading, corrections = facts.first_statements(MAXIMUM), facts.first_statements(CORRECTION)
        cranking, running = ([one for one in leading if one.state == state] for state in CORRECTED_STATES)
        if all(adds_up(facts, *three) for three in _combined(cranking, running, corrections)):
            return
    seen: set[tuple[int, ...]] = set()
    for parts in facts.engine_kinds(MAXIMUM, CORRECTION):
        by_state = {
            **_by_state(facts.superseded(MAXIMUM, parts)),
            **_by_state(facts.in_force(MAXIMUM, parts)),
            _CORRECTION: facts.in_force(CORRECTION, parts) or facts.superseded(CORRECTION, parts),
        }
        found = _of_one_original(facts, by_state)
        complete = {id(one) for three in found for one in three}
        if any(id(one) not in complete for state in _MEMBERS for one in by_state.get(state, ())):
            everything = _combined(*(by_state.get(state, ()) for state in _MEMBERS))
            found += [three for three in everything if any(id(one) not in complete for one in three)]
        for three in found:
            key = tuple(one.index for one in three)
            if key not in seen:
                seen.add(key)
                yield three, all(id(one) in complete for one in three)


def _by_state(maxima: Sequence[Statement]) -> dict[str, list[Statement]]:
    found: dict[str, list[Statement]] = {}
    for maximum in maxima:
        found.setdefault(maximum.state, []).append(maximum)
    return found


def _of_one_original(facts: FamilyFacts, by_state: Mapping[str, Sequence[Statement]]) -> list[Triple]:
    """The triples whose members are all from one original."""
    found: list[Triple] = []
    for original in dict.fromkeys(map(facts.original, by_state[_CORRECTION])):
        own = [[one for one in by_state.get(state, ()) if facts.original(one) == original] for state in _MEMBERS]
        found.extend(_combined(*own))
    return found


def _combined(
    cranking: Sequence[Statement], running: Sequence[Statement], corrections: Sequence[Statement]
) -> list[Triple]:
    several = product(cranking[:_MOST], running[:_MOST], corrections[:_MOST])
    return [three for three in several if _same_conditions(*three)]


def _same_conditions(cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether no condition but the speed differs, and the correction is stated for the running maximum's speed."""
    known_at = correction.conditions.get(Condition.RPM)
    return (
        known_at in (None, running.conditions.get(Condition.RPM))
        and conditions_agree(cranking, running, _RPM)
        and conditions_agree(correction, cranking, _RPM)
        and conditions_agree(correction, running, _RPM)
    )


def adds_up(facts: FamilyFacts, cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether the cranking reading minus the running reading is the correction, within half the coarsest printed step.

    Also true if that cannot be decided: a piston position without stroke and rod, or a speed beyond the table.
    """
    late, early, known = facts.ends(cranking), facts.ends(running), correction.value
    degrees = _at_speed(running, known) if isinstance(known, Correction) else None
    if late is None or early is None or degrees is None:
        return True
    if all(abs(one - other - degrees) <= NEAR for one, other in zip(late, early, strict=True)):
        return True
    return _differ_by(late, early, degrees, _within(facts, cranking, running, correction) + NEAR)


def _within(facts: FamilyFacts, cranking: Statement, running: Statement, correction: Statement) -> float:
    """Half the coarsest step of the three, in degrees."""
    steps = [float(point.degrees.step) for point in getattr(correction.value, "points", ())]
    for one in (cranking, running):
        value = one.value
        if isinstance(value, Quantity):
            through = value.unit.dimension is Dimension.PISTON_POSITION and facts.crank
            steps.append(through.step_degrees(value) if through else float(value.step))
    return max(steps) / 2


def _at_speed(running: Statement, known: Correction) -> float | None:
    at = running.conditions.get(Condition.RPM)
    try:
        rpm = read_number(at).value if isinstance(at, str) else None
        points = [(point.rpm.value if point.rpm else None, point.signed) for point in known.points]
        return float(correction_at(points, rpm))
    except (Refusal, NumberNotPlain):
        return None


def _differ_by(cranking: Ends, running: Ends, degrees: float, within: float) -> bool:
    """Compared end by end if both are windows or neither is; otherwise the number must be inside the window."""
    closed = [
        one - other - degrees for one, other in zip(cranking, running, strict=True) if inf not in (abs(one), abs(other))
    ]
    wide, its_wide = cranking[1] - cranking[0] > NEAR, running[1] - running[0] > NEAR
    if len(closed) < 2 or wide is its_wide:
        return all(abs(off) <= within for off in closed)
    lows, highs = closed
    return (lows <= within and highs >= -within) if wide else (lows >= -within and highs <= within)
