"""The numbered marks of a side are written in order, from dead centre outwards, each once. They stand at even distances
on nearly all flywheels, and a whole number of ticks apart; where they do not it is a warning, for a digit may be
wrong. If the flywheel is so, accept it with an exception."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule

_NEAR = 1e-6  # of a tick; what floating point loses is less


def check(case: StatementCase) -> Iterator[Slip]:
    """The marks of either side."""
    flywheel = case.document.get("flywheel") or {}
    tick = (flywheel.get("division") or {}).get("deg")
    for side, marks in (flywheel.get("numbered_marks") or {}).items():
        yield from _side(side, marks, float(tick) if isinstance(tick, str) else None)


def _side(side: str, marks: Sequence[Any], tick: float | None) -> Iterator[Slip]:
    path = ("flywheel", "numbered_marks", side)
    gaps = [round(after - before, 6) for before, after in pairwise(map(float, marks))]
    for index, gap in enumerate(gaps, 1):
        if gap <= 0:
            what = f"mark {marks[index]} comes after {marks[index - 1]}"
            yield Slip((*path, index), what, "write the marks in order, each once, or mend the digit that is wrong")
            return
    look = "look at the flywheel again; if it is so, add an exception with the reason"
    if len(set(gaps)) > 1:
        what = f"the marks stand {', '.join(f'{gap:g}' for gap in gaps)} degrees apart"
        yield Slip(path, what, look, severity=Severity.WARNING)
    elif tick and gaps and abs(gaps[0] / tick - round(gaps[0] / tick)) > _NEAR:
        what = f"marks {gaps[0]:g} degrees apart are no whole number of ticks of {tick:g}"
        yield Slip(path, what, look, severity=Severity.WARNING)


def _marks(marks: str, tick: str = "") -> str:
    division = f", division: {{deg: {tick}}}" if tick else ""
    return f"flywheel: {{marks_on: flywheel, numbered_marks: {{{marks}}}{division}}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="numbered marks that are not in order, or not at even distances",
    why="a degree without a number is found between two that have one, so a wrong one moves every reading beside it",
    bad=(
        Bad(_marks("btdc: [9, 27, 18]"), where="18"),
        Bad(_marks("btdc: [9, 18], atdc: [9, 9]"), where="9"),
        Bad(_marks("btdc: [9, 19, 27]"), where="[9, 19, 27]"),
        Bad(_marks("btdc: [9, 18, 27]", "2"), where="[9, 18, 27]"),
    ),
    good=(
        Good(_marks("btdc: [9, 18, 27], atdc: [5]", "3")),
        Good(_marks("btdc: [25]", "2")),
        Good(_marks("btdc: [5, 15, 25]", "1")),
    ),
    check=check,
    may_warn=True,
)
