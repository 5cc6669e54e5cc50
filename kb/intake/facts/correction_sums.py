"""Whether a cranking and a running maximum differ by the correction that is stated beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from math import inf

from kb.book.model.family import Statement
from kb.calc.correction import correction_at
from kb.errors import NumberNotPlain, Refusal
from kb.intake.facts.citation import agree_where_both_say
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.float_values import NEAR, Ends
from kb.quantity import Correction, Dimension, Quantity, read_number
from kb.vocabulary.conditions import Condition
from kb.vocabulary.states import CORRECTED_STATES

Three = tuple[Statement, Statement, Statement]
"""A cranking maximum, a running one, and a correction."""

MAXIMUM, CORRECTION = "max-advance", "cranking-correction"
_MOST = 30  # of each that are combined with one another; no family comes near
_RPM = frozenset({Condition.RPM})
_CORRECTION = "correction"
_MEMBERS = (*CORRECTED_STATES, _CORRECTION)


def threes(judged: FamilyFacts) -> Iterator[tuple[Three, bool]]:
    """Every three that hold for one engine under the same conditions, and whether they are of one original.

    None where all plainly add up. Of several originals only those of which one belongs to no three of its own original.
    """
    if not (judged.states(MAXIMUM) and judged.states(CORRECTION)):
        return
    if judged.same(MAXIMUM) and judged.same(CORRECTION):  # then one of each stands for all
        leading, corrections = judged.leading(MAXIMUM), judged.leading(CORRECTION)
        cranking, running = ([one for one in leading if one.state == state] for state in CORRECTED_STATES)
        if all(adds_up(judged, *three) for three in _combined(cranking, running, corrections)):
            return
    seen: set[tuple[int, ...]] = set()
    for parts in judged.kinds(MAXIMUM, CORRECTION):
        by_state: dict[str, list[Statement]] = {state: [] for state in _MEMBERS}
        by_state[_CORRECTION] = judged.in_force(CORRECTION, parts)
        for maximum in judged.in_force(MAXIMUM, parts):
            by_state.setdefault(maximum.state, []).append(maximum)
        found = _of_one_original(judged, by_state)
        complete = {id(one) for three in found for one in three}
        if any(id(one) not in complete for state in _MEMBERS for one in by_state[state]):
            everything = _combined(*(by_state[state] for state in _MEMBERS))
            found += [three for three in everything if any(id(one) not in complete for one in three)]
        for three in found:
            key = tuple(one.index for one in three)
            if key not in seen:
                seen.add(key)
                yield three, all(id(one) in complete for one in three)


def _of_one_original(judged: FamilyFacts, by_state: Mapping[str, Sequence[Statement]]) -> list[Three]:
    """The threes of which all are of one original."""
    found: list[Three] = []
    for original in dict.fromkeys(map(judged.original, by_state[_CORRECTION])):
        own = [[one for one in by_state[state] if judged.original(one) == original] for state in _MEMBERS]
        found.extend(_combined(*own))
    return found


def _combined(
    cranking: Sequence[Statement], running: Sequence[Statement], corrections: Sequence[Statement]
) -> list[Three]:
    several = product(cranking[:_MOST], running[:_MOST], corrections[:_MOST])
    return [three for three in several if _alike(*three)]


def _alike(cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether no condition but the speed differs, and the correction is known at the running one's speed."""
    known_at = correction.conditions.get(Condition.RPM)
    return (
        known_at in (None, running.conditions.get(Condition.RPM))
        and agree_where_both_say(cranking, running, _RPM)
        and agree_where_both_say(correction, cranking, _RPM)
        and agree_where_both_say(correction, running, _RPM)
    )


def adds_up(judged: FamilyFacts, cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether cranking reading less running reading is the correction, within half of the coarsest printed step.

    True also where it can not be told: a piston position without stroke and rod, a speed beyond the table.
    """
    late, early, known = judged.ends(cranking), judged.ends(running), correction.value
    degrees = _at_speed(running, known) if isinstance(known, Correction) else None
    if late is None or early is None or degrees is None:
        return True
    if all(abs(one - other - degrees) <= NEAR for one, other in zip(late, early, strict=True)):
        return True
    return _differ_by(late, early, degrees, _within(judged, cranking, running, correction) + NEAR)


def _within(judged: FamilyFacts, cranking: Statement, running: Statement, correction: Statement) -> float:
    """Half of the coarsest step of the three, in degrees."""
    steps = [float(point.degrees.step) for point in getattr(correction.value, "points", ())]
    for one in (cranking, running):
        value = one.value
        if isinstance(value, Quantity):
            through = value.unit.dimension is Dimension.PISTON_POSITION and judged.crank
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
    """End by end where both have a width or neither has; else the one must lie within the other."""
    closed = [
        one - other - degrees for one, other in zip(cranking, running, strict=True) if inf not in (abs(one), abs(other))
    ]
    wide, its_wide = cranking[1] - cranking[0] > NEAR, running[1] - running[0] > NEAR
    if len(closed) < 2 or wide is its_wide:
        return all(abs(off) <= within for off in closed)
    lows, highs = closed
    return (lows <= within and highs >= -within) if wide else (lows >= -within and highs <= within)
