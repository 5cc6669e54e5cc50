"""Targets for figures that are set by the timing light, never without the printed figure; or why there is no target."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from kb.book.lookup.combinations import Combination, Outcome, outcome_of
from kb.book.model.answer import Answer
from kb.book.setting.aim import aim
from kb.book.setting.pointer import NOT_READ
from kb.book.setting.window import SettingRule
from kb.errors import LookUpError, NoCorrectionKnown, NotAnAngle, Refusal, StateNotFound
from kb.publish.drawings.rim_strip import rim_strip
from kb.publish.sheet.given import SheetJob, given, outcomes, without_family
from kb.publish.sheet.record import SheetFigure, SheetTarget
from kb.publish.sheet.wording import margin_words, pointer_rule, right_words
from kb.quantity import Dimension, Quantity

if TYPE_CHECKING:
    from kb.book.setting.aim import Aim
    from kb.book.setting.job import JobStep


def is_timed(job: SheetJob, figure: str) -> bool:
    """Whether a figure is set by the timing light."""
    return job.book.figures[figure].dimension is Dimension.CRANK_ANGLE


def targets_of(job: SheetJob, step: JobStep, figure: str, number: int) -> tuple[SheetTarget, ...]:
    """The targets of a figure of a step: one, or one for each condition, such as a bank, by which it differs. A step
    that reads it in one state has no target of another: that state refuses, and the others are named beside."""
    found = outcomes(job, figure)
    chosen = (
        _of_state(job, step, figure, found) if step.state else _worked_out(job, figure, found) or _first_state(found)
    )
    others = [one for one in found if one not in chosen]
    also = tuple(dict.fromkeys(given(job, way, outcome) for way, outcome in others))
    return tuple(_target(job, way, outcome, number, also) for way, outcome in chosen)


def _of_state(
    job: SheetJob, step: JobStep, figure: str, found: list[tuple[Combination, Outcome]]
) -> list[tuple[Combination, Outcome]]:
    """The figure in the state that the step reads it in, or why there is none."""
    held = [one for one in found if one[0].state == step.state]
    if held or not found[0][0].state:
        return held or found
    way = Combination(figure, step.state)
    return [(way, outcome_of(job.book, job.family, way, job.engine))]


def _first_state(found: list[tuple[Combination, Outcome]]) -> list[tuple[Combination, Outcome]]:
    state = found[0][0].state
    return [one for one in found if one[0].state == state]


def _worked_out(
    job: SheetJob, figure: str, found: list[tuple[Combination, Outcome]]
) -> list[tuple[Combination, Outcome]]:
    """The figure in the first state asked for, where no page states it in that state but it can be worked out."""
    first = job.states[0]
    if any(way.state == first for way, _ in found) or not found[0][0].state:
        return []
    way = Combination(figure, first)
    outcome = outcome_of(job.book, job.family, way, job.engine)
    unknown = isinstance(outcome, (StateNotFound, NoCorrectionKnown))
    return [] if unknown else [(way, outcome)]


def _target(
    job: SheetJob, way: Combination, outcome: Outcome, step: int, others: tuple[SheetFigure, ...]
) -> SheetTarget:
    stated = given(job, way, outcome)
    if not isinstance(outcome, Answer):
        return SheetTarget(stated, step, "", "", "", "", "", "", "", (), (), others, "")
    limit = SettingRule.read(job.book.figures[way.figure].document).margin_limit
    engine = job.engine.asked(way.state, way.conditions, with_margin=bool(limit))
    try:
        found = aim(job.book, job.family.id, way.figure, engine)
    except (NotAnAngle, LookUpError, Refusal) as error:
        return SheetTarget(
            stated, step, "", "", "", "", "", "", "", (), (without_family(str(error), job.family.id),), others, ""
        )
    return SheetTarget(
        stated,
        step,
        str(found.show),
        right_words(found.window),
        margin_words(found, job.engine.margin, limit),
        found.rim.words if found.rim else "",
        _piston_words(found),
        found.running.words,
        pointer_rule(found.show.low or Fraction(0)) if engine.dead_centre is None else "",
        tuple(f"{done.name}: {done.formula} = {done.result}" for done in outcome.working),
        tuple(remark for remark in found.remarks if remark != NOT_READ and remark not in stated.remarks),
        others,
        _strip(job, found, step, stated),
    )


def _strip(job: SheetJob, found: Aim, step: int, stated: SheetFigure) -> str:
    """The target on a strip of the rim; empty where the rim cannot be drawn or the target is open to one side."""
    target, window = found.show.low, found.window
    if job.rim is None or target is None:
        return ""
    ends = None if window is None or window.low is None or window.high is None else (window.low, window.high)
    return rim_strip(job.rim, f"strip {step} {stated.figure} {stated.when}", target, ends)


def _piston_words(found: Aim) -> str:
    """The target as piston travel, where the figure is printed as that."""
    value = found.answer.value
    printed_so = isinstance(value, Quantity) and value.unit.dimension is Dimension.PISTON_POSITION
    return f"piston {found.piston}" if printed_so and found.piston else ""
