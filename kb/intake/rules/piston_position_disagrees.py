"""A piston position is a crank angle in another form: stroke and rod convert one to the other. Where degrees are given
too, in the same statement or in another from the same source, the two must be the same angle within the printed digits.
Under `also` there is a warning even if the position is only slightly different from what the degrees convert to: a
digit may be wrong, or the stroke or rod in the file. If the page itself converts wrongly, add `printed_so: true` under
`also`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import Statement
from kb.finding import Path, Severity, Slip
from kb.intake.facts.citation import cite, quoted, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.facts.second_units import beyond_the_stroke, second_units, through_the_crank
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import Dimension, Quantity


def check(case: FileCase) -> Iterator[Slip]:
    """Every piston position of a family whose stroke and rod are known."""
    facts, beside = case.family_facts, set()
    for statement in facts.angles if facts.crank else ():
        value = statement.value
        if _is_position(value):
            beside.add(statement.figure)
        if isinstance(value, Quantity) and (statement.figure in beside or "also" in statement.document):
            yield from _one(case, statement, value)
    for figure in sorted(beside):
        for position, degrees, same in facts.pairs(figure, figure, _position_and_degrees):
            if same:
                yield from _two(case, position, degrees)


def _one(case: FileCase, statement: Statement, first: Quantity) -> Iterator[Slip]:
    crank = case.family_facts.crank
    also = statement.document.get("also") or {}
    seconds = list(second_units(statement)) if also else []
    for path, value in ((value_path(statement), first), *seconds):
        if crank and _is_position(value) and beyond_the_stroke(value, crank):
            yield Slip(path, f"{value} is beyond the stroke", f"check {cite(statement)}, and the stroke")
            return
    if crank is None or also.get("printed_so") == "true":
        return
    for path, second in seconds:
        if _is_position(first) is not _is_position(second) and (found := through_the_crank(first, second, crank)):
            words, beyond = found
            do = f"check {cite(statement)}, and stroke and rod"
            if not beyond:
                do += "; if the page prints both, add printed_so: true under also"
            what = f"with this stroke and rod {first} is {words}, not {second}"
            yield Slip(path, what, do, severity=None if beyond else Severity.WARNING)


def _two(case: FileCase, position: Statement, degrees: Statement) -> Iterator[Slip]:
    crank, one, other = case.family_facts.crank, position.value, degrees.value
    if crank and isinstance(one, Quantity) and isinstance(other, Quantity) and not beyond_the_stroke(one, crank):
        found = through_the_crank(other, one, crank)
        if found and found[1]:
            first, later = sorted((position, degrees), key=lambda statement: statement.index)
            path: Path = value_path(later)
            what = f"{quoted(later)} and {quoted(first)} are not the same angle: the degrees convert to {found[0]}"
            yield Slip(path, what, "check both pages, and stroke and rod")


def _position_and_degrees(one: Statement, other: Statement) -> bool:
    if (one.state, one.at) != (other.state, other.at):
        return False
    first, second = one.value, other.value
    quantities = isinstance(first, Quantity) and isinstance(second, Quantity)
    return quantities and _is_position(first) and not _is_position(second)


def _is_position(value: object) -> bool:
    return isinstance(value, Quantity) and value.unit.dimension is Dimension.PISTON_POSITION


_PICKUP = "figures:\n  throttle-pickup:\n    - {state: static, source: handbook, page: 41, "

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a piston position that does not match the crank angle given with it",
    why="one of the two is wrong, or stroke or rod is, and with them every angle worked out from them",
    bad=(
        Bad(f"{_PICKUP}btdc: 24, also: {{btdc: {{mm: 4.31}}}}}}\n", where="{mm: 4.31}"),
        Bad(f"{_PICKUP}btdc: {{in: 0.100}}, also: {{btdc: 12}}}}\n", where="12"),
        Bad(f"{_PICKUP}btdc: {{mm: 61}}}}\n", where="{mm: 61}"),
        Bad(
            f"{_PICKUP}btdc: 24}}\n    - {{state: static, source: handbook, page: 42, btdc: {{in: 0.152}}}}\n",
            where="{in: 0.152}",
        ),
        Bad(f"{_PICKUP}btdc: 24, also: {{btdc: {{mm: 3.21}}}}}}\n", where="{mm: 3.21}", severity=Severity.WARNING),
    ),
    good=(
        Good(f"{_PICKUP}btdc: 24, also: {{btdc: {{mm: 3.15}}}}}}\n"),
        Good(f"{_PICKUP}btdc: 24, also: {{btdc: {{mm: 4.31}}, printed_so: true}}}}\n"),
        Good(f"{_PICKUP}btdc: 24}}\n    - {{state: static, source: handbook, page: 42, btdc: {{in: 0.127}}}}\n"),
        Good(f"{_PICKUP}atdc: {{mm: [0.12, 0.29]}}, also: {{atdc: [5, 7]}}}}\n"),
    ),
    check=check,
    may_warn=True,
)
