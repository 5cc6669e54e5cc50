"""A correction leads from the cranking maximum to the running one, at the speed for which it is stated. A running
maximum at no such speed, or at none that is named, cannot be reached through it: a digit of one of the speeds is
wrong, or the maximum is a cranking one whose state was mistyped. Check the pages; if they are printed that way, accept
the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, conditions_agree, one_per_place, quoted, speed_words, stated_speeds
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import Correction, read_number
from kb.vocabulary.conditions import Condition
from kb.vocabulary.states import State

_RPM = frozenset({Condition.RPM})


def check(case: FileCase) -> Iterator[Slip]:
    """Every correction and the running maxima that count for the same engines."""
    return one_per_place(_out_of_step(case))


def _out_of_step(case: FileCase) -> Iterator[Slip]:
    facts = case.family_facts
    if not (facts.has_statements(MAXIMUM) and facts.has_statements(CORRECTION)):
        return
    for parts in facts.engine_kinds(MAXIMUM, CORRECTION):
        running = [one for one in facts.in_force(MAXIMUM, parts) if one.state == State.RUNNING]
        for correction in facts.in_force(CORRECTION, parts):
            speeds = _speeds(correction)
            like = [one for one in running if conditions_agree(correction, one, _RPM)] if speeds else []
            for one in like:
                if Condition.RPM not in one.conditions:
                    what = f"{quoted(one)} is a running maximum without a speed; {_known(correction)}"
                    do = "add at: {rpm: ..}, or write state: cranking, whichever the page says"
                    yield Slip(("figures", MAXIMUM, one.index, "state"), what, do)
            own = [one for one in like if facts.original(one) == facts.original(correction)] or like
            if own and not any(_reached(one, correction) for one in own):
                what = f"{_known(correction)}, but {quoted(own[0])} holds at {speed_words(stated_speeds(own[0]))}"
                do = "check both pages: a digit of a speed is wrong"
                yield Slip(("figures", CORRECTION, correction.index, *_where(correction)), what, do)


def _speeds(correction: Statement) -> tuple[str, ...]:
    """The speeds for which a correction is stated, ascending; none if it is stated for any speed."""
    value = correction.value
    table = [point.rpm.text for point in value.points if point.rpm] if isinstance(value, Correction) else []
    return tuple(table) or stated_speeds(correction)


def _reached(running: Statement, correction: Statement) -> bool:
    """Whether the correction is stated for the running maximum's speed; one without a speed is reported of itself."""
    speeds, wanted = _speeds(correction), stated_speeds(running)
    if speeds == wanted:  # as nearly always
        return True
    known = [read_number(speed).value for speed in speeds]
    return all(known[0] <= read_number(speed).value <= known[-1] for speed in wanted)


def _where(correction: Statement) -> tuple[str, ...]:
    return ("by_rpm",) if "by_rpm" in correction.document else ("at", "rpm")


def _known(correction: Statement) -> str:
    speeds = _speeds(correction)
    ends = tuple(dict.fromkeys((speeds[0], speeds[-1])))
    return f"the correction ({cite(correction)}) is stated for {speed_words(ends)}"


_MAXIMA = """
figures:
  max-advance:
    - {btdc: 24, state: cranking, source: handbook, page: 42}
    - {btdc: 22, state: running, at: {rpm: 5000}, source: handbook, page: 42}
"""
_CORRECTION = "  cranking-correction:\n    - {at: {rpm: 5000}, cranking_earlier: 2, source: handbook, page: 42}\n"
_TABLE = (
    "  cranking-correction:\n    - source: handbook\n      page: 42\n"
    "      by_rpm: [{rpm: 1000, cranking_earlier: 1}, {rpm: 5000, cranking_earlier: 2}]\n"
)

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a correction for another speed than that of the running maximum",
    why="worked out through it, the running maximum would be given for a speed at which it does not hold",
    bad=(
        Bad(_MAXIMA + _CORRECTION.replace("5000", "500"), where="500"),
        Bad(_MAXIMA.replace("5000", "5400") + _TABLE, where=_TABLE.partition("by_rpm: ")[2].strip()),
        Bad(_MAXIMA.replace(" at: {rpm: 5000},", "") + _CORRECTION, where="running"),
        Bad(
            _MAXIMA.replace("cranking, source: handbook, page: 42}", "running, source: manual, page: 7-3}")
            + _CORRECTION,
            where="running",
        ),
    ),
    good=(
        Good(_MAXIMA + _CORRECTION),
        Good(_MAXIMA.replace("5000", "3000") + _TABLE),
        Good(_MAXIMA + _CORRECTION.replace("{at: {rpm: 5000}, ", "{")),
        Good(_MAXIMA + "    - {btdc: 20, state: running, at: {rpm: 4000}, source: handbook, page: 42}\n" + _CORRECTION),
    ),
    check=check,
)
