"""A statement is one source's value of one figure, so there is only one for the same state, conditions, engines and
page. A second one is a copy, or lacks the condition that distinguishes it from the first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Statements of one figure with the same state, conditions, engines, source and page."""
    for figure, statements in case.family.statements.items():
        if len({(one.state, one.at, one.source) for one in statements}) == len(statements):  # as nearly always
            continue
        seen: set[tuple[Any, ...]] = set()
        for statement in statements:
            page, absent = statement.page, bool(statement.absent)
            address = (statement.state, statement.at, statement.only, statement.source, page, absent)
            if address in seen:
                what = f"{statement.source}{f', page {page},' if page else ''} states {figure} twice for the same case"
                do = "delete one; a second unit goes under also, a different condition under state, at or only"
                yield Slip(("figures", figure, statement.index), what, do)
            seen.add(address)


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="the same statement entered twice",
    why="one page would count as two",
    bad=(
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n    - {mm: 0.9, source: plate}\n",
            where="{mm: 0.9, source: plate}",
        ),
        Bad(
            "figures:\n  plug-gap:\n    - {in: 0.035, source: plate}\n    - {mm: 0.9, state: at-rest, source: plate}\n",
            where="{mm: 0.9, state: at-rest, source: plate}",
        ),
        Bad(
            "figures:\n  idle-speed:\n    - {rpm: 700, at: {gear: in-gear, engine: warm}, source: handbook, page: 43}\n"
            "    - {rpm: 700, at: {engine: warm, gear: in-gear}, source: handbook, page: 43}\n",
            where="{rpm: 700, at: {engine: warm, gear: in-gear}, source: handbook, page: 43}",
        ),
        Bad(
            "figures:\n  plug-gap:\n    - {absent: not-stated, source: plate}\n"
            "    - {absent: not-applicable, source: plate}\n",
            where="{absent: not-applicable, source: plate}",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n    - {mm: 0.9, source: bench}\n"),
        Good(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 38}\n"
            "    - {mm: 0.9, source: handbook, page: 61}\n"
        ),
        Good(
            "figures:\n  idle-speed:\n    - {rpm: 700, at: {gear: in-gear}, source: handbook, page: 43}\n"
            "    - {rpm: 800, at: {gear: neutral}, source: handbook, page: 43}\n"
        ),
    ),
    check=check,
)
