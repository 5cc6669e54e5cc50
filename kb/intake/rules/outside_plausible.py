"""The catalogue gives most figures a plausible window, with a reason. A value with an end outside it is more likely a
typing mistake (a decimal point, a unit, a side) than an unusual engine, so it is a warning and never an error. Crank
angles count with their side, piston positions are converted to angles, a correction counts by its size. If the page
does say so, add an exception that says why the engine is like that."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, value_path
from kb.intake.facts.plausible_bounds import exceeded_bound
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every value whose figure has a plausible window."""
    all_bounds, facts = case.context.bounds, case.family_facts
    for figure, statements in case.family.statements.items():
        bounds = all_bounds.get(figure)
        if bounds is None:
            continue
        for statement in statements:
            if not statement.absent and (bound := exceeded_bound(bounds, statement, facts)):
                what = f"{statement.value} is outside the plausible {bound.window}: {bound.because}"
                do = f"check {cite(statement)}; if that is what it says, add an exception that gives the reason"
                yield Slip(value_path(statement), what, do)


_GAP = "figures:\n  plug-gap:\n    - "

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a value outside the catalogue's plausible window",
    why="such a value is more often a typing mistake than a real setting",
    bad=(
        Bad(f"{_GAP}{{mm: 9.0, source: plate}}\n", where="9.0"),
        Bad(f"{_GAP}{{in: 0.9, source: plate}}\n", where="0.9"),
        Bad(
            f"{_GAP}{{mm: {{nominal: 1.7, plus_minus: 0.2}}, source: plate}}\n", where="{nominal: 1.7, plus_minus: 0.2}"
        ),
        Bad("figures:\n  max-advance:\n    - {atdc: 24, state: static, source: handbook, page: 42}\n", where="24"),
        Bad(
            "figures:\n  max-advance:\n    - {btdc: {in: 0.5}, state: static, source: handbook, page: 42}\n",
            where="{in: 0.5}",
        ),
        Bad("figures:\n  cranking-correction:\n    - {cranking_later: 22, source: handbook, page: 42}\n", where="22"),
        Bad(
            "figures:\n  idle-speed:\n    - {rpm: [800, 1100], at: {gear: in-gear}, source: handbook, page: 43}\n",
            where="[800, 1100]",
        ),
    ),
    good=(
        Good(f"{_GAP}{{mm: 1.8, source: plate}}\n"),
        Good(f"{_GAP}{{mm: 9.0, source: plate}}\nexceptions:\n  - {{rule: outside-plausible, because: a jump gap}}\n"),
        Good("figures:\n  max-advance:\n    - {btdc: {in: 0.15}, state: static, source: handbook, page: 42}\n"),
        Good("figures:\n  idle-speed:\n    - {rpm: [800, 1100], at: {gear: neutral}, source: handbook, page: 43}\n"),
        Good("figures:\n  cranking-correction:\n    - {cranking_later: 4, source: handbook, page: 42}\n"),
    ),
    check=check,
)
