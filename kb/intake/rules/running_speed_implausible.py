"""A running maximum is read with the throttle open, and a correction of it is stated for such a speed. So the speed
lies above every idle speed of the family and not above its speed at full throttle. Beyond either a digit is wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import inf

from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, quoted, speed_words, stated_speeds
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import read_number
from kb.vocabulary.states import State

_IDLE, _FULL = "idle-speed", "full-throttle-speed"


def check(case: FileCase) -> Iterator[Slip]:
    """The speed of every running maximum and of every correction."""
    facts = case.family_facts
    idle, full = _printed(case, _IDLE), _printed(case, _FULL)
    for figure in (MAXIMUM, CORRECTION) if idle or full else ():
        for statement in facts.statements.get(figure, ()):
            if statement.absent or (figure == MAXIMUM and statement.state != State.RUNNING):
                continue
            at = stated_speeds(statement)
            speeds = [float(read_number(text).value) for text in at]
            if slow := [one for one in idle if any(speed <= _ends(case, one)[1] for speed in speeds)]:
                what = f"{cite(statement)} states {figure} at {speed_words(at)}, no faster than idle, {quoted(slow[0])}"
            elif speeds and full and all(max(speeds) > _ends(case, one)[1] for one in full):
                what = f"{cite(statement)} states {figure} at {speed_words(at)}, above full throttle, {quoted(full[0])}"
            else:
                continue
            path = ("figures", figure, statement.index, "at", "rpm")
            yield Slip(path, what, "check the page: a digit of the speed is wrong, or the state is")


def _printed(case: FileCase, figure: str) -> Sequence[Statement]:
    """The statements of a speed that have an upper end."""
    stated = case.family_facts.statements.get(figure, ())
    return [one for one in stated if not one.absent and _ends(case, one)[1] < inf]


def _ends(case: FileCase, statement: Statement) -> tuple[float, float]:
    return case.family_facts.ends(statement) or (-inf, inf)


_RUNNING = "figures:\n  max-advance:\n    - {btdc: 22, state: running, at: {rpm: 5000}, source: handbook, page: 42}\n"
_CORRECTION = "figures:\n  cranking-correction:\n    - {cranking_earlier: 2, at: {rpm: 5000}, source: plate}\n"
_FULL_THROTTLE = "  full-throttle-speed:\n    - {rpm: [5000, 5500], source: plate}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a running maximum or its correction at an idling or an impossible speed",
    why="the maximum would be read, or worked out, at a speed at which the spark lever is not at its stop",
    bad=(
        Bad(_RUNNING.replace("5000", "500"), where="500"),
        Bad(_CORRECTION.replace("5000", "500") + _FULL_THROTTLE, where="500"),
        Bad(_RUNNING.replace("5000", "50000") + _FULL_THROTTLE, where="50000"),
        Bad(_RUNNING.replace("5000", "[900, 5000]"), where="[900, 5000]"),
    ),
    good=(
        Good(_RUNNING + _FULL_THROTTLE),
        Good(_CORRECTION.replace("5000", "3000") + _FULL_THROTTLE),
        Good(_RUNNING.replace("5000", "6000") + _FULL_THROTTLE.replace("[5000, 5500]", "{at_least: 5000}")),
        Good(_RUNNING.replace("running, at: {rpm: 5000}", "cranking, at: {rpm: 300}") + _FULL_THROTTLE),
    ),
    check=check,
)
