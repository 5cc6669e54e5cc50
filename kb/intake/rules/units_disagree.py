"""The page's second unit goes under `also` and must equal the first: converted exactly, and rounded to the digits that
the second one prints (a tie may go either way). So a wrong digit in either of them shows. If the page itself converts
wrongly, keep what it prints and add `printed_so: true` under `also`; if the two do agree, `printed_so` is not needed,
and there is a warning, because it would hide the next mistake."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import Statement
from kb.errors import GeometryImpossible
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import FileCase
from kb.intake.facts.second_units import disagreement, second_units, through_the_crank
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import Quantity


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement with a second unit."""
    for statements in case.family.statements.values():
        for statement in statements:
            if (also := statement.document.get("also")) and not statement.absent:
                yield from _printed_so(case, statement) if also.get("printed_so") == "true" else _compare(statement)


def _compare(statement: Statement) -> Iterator[Slip]:
    first = statement.value
    if not isinstance(first, Quantity):
        return
    for path, second in second_units(statement):
        if first.unit.dimension is second.unit.dimension and (right := disagreement(first, second)):
            what = f"{first} is {right}, not {second}"
            do = f"check {cite(statement)}; if the page prints both, add printed_so: true under also"
            yield Slip(path, what, do)


def _printed_so(case: FileCase, statement: Statement) -> Iterator[Slip]:
    first = statement.value
    if isinstance(first, Quantity) and all(_agrees(case, first, second) for _, second in second_units(statement)):
        path = ("figures", statement.figure, statement.index, "also", "printed_so")
        what = f"{first} does equal {', '.join(map(str, statement.also))}, so printed_so is not needed"
        yield Slip(path, what, "delete printed_so", severity=Severity.WARNING)


def _agrees(case: FileCase, first: Quantity, second: Quantity) -> bool:
    if first.unit.dimension is second.unit.dimension:
        return not disagreement(first, second)
    try:
        return case.family_facts.crank is not None and not through_the_crank(first, second, case.family_facts.crank)
    except GeometryImpossible:
        return False


_GAP = "figures:\n  plug-gap:\n    - {"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the second unit does not match the first",
    why="one of the two is wrong, and someone will set the engine by it",
    bad=(
        Bad(f"{_GAP}in: 0.030, also: {{mm: 0.67}}, source: plate}}\n", where="0.67"),
        Bad(f"{_GAP}mm: [0.8, 0.9], also: {{in: [0.031, 0.053]}}, source: plate}}\n", where="[0.031, 0.053]"),
        Bad(f"{_GAP}in: 0.030, also: {{mm: {{at_most: 0.76}}}}, source: plate}}\n", where="{at_most: 0.76}"),
        Bad(
            "figures:\n  max-advance:\n"
            "    - {btdc: {in: 0.150}, also: {atdc: {mm: 3.81}}, state: static, source: plate}\n",
            where="{mm: 3.81}",
        ),
        Bad(
            f"{_GAP}in: 0.030, also: {{mm: 0.76, printed_so: true}}, source: plate}}\n",
            where="true",
            severity=Severity.WARNING,
        ),
    ),
    good=(
        Good(f"{_GAP}in: 7/64, also: {{mm: 2.8}}, source: plate}}\n"),
        Good(f"{_GAP}mm: 1.27, also: {{in: 0.05}}, source: plate}}\n"),
        Good(f"{_GAP}mm: {{nominal: 0.80, plus_minus: 0.05}}, also: {{in: [0.030, 0.033]}}, source: plate}}\n"),
        Good(f"{_GAP}in: 0.025, also: {{mm: 0.63}}, source: plate}}\n"),
        Good(f"{_GAP}in: 0.025, also: {{mm: 0.64}}, source: plate}}\n"),
        Good(f"{_GAP}in: 0.030, also: {{mm: 0.67, printed_so: true}}, source: plate}}\n"),
    ),
    check=check,
    may_warn=True,
)
