"""Original sources print different windows, or a window and a number, that overlap; the answer is the overlap. That may
be right, but a mistyped digit at one end looks the same. Check both pages; if that is what they print, accept the
warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.evidence.agreement import agreement
from kb.book.evidence.standing import Standing
from kb.book.model.family import stated_values
from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every judgement whose values overlap without being equal."""
    return one_per_place(_parts(case))


def _parts(case: FileCase) -> Iterator[Slip]:
    for kind, judgement in case.family_facts.judgements:
        if judgement.same or not judgement.judged or judgement.standing in (None, Standing.DISPUTED):
            continue
        first, *others = judgement.counting
        for other in others:
            found = agreement(stated_values([first, other]), case.family_facts.crank)
            if found and found.agree and not found.same:
                what = f"sources differ on {kind.id}: {quoted(other)} and {quoted(first)} overlap in {found.common}"
                do = "check both pages; if that is what they print, add an exception that gives the reason"
                yield Slip(value_path(other), what, do)
                break


_SPEED = "figures:\n  cranking-speed:\n    - {rpm: [250, 300], source: plate}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="original sources agree only in part",
    why="the answer is narrower than either source prints, and a mistyped end would look the same",
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
        Bad(  # 0.82 and 0.84 are the same only beside what is printed to tenths
            "figures:\n  plug-gap:\n    - {mm: 0.82, source: plate}\n    - {mm: 0.84, source: handbook, page: 38}\n"
            "    - {mm: [0.8, 0.9], source: bench}\n",
            where="[0.8, 0.9]",
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
