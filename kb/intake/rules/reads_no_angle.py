"""`reads`, `shown`, `dead_centre`, its uncertainty and `instrument` say how an angle was read. A gap, a voltage or a
mark has no dead centre. A piston position has none either, since its gauge finds the top itself: it takes `reads` and
`instrument` alone."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.setting.reported_angle import is_angle, is_by_pointer
from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.models.routine import OF_ANGLES
from kb.intake.rules import Bad, Good, Rule

_OF_ALL = ("reads", "instrument")


def check(case: FileCase) -> Iterator[Slip]:
    """Every reading with a key that only an angle has."""
    for path, figure, _, document in case.stated:
        if set(OF_ANGLES).isdisjoint(document) or is_by_pointer(document):
            continue
        position = is_angle(document)
        for key in OF_ANGLES:
            if key in document and not (position and key in _OF_ALL):
                kind = "a piston position, whose gauge finds the top itself" if position else "no angle"
                yield Slip((*path, key), f"{key} on a reading of {figure} that is {kind}", f"delete {key}", Part.KEY)


_REPORT = "reports/skerrow/example/2026-05-12-slip.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the reading of a pointer on what was not read by one",
    why="most likely it belongs to another line of the report, which now lacks it",
    bad=(
        Bad("as_left:\n  plug-gap:\n    - {mm: 0.9, reads: true-angle}\n", where="reads", file=_REPORT),
        Bad("as_left:\n  plug-gap:\n    - {mm: 0.9, instrument: depth-gauge}\n", where="instrument", file=_REPORT),
        Bad(
            "as_left:\n  max-advance:\n    - {btdc: {mm: 2.9}, state: static, dead_centre: {btdc: 2}}\n",
            where="dead_centre",
            file=_REPORT,
        ),
    ),
    good=(
        Good(
            "as_left:\n  max-advance:\n"
            "    - {btdc: {mm: 2.9}, state: static, reads: true-angle, instrument: depth-gauge}\n",
            file=_REPORT,
        ),
        Good("as_left:\n  plug-gap:\n    - {mm: 0.9}\n", file=_REPORT),
    ),
    check=check,
    kinds=("report",),
)
