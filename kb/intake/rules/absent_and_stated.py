"""One source cannot both lack a figure and state it for the same engines under the same conditions. `absent` takes the
place of a unit and is never written beside one."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.family import Fit, Statement
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.quantity import value_keys


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement marked absent."""
    for figure, statements in case.family.statements.items():
        for absent in statements:
            if not absent.absent:
                continue
            path = ("figures", figure, absent.index)
            if keys := value_keys(absent.document):
                do = f"delete {keys[0]}; or, if the page does state the figure, delete absent"
                yield Slip((*path, "absent"), f"absent: {absent.absent}, but there is a value under {keys[0]}", do)
            for stated in statements:
                if _same_case(absent, stated) and _common_engine(case.family.fits, absent, stated):
                    what = f"{figure} is {absent.absent} in {absent.source}, but another statement from it has a value"
                    do = "delete this statement, or narrow it with state, at or only to where the figure is absent"
                    yield Slip((*path, "absent"), what, do)
                    break


def _same_case(absent: Statement, stated: Statement) -> bool:
    """Whether both are from one source and no state or condition separates them."""
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
    summary="a figure both marked absent and stated, from one source",
    why="the same source would be shown both with the figure and without it",
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
