"""Originals print different windows, or a window and a number, that have a part in common; the figure answers with
that part. It may well be so, but a digit keyed wrongly in one end looks the same. Look at both pages again; if they
are printed so, accept it with an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.evidence.agreement import agreement
from kb.book.evidence.standing import Standing
from kb.finding import Severity, Slip
from kb.intake.facts.citation import once, says, value_path
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule


def check(case: StatementCase) -> Iterator[Slip]:
    """Every judgement in which values agree without being the same."""
    return once(_parts(case))


def _parts(case: StatementCase) -> Iterator[Slip]:
    for kind, judgement in case.judged.all:
        if judgement.same or not judgement.judged or judgement.standing in (None, Standing.DISPUTED):
            continue
        first, *others = judgement.counting
        for other in others:
            found = agreement([first.value, other.value], case.judged.crank)
            if found and not found.same:
                what = f"{kind.id} is {says(other)}, and {says(first)}; common to both is {found.common}"
                do = "look at both pages again; if they are printed so, add an exception with the reason"
                yield Slip(value_path(other), what, do)
                break


_SPEED = "figures:\n  cranking-speed:\n    - {rpm: [250, 300], source: plate}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="originals agree only in part",
    why="the answer is narrower than what either of them prints, and a slip in one end would look the same",
    bad=(
        Bad(f"{_SPEED}    - {{rpm: [270, 350], source: bench}}\n", where="[270, 350]"),
        Bad(f"{_SPEED}    - {{rpm: 280, source: bench}}\n", where="280"),
        Bad(
            "figures:\n  cranking-voltage:\n    - {V: {at_least: 9.4}, source: plate}\n"
            "    - {V: {at_least: 9.6}, source: bench}\n",
            where="{at_least: 9.6}",
        ),
        Bad(
            "figures:\n  plug-torque:\n    - {Nm: [18, 22], source: handbook, page: 38}\n"
            "    - {Nm: [18, 23], source: reprint, page: 38}\n",
            where="[18, 23]",
        ),
    ),
    good=(
        Good(f"{_SPEED}    - {{rpm: [250, 300], source: bench}}\n"),
        Good(f"{_SPEED}    - {{rpm: [270, 350], source: recollection}}\n"),
        Good(f"{_SPEED}    - {{rpm: [310, 350], source: bench}}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n    - {in: 0.035, source: bench}\n"),
    ),
    check=check,
)
