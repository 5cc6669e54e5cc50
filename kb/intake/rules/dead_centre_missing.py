"""A pointer that is off shows every angle wrong by the same amount, so a true angle in a report is what the pointer
showed, less what it showed at true top dead centre. Without that dead-centre reading nobody can tell whether the angle
is true. Give it, `tdc: 0` if the pointer was right; if nobody looked, the angle is `reads: as-shown`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.setting.reported_angle import is_by_pointer
from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.work import AngleRead


def check(case: FileCase) -> Iterator[Slip]:
    """Every angle in degrees that is called true."""
    for path, figure, _, document in case.stated:
        if "dead_centre" in document or not is_by_pointer(document):
            continue
        if document.get("reads") == AngleRead.TRUE_ANGLE:
            do = (
                "add dead_centre, such as dead_centre: {btdc: 2}, or {tdc: 0} if the pointer was right; "
                f"if nobody looked, write reads: {AngleRead.AS_SHOWN}"
            )
            yield Slip((*path, "reads"), f"{figure} is called a true angle and has no dead-centre reading", do)
        elif "dead_centre_uncertainty" in document:
            do = "add dead_centre, such as dead_centre: {btdc: 2}, or delete its uncertainty"
            yield Slip((*path, "dead_centre_uncertainty"), "the dead-centre reading itself is missing", do, Part.KEY)


_REPORT = "reports/skerrow/example/2026-05-12-slip.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="an angle called true without a dead-centre reading",
    why="a pointer that is two degrees off would pass for an engine that ran two degrees earlier",
    bad=(
        Bad(
            "as_left:\n  max-advance:\n    - {btdc: 23, state: cranking, reads: true-angle}\n",
            where="true-angle",
            file=_REPORT,
        ),
        Bad(
            "as_left:\n  max-advance:\n"
            "    - {btdc: 23, state: cranking, reads: as-shown, dead_centre_uncertainty: {deg: 0.5}}\n",
            where="dead_centre_uncertainty",
            file=_REPORT,
        ),
        Bad(
            "as_found:\n  idle-timing:\n"
            "    - {from: {btdc: 1}, to: {atdc: 1}, state: cranking, reads: true-angle, instrument: timing-light}\n",
            where="true-angle",
            file=_REPORT,
        ),
    ),
    good=(
        Good(
            "as_left:\n  max-advance:\n"
            "    - {btdc: 23, state: cranking, reads: true-angle, dead_centre: {tdc: 0}, instrument: timing-light}\n",
            file=_REPORT,
        ),
        Good("as_left:\n  max-advance:\n    - {btdc: 23, state: cranking, reads: as-shown}\n", file=_REPORT),
        Good("as_left:\n  max-advance:\n    - {btdc: 23, state: cranking}\n", file=_REPORT),
        Good("as_left:\n  max-advance:\n    - {btdc: {in: 0.131}, state: static, reads: true-angle}\n", file=_REPORT),
    ),
    check=check,
    kinds=("report",),
)
