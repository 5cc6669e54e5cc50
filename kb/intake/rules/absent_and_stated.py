"""A figure that a source does not state can not be stated by the same source, for the same engines, in the same case.
`absent` stands instead of a unit, never beside one."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.family import Fit, Statement
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import value_keys


def check(case: StatementCase) -> Iterator[Slip]:
    """Every statement that says that there is none."""
    for figure, statements in case.family.statements.items():
        for absent in statements:
            if not absent.absent:
                continue
            path = ("figures", figure, absent.index)
            if keys := value_keys(absent.document):
                do = f"take {keys[0]} out, or absent if the page states it"
                yield Slip((*path, "absent"), f"{absent.absent}, and yet a value under {keys[0]}", do)
            for stated in statements:
                if _same_case(absent, stated) and _common_engine(case.family.fits, absent, stated):
                    what = f"{figure} is {absent.absent} in {absent.source}, and yet stated from it"
                    do = "take this one out, or say under state, at or only where it is absent"
                    yield Slip((*path, "absent"), what, do)
                    break


def _same_case(absent: Statement, stated: Statement) -> bool:
    """One source, no state or condition that keeps the two apart."""
    conditions = stated.conditions
    return (
        not stated.absent
        and absent.source == stated.source
        and absent.state in ("", stated.state)
        and all(conditions.get(key, value) == value for key, value in absent.at)
    )


def _common_engine(fits: tuple[Fit, ...], absent: Statement, stated: Statement) -> bool:
    parts = [one.only for one in (absent, stated) if one.only]
    return any(len(kind) == len(set(parts)) for kind in engine_kinds(fits, parts))


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a figure that is said to be absent, and stated, by one source",
    why="a reader would be told both that the source has no such figure and what it is",
    bad=(
        Bad("figures:\n  plug-gap:\n    - {mm: 0.9, absent: not-stated, source: plate}\n", where="not-stated"),
        Bad(
            "figures:\n  plug-gap:\n    - {absent: not-stated, source: handbook}\n"
            "    - {mm: 0.9, source: handbook, page: 38}\n",
            where="not-stated",
        ),
        Bad(
            "figures:\n  plug-gap:\n    - {absent: not-applicable, source: plate, only: {serials: {from: 350000}}}\n"
            "    - {mm: 0.9, source: plate, only: {serials: {to: 380000}}}\n",
            where="not-applicable",
        ),
        Bad(
            "figures:\n  idle-timing:\n    - {absent: not-stated, source: handbook}\n"
            "    - {atdc: 2, state: running, source: handbook, page: 43}\n",
            where="not-stated",
        ),
    ),
    good=(
        Good("figures:\n  plug-gap:\n    - {absent: not-stated, source: handbook}\n    - {mm: 0.9, source: plate}\n"),
        Good(
            "figures:\n  plug-gap:\n    - {absent: not-applicable, source: plate, only: {serials: {from: 350000}}}\n"
            "    - {mm: 0.9, source: plate, only: {serials: {to: 349999}}}\n"
        ),
        Good(
            "figures:\n  idle-timing:\n    - {absent: not-stated, state: cranking, source: handbook}\n"
            "    - {atdc: 2, state: running, source: handbook, page: 43}\n"
        ),
    ),
    check=check,
)
