"""Figures worked out from other figures of the same family, with the working.

A maximum while cranking from one when running, or back, through the sourced correction; a correction from a cranking
and a running maximum of one source. Nothing else is ever derived.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from kb.book.answer import in_words
from kb.book.records import Statement
from kb.book.standing import Evidence, Judgement, Role, Standing
from kb.calc.correction import correction_at, cranking_from_running, running_from_cranking
from kb.errors import Extrapolation, NoCorrectionKnown
from kb.quantity import DEGREE_OF_CRANK, Correction, CorrectionPoint, Quantity, Toward, Value, signed_quantity, write_number
from kb.working import Input, Step, Working

JudgeLike = Callable[[Sequence[Statement]], Judgement]


@dataclass(frozen=True, slots=True)
class Derived:
    """A derived value, what it rests on, and how it was reached."""

    value: Value
    rests_on: Standing
    at: tuple[tuple[str, object], ...]
    evidence: tuple[Evidence, ...]
    working: Working


def derive_maximum(
    wanted: str, maxima: Sequence[Statement], corrections: Sequence[Statement], judge_like: JudgeLike
) -> list[Derived]:
    """The maximum in the wanted state (``cranking`` or ``running``) from the other one, once for each condition.

    Raises:
        NoCorrectionKnown: the other state is known and no sourced correction leads from it.
        Extrapolation: the correction's table does not reach the speed.
    """
    given = "running" if wanted == "cranking" else "cranking"
    found: list[Derived] = []
    refusal: NoCorrectionKnown | Extrapolation | None = None
    for like in _alike([one for one in maxima if one.state == given and not one.absent]):
        maximum = judge_like(like)
        if not isinstance(maximum.value, Quantity) or maximum.value.unit is not DEGREE_OF_CRANK:
            continue
        for correction_like in _alike([one for one in corrections if not one.absent]):
            correction = judge_like(correction_like)
            if not isinstance(correction.value, Correction) or _without_rpm(like[0].at) != _without_rpm(correction_like[0].at):
                continue
            try:
                found.append(_maximum(wanted, maximum, like[0], correction, correction_like[0]))
            except (NoCorrectionKnown, Extrapolation) as error:
                refusal = error
    if not found and any(one.state == given and not one.absent for one in maxima):
        raise refusal or NoCorrectionKnown(
            f"the maximum is known {given}, not {wanted}, and no sourced correction leads from one to the other; "
            "find out whether the timing reads earlier or later while cranking, and by how much"
        )
    return found


def _maximum(
    wanted: str, maximum: Judgement, stated: Statement, correction: Judgement, corrected: Statement
) -> Derived:
    value, table = maximum.value, correction.value
    if not isinstance(value, Quantity) or not isinstance(table, Correction):
        raise NoCorrectionKnown("no correction between cranking and running is known")
    running_rpm = stated.conditions.get("rpm") if wanted == "cranking" else None
    constant_rpm = corrected.conditions.get("rpm")
    if wanted == "cranking" and constant_rpm and running_rpm != constant_rpm:
        raise NoCorrectionKnown(
            f"the correction holds at {constant_rpm} rpm, the running maximum at {running_rpm or 'a speed not stated'}"
        )
    rpm = Fraction(running_rpm) if isinstance(running_rpm, str) else None
    degrees = correction_at([(point.rpm.value if point.rpm else None, point.signed) for point in table.points], rpm)
    convert = cranking_from_running if wanted == "cranking" else running_from_cranking
    low, high = value.low, value.high
    if low is None or high is None:
        raise NoCorrectionKnown(f"the maximum is printed as a bound, {value}, and is not converted")
    step = min(value.step, *(point.degrees.step for point in table.points))
    result = signed_quantity(DEGREE_OF_CRANK, convert(low, degrees), convert(high, degrees), step, Toward.DOWN)
    side = "earlier" if degrees >= 0 else "later"
    amount = write_number(abs(degrees), Fraction(1, 100)).text if degrees.denominator > 1 else str(abs(degrees))
    sign = "+" if (wanted == "cranking") == (degrees >= 0) else "-"
    working = (
        Step(
            f"{wanted} maximum",
            f"{stated.state} reading {sign} correction",
            (
                Input(f"{stated.state} reading", str(value), _where(stated)),
                Input("correction", f"reads {amount}° {side} while cranking than when running", _where(corrected)),
            ),
            str(result),
            f"to {result.step}°, toward late" if step != value.step or degrees.denominator > 1 else "",
        ),
    )
    weaker = max((maximum.standing, correction.standing), key=lambda one: one.weakness if one else 0) or Standing.SINGLE
    at = stated.at if wanted == "cranking" else tuple(sorted({**stated.conditions, **corrected.conditions}.items()))
    if wanted == "cranking":
        at = _without_rpm(at)
    return Derived(result, weaker, at, maximum.evidence + correction.evidence, working)


def derive_correction(maxima: Sequence[Statement], judge_like: JudgeLike) -> list[Derived]:
    """The correction from a cranking and a running maximum that one source states as single numbers."""
    found = []
    for running in maxima:
        for cranking in maxima:
            if (cranking.state, running.state) != ("cranking", "running") or cranking.source != running.source:
                continue
            if cranking.absent or running.absent or _without_rpm(cranking.at) != _without_rpm(running.at):
                continue
            both = [judge_like([one]) for one in (cranking, running)]
            if any(one.standing is None for one in both):
                continue
            first, second = cranking.value, running.value
            if not (isinstance(first, Quantity) and isinstance(second, Quantity)):
                continue
            if first.unit is not second.unit or first.nominal is None or second.nominal is None:
                continue
            degrees = first.nominal - second.nominal
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


def _alike(statements: Sequence[Statement]) -> list[list[Statement]]:
    groups: dict[object, list[Statement]] = {}
    for statement in statements:
        groups.setdefault(statement.at, []).append(statement)
    return list(groups.values())


def _without_rpm(at: tuple[tuple[str, object], ...]) -> tuple[tuple[str, object], ...]:
    return tuple(pair for pair in at if pair[0] != "rpm")


def _where(statement: Statement) -> str:
    page = f" page {statement.page}" if statement.page else ""
    conditions = in_words(statement.at)
    return f"{statement.source}{page}" + (f", at {conditions}" if conditions else "")
