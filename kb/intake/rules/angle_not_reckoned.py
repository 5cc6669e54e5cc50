"""Where a report holds both what the pointer showed and the dead-centre reading, the angle in it must follow from them:
25 BTDC shown, less 2 BTDC at true top dead centre, is truly 23 BTDC. A dead-centre reading on the wrong side is the
usual slip, and doubles the error. Digits left off are right if they make the angle later. An angle that is as shown
has no dead-centre reading beside it: with one, write the true angle."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.setting.reported_angle import is_by_pointer, reckoned
from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import Quantity, plain_angle, read_value, value_key
from kb.vocabulary.work import AngleRead


def check(case: FileCase) -> Iterator[Slip]:
    """Every angle in degrees with a dead-centre reading, or with what was shown."""
    for path, figure, _, document in case.stated:
        beside = next((key for key in ("dead_centre", "shown") if key in document), "")
        if not beside or not is_by_pointer(document):
            continue
        if document.get("reads") != AngleRead.TRUE_ANGLE:
            what = f"{figure} has {beside} and is not called a true angle"
            do = (
                f"write reads: {AngleRead.TRUE_ANGLE} and the angle less the dead-centre reading, "
                f"or reads: {AngleRead.AS_SHOWN} without {beside}"
            )
            yield Slip((*path, beside), what, do, Part.KEY)
        elif (angles := reckoned(document)) and (value := read_value(document)):
            written, true = angles
            step = value.step if isinstance(value, Quantity) else 0
            if written != true and not 0 < true - written < step:
                shown, centre = read_value(document["shown"]), read_value(document["dead_centre"])
                what = (
                    f"{shown} shown, with {centre} at true top dead centre, is truly {plain_angle(true)}, not {value}"
                )
                do = "look at both sides again; then write the angle that follows from them"
                yield Slip((*path, value_key(document)), what, do)


_REPORT = "reports/skerrow/example/2026-05-12-slip.yaml"


def _left(words: str) -> str:
    return f"as_left:\n  max-advance:\n    - {{{words}, state: cranking}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="an angle that does not follow from its dead-centre reading",
    why="a dead-centre reading taken the wrong way doubles the pointer's error",
    bad=(
        Bad(_left("btdc: 27, reads: true-angle, shown: {btdc: 25}, dead_centre: {btdc: 2}"), where="27", file=_REPORT),
        Bad(_left("btdc: 25, reads: true-angle, shown: {btdc: 24.5}, dead_centre: {tdc: 0}"), where="25", file=_REPORT),
        Bad(_left("btdc: 25, reads: as-shown, dead_centre: {btdc: 2}"), where="dead_centre", file=_REPORT),
        Bad(_left("btdc: 25, reads: as-shown, shown: {btdc: 25}"), where="shown", file=_REPORT),
        Bad(_left("btdc: 25, dead_centre: {btdc: 2}"), where="dead_centre", file=_REPORT),
    ),
    good=(
        Good(_left("btdc: 23, reads: true-angle, shown: {btdc: 25}, dead_centre: {btdc: 2}"), file=_REPORT),
        Good(_left("btdc: 27, reads: true-angle, shown: {btdc: 25}, dead_centre: {atdc: 2}"), file=_REPORT),
        Good(_left("btdc: 24, reads: true-angle, shown: {btdc: 25}, dead_centre: {btdc: 0.5}"), file=_REPORT),
        Good(_left("btdc: [22, 23], reads: true-angle, shown: {btdc: 25}, dead_centre: {btdc: 2}"), file=_REPORT),
    ),
    check=check,
    kinds=("report",),
)
