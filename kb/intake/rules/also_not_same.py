"""`also` holds the same value in the page's second unit, so both must measure the same thing: a length in inches and
millimetres, a torque in newton metres and pound-force feet. A length and a mark are two statements."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import KEY_DIMENSIONS, value_key


def check(case: FileCase) -> Iterator[Slip]:
    """The units under ``also`` of every statement."""
    for stated in case.stated:
        if also := stated.document.get("also"):
            first = value_key(stated.document)
            measured = KEY_DIMENSIONS.get(first)
            for key in also:
                if KEY_DIMENSIONS.get(key, measured) is not measured and key in stated.kind.units:
                    what = f"{key} under also does not measure what {first} does" if first else "also without a value"
                    do = "make it a statement of its own with the same source and page"
                    yield Slip((*stated.path, "also", key), what, do, Part.KEY)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a second unit that measures something other than the first",
    why="the two are compared by converting one to the other, which is impossible here",
    bad=(
        Bad("figures:\n  full-throttle-plate:\n    - {deg: 88, also: {mark: in line}, source: plate}\n", where="mark"),
        Bad("figures:\n  idle-stop:\n    - {mm: 3, also: {mark: arrow on the line}, source: plate}\n", where="mark"),
        Bad("figures:\n  idle-stop:\n    - {absent: not-stated, also: {in: 0.1}, source: plate}\n", where="in"),
    ),
    good=(
        Good("figures:\n  idle-stop:\n    - {in: 0.12, also: {mm: 3.0}, source: plate}\n"),
        Good("figures:\n  max-advance:\n    - {btdc: 24, also: {btdc: {mm: 3.1}}, state: cranking, source: plate}\n"),
    ),
    check=check,
)
