"""The numbered marks on each side are written in order, from top dead centre outwards, each once. On nearly all
flywheels they are evenly spaced and a whole number of divisions apart; where they are not, it is a warning, because a
digit may be wrong. If the flywheel really is like that, accept the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule

_NEAR = 1e-6  # of a division; floating point loses less


def check(case: FileCase) -> Iterator[Slip]:
    """The marks on each side."""
    flywheel = case.document.get("flywheel") or {}
    division = (flywheel.get("division") or {}).get("deg")
    for side, marks in (flywheel.get("numbered_marks") or {}).items():
        yield from _side(side, marks, float(division) if isinstance(division, str) else None)


def _side(side: str, marks: Sequence[Any], division: float | None) -> Iterator[Slip]:
    path = ("flywheel", "numbered_marks", side)
    gaps = [round(after - before, 6) for before, after in pairwise(map(float, marks))]
    for index, gap in enumerate(gaps, 1):
        if gap <= 0:
            what = f"mark {marks[index]} comes after {marks[index - 1]}"
            yield Slip((*path, index), what, "write the marks in order, each once, or correct the digit that is wrong")
            return
    do = "check the flywheel; if it really is like that, add an exception that gives the reason"
    if len(set(gaps)) > 1:
        what = f"the marks are unevenly spaced: {', '.join(f'{gap:g}' for gap in gaps)} degrees apart"
        yield Slip(path, what, do, severity=Severity.WARNING)
    elif division and gaps and abs(gaps[0] / division - round(gaps[0] / division)) > _NEAR:
        what = f"the marks are {gaps[0]:g} degrees apart, which is not a whole number of divisions of {division:g}"
        yield Slip(path, what, do, severity=Severity.WARNING)


def _marks(marks: str, degrees: str = "") -> str:
    division = f", division: {{deg: {degrees}}}" if degrees else ""
    return f"flywheel: {{marks_on: flywheel, numbered_marks: {{{marks}}}{division}}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="numbered marks out of order or unevenly spaced",
    why="a degree between two numbered marks is found from them, so a wrong one shifts every reading near it",
    bad=(
        Bad(_marks("btdc: [9, 27, 18]"), where="18"),
        Bad(_marks("btdc: [9, 18], atdc: [9, 9]"), where="9"),
        Bad(_marks("btdc: [9, 19, 27]"), where="[9, 19, 27]", severity=Severity.WARNING),
        Bad(_marks("btdc: [9, 18, 27]", "2"), where="[9, 18, 27]", severity=Severity.WARNING),
    ),
    good=(
        Good(_marks("btdc: [9, 18, 27], atdc: [5]", "3")),
        Good(_marks("btdc: [25]", "2")),
        Good(_marks("btdc: [5, 15, 25]", "1")),
    ),
    check=check,
    may_warn=True,
)
