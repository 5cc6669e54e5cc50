"""Whether a cranking and a running maximum differ by the correction that is stated beside them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from kb.book.records import Statement
from kb.calc.correction import correction_at
from kb.errors import NumberNotPlain, Refusal
from kb.intake.judged import Judged, agree_where_both_say
from kb.quantity import Correction, Quantity, read_number

Three = tuple[Statement, Statement, Statement]
"""A cranking maximum, a running one, and a correction."""

MAXIMUM, CORRECTION = "max-advance", "cranking-correction"
_RPM = frozenset({"rpm"})


def threes(judged: Judged) -> Iterator[tuple[Three, bool]]:
    """Every three that hold for one engine under the same conditions, and whether they are of one original.

    Of several originals only those of which one belongs to no three of its own original.
    """
    if not (judged.states(MAXIMUM) and judged.states(CORRECTION)):
        return
    seen: set[tuple[int, ...]] = set()
    for parts in judged.kinds(MAXIMUM, CORRECTION):
        maxima = judged.in_force(MAXIMUM, parts)
        found = [
            (cranking, running, correction)
            for correction in judged.in_force(CORRECTION, parts)
            for cranking in maxima
            for running in maxima
            if (cranking.state, running.state) == ("cranking", "running") and _alike(cranking, running, correction)
        ]
        own = [three for three in found if len({judged.original(one) for one in three}) == 1]
        complete = {id(one) for three in own for one in three}
        for three in found:
            key = tuple(one.index for one in three)
            if key not in seen and (three in own or any(id(one) not in complete for one in three)):
                seen.add(key)
                yield three, three in own


def _alike(cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether no condition but the speed differs, and the correction is known at the running one's speed."""
    known_at = correction.conditions.get("rpm")
    return (
        known_at in (None, running.conditions.get("rpm"))
        and agree_where_both_say(cranking, running, _RPM)
        and all(agree_where_both_say(correction, one, _RPM) for one in (cranking, running))
    )


def adds_up(judged: Judged, cranking: Statement, running: Statement, correction: Statement) -> bool:
    """Whether cranking reading less running reading is the correction, within half of the coarsest printed step.

    True also where it can not be told: a bound, a piston position without stroke and rod, a speed beyond the table.
    """
    late, early, known = judged.angle(cranking), judged.angle(running), correction.value
    if late is None or early is None or not isinstance(known, Correction):
        return True
    degrees = _at_speed(running, known)
    within = max(late.step, early.step, *(point.degrees.step for point in known.points)) / 2
    return degrees is None or _differ_by(late, early, degrees, within)


def _at_speed(running: Statement, known: Correction) -> Fraction | None:
    at = running.conditions.get("rpm")
    try:
        rpm = read_number(at).value if isinstance(at, str) else None
        return correction_at([(point.rpm.value if point.rpm else None, point.signed) for point in known.points], rpm)
    except (Refusal, NumberNotPlain):
        return None


def _differ_by(cranking: Quantity, running: Quantity, degrees: Fraction, within: Fraction) -> bool:
    """End by end where both have a width or neither has; else the one must lie within the other."""
    ends = ((cranking.low, running.low), (cranking.high, running.high))
    closed = [one - other - degrees for one, other in ends if one is not None and other is not None]
    if len(closed) < 2 or (cranking.low == cranking.high) is (running.low == running.high):
        return all(abs(off) <= within for off in closed)
    lows, highs = closed
    wide = cranking.low != cranking.high
    return (lows <= within and highs >= -within) if wide else (lows >= -within and highs <= within)
