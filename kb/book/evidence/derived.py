"""Figures worked out from other figures of the same family, with the working.

A maximum while cranking from one when running, or back, through the sourced correction; a correction from a cranking
and a running maximum of one source. Nothing else is ever derived.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from typing import Any

from kb.book.evidence.standing import Evidence, Judgement, Role, Standing
from kb.book.model.answer import in_words
from kb.book.model.family import Statement
from kb.calc.correction import correction_at, cranking_from_running, running_from_cranking
from kb.errors import ConditionNeeded, Extrapolation, FigureDisputed, LookUpError, NoCorrectionKnown, Refusal
from kb.frozen import record
from kb.quantity import (
    DEGREE_OF_CRANK,
    Correction,
    CorrectionPoint,
    Form,
    Quantity,
    Toward,
    Value,
    round_to_step,
    signed_quantity,
    write_number,
)
from kb.vocabulary.conditions import Condition
from kb.vocabulary.states import CORRECTED_STATES, State
from kb.working import Input, Step, Working

At = tuple[tuple[str, Any], ...]
JudgeLike = Callable[[Sequence[Statement]], Judgement]


@record()
class Derived:
    """A derived value, the standing of the figures it is worked out from, and the working."""

    value: Value
    rests_on: Standing
    at: At
    evidence: tuple[Evidence, ...]
    working: Working


def derive_maximum(
    wanted: str,
    maxima: Sequence[Statement],
    corrections: Sequence[Statement],
    judge_like: JudgeLike,
    rpm: Fraction | None = None,
) -> list[Derived]:
    """The maximum in the wanted state, one of ``CORRECTED_STATES``, from the other one, once for each condition.

    ``rpm`` is the speed at which a running maximum is wanted, where the correction is a table. The result is empty
    when the other state is not known either.

    Raises:
        NoCorrectionKnown: the other state is known and no sourced correction leads from it.
        FigureDisputed: the sources do not agree on the correction or the maximum, and neither end is the safe one.
        ConditionNeeded: the correction is a table, and no speed was given; candidates are its speeds.
        Extrapolation: the correction's table does not reach the speed.
    """
    given = State.RUNNING if wanted == State.CRANKING else State.CRANKING
    found: dict[At, Derived] = {}
    refusals: list[LookUpError | Refusal] = []
    stated = [one for one in maxima if one.state == given and not one.absent]
    for like in _by_conditions(stated):
        for correction_like in _by_conditions([one for one in corrections if not one.absent]):
            if without_rpm(like[0].at) != without_rpm(correction_like[0].at):
                continue
            try:
                one = _maximum(wanted, judge_like(like), like[0], judge_like(correction_like), correction_like[0], rpm)
            except (NoCorrectionKnown, FigureDisputed, ConditionNeeded, Extrapolation) as error:
                refusals.append(error)
                continue
            other = found.setdefault(one.at, one)
            if str(other.value) != str(one.value):
                raise FigureDisputed(
                    "what is known leads to more than one maximum", [_led_to(other, wanted), _led_to(one, wanted)]
                )
    if stated and not found:
        if refusals:
            raise refusals[0]
        raise NoCorrectionKnown(
            f"the maximum is known {given}, not {wanted}, and no sourced correction leads from one to the other; "
            "find out whether the timing reads earlier or later while cranking, and by how much",
            [f"{one.value} {given}: {_where(one)}" for one in stated],
        )
    return list(found.values())


def _led_to(found: Derived, wanted: str) -> str:
    return f"{found.value} {wanted}: from {' and '.join(given.value for given in found.working[0].inputs)}"


def _maximum(
    wanted: str,
    maximum: Judgement,
    stated: Statement,
    correction: Judgement,
    corrected: Statement,
    rpm: Fraction | None,
) -> Derived:
    value, table = maximum.value, correction.value
    if maximum.standing is Standing.DISPUTED and value is None:
        raise FigureDisputed(f"sources do not agree on the {stated.state} maximum that it would be worked out from")
    if maximum.standing is None or not isinstance(value, Quantity) or value.unit is not DEGREE_OF_CRANK:
        raise NoCorrectionKnown(f"no {stated.state} maximum in degrees is known that still counts")
    if correction.standing is Standing.DISPUTED and (value is None or wanted == State.RUNNING):
        # the end of the correction that sets the maximum late while cranking makes it early when running
        raise FigureDisputed("sources do not agree on the correction that it would be worked out with")
    if not isinstance(table, Correction):
        raise NoCorrectionKnown("no correction between cranking and running is known that still counts")
    if value.low is None or value.high is None:
        raise NoCorrectionKnown(f"the maximum is printed as a bound, {value}, and is not converted")
    at, degrees = _correction(wanted, stated, corrected, table, rpm)
    convert = cranking_from_running if wanted == State.CRANKING else running_from_cranking
    step = min(value.step, *(point.degrees.step for point in table.points))
    low, high = convert(value.low, degrees), convert(value.high, degrees)
    result = signed_quantity(DEGREE_OF_CRANK, low, high, step, Toward.DOWN)
    rounded = (low, high) != (round_to_step(low, step), round_to_step(high, step))
    side = "earlier" if degrees >= 0 else "later"
    amount = str(abs(degrees)) if degrees.denominator == 1 else write_number(abs(degrees), Fraction(1, 100)).text
    sign = "+" if (wanted == State.CRANKING) == (degrees >= 0) else "-"
    working = Step(
        f"{wanted} maximum",
        f"{stated.state} reading {sign} correction",
        (
            Input(f"{stated.state} reading", str(value), _cited(maximum)),
            Input("correction", f"reads {amount}° {side} while cranking than when running", _cited(correction)),
        ),
        str(result),
        f"to {result.step}°, toward late" if rounded else "",
    )
    weaker = max((maximum.standing, correction.standing or Standing.SINGLE), key=lambda one: one.weakness)
    return Derived(result, weaker, at, maximum.evidence + correction.evidence, (working,))


def _correction(
    wanted: str, stated: Statement, corrected: Statement, table: Correction, rpm: Fraction | None
) -> tuple[At, Fraction]:
    """The conditions under which the wanted maximum then holds, and the correction in degrees."""
    points = [(point.rpm.value if point.rpm else None, point.signed) for point in table.points]
    constant = points[0][0] is None
    if wanted == State.CRANKING:
        at_rpm, running_rpm = corrected.conditions.get(Condition.RPM), stated.conditions.get(Condition.RPM)
        if constant and at_rpm and running_rpm != at_rpm:
            raise NoCorrectionKnown(
                f"the correction applies at {at_rpm} rpm, the running maximum at {running_rpm or 'a speed not stated'}"
            )
        speed = Fraction(running_rpm) if isinstance(running_rpm, str) else None
        return without_rpm(stated.at), correction_at(points, speed)
    if constant:
        return tuple(sorted({**stated.conditions, **corrected.conditions}.items())), points[0][1]
    if rpm is None:
        raise ConditionNeeded(
            "the correction depends on engine speed; say at which rpm", [f"{speed} rpm" for speed, _ in points]
        )
    return tuple(sorted({**stated.conditions, Condition.RPM: str(rpm)}.items())), correction_at(points, rpm)


def derive_correction(maxima: Sequence[Statement], judge_like: JudgeLike) -> list[Derived]:
    """The correction from a cranking and a running maximum that one source states as single numbers."""
    found = []
    for running in maxima:
        for cranking in maxima:
            if (cranking.state, running.state) != CORRECTED_STATES or cranking.source != running.source:
                continue
            if without_rpm(cranking.at) != without_rpm(running.at):
                continue
            if any(judge_like([one]).standing is None for one in (cranking, running)):
                continue
            first, second = cranking.value, running.value
            if not (isinstance(first, Quantity) and isinstance(second, Quantity)):
                continue
            if first.unit is not second.unit or first.unit is not DEGREE_OF_CRANK:
                continue
            if first.form is not Form.NOMINAL or second.form is not Form.NOMINAL:
                continue
            degrees = (first.nominal or Fraction(0)) - (second.nominal or Fraction(0))
            number = write_number(abs(degrees), min(first.step, second.step))
            value = Correction((CorrectionPoint(number, degrees >= 0),))
            step = Step(
                "correction",
                "cranking reading - running reading",
                (
                    Input("cranking reading", str(first), _where(cranking)),
                    Input("running reading", str(second), _where(running)),
                ),
                str(value),
            )
            evidence = (Evidence(cranking, Role.COUNTS), Evidence(running, Role.COUNTS))
            found.append(Derived(value, Standing.SINGLE, running.at, evidence, (step,)))
    return found


def _by_conditions(statements: Sequence[Statement]) -> list[list[Statement]]:
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault(statement.at, []).append(statement)
    return list(groups.values())


def without_rpm(at: At) -> At:
    """Conditions without the engine speed."""
    return tuple(pair for pair in at if pair[0] != Condition.RPM)


def _cited(judgement: Judgement) -> str:
    """Where a value stands: the first statement that counts and prints it, or all on which sources agreed."""
    printing = [one for one in judgement.counting if str(one.value) == str(judgement.value)]
    return " and ".join(_where(one) for one in printing[:1] or judgement.counting)


def _where(statement: Statement) -> str:
    page = f" page {statement.page}" if statement.page else ""
    conditions = in_words(statement.at)
    return f"{statement.source}{page}" + (f", at {conditions}" if conditions else "")
