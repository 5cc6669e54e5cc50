"""Two original sources give different values of one figure under the same conditions. All are kept and shown, and the
answer is the safest end, or no single number where the figure has no safest end. Check both pages: most disputes are a
mistyped digit. If a bulletin replaces the page, write `supersedes`; if one value was found wrong, list it in
withdrawn.yaml; if both are printed that way, accept the dispute with an exception."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.book.evidence.agreement import agreement
from kb.book.evidence.standing import Standing
from kb.book.model.crank_geometry import Crank
from kb.book.model.family import Statement, stated_values
from kb.finding import Severity, Slip
from kb.intake.facts.citation import one_per_place, quoted, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every judgement that is a dispute."""
    return one_per_place(_disputes(case))


def _disputes(case: FileCase) -> Iterator[Slip]:
    for kind, judgement in case.family_facts.judgements:
        if judgement.standing is Standing.DISPUTED:
            odd, other = _odd_one(judgement.counting, case.family_facts.crank)
            what = f"sources differ on {kind.id}: {quoted(odd)}, but {quoted(other)}"
            do = "check both pages; correct, supersede or withdraw one, or add an exception that gives the reason"
            yield Slip(value_path(odd), what, do)


def _odd_one(statements: Sequence[Statement], crank: Crank | None) -> tuple[Statement, Statement]:
    """The statement that disagrees with the most others (of equals the later), and the first it disagrees with."""
    against = {
        one.index: [
            other
            for other in statements
            if other is not one and (found := agreement(stated_values([one, other]), crank)) and not found.agree
        ]
        for one in statements
    }
    odd = max(statements, key=lambda one: (len(against[one.index]), one.index))
    return odd, next(iter(against[odd.index]), statements[0])


_GAP = "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="original sources do not agree",
    why="a mechanic gets no single number, or only the safest of several",
    bad=(
        Bad(f"{_GAP}    - {{mm: 0.7, source: handbook, page: 38}}\n", where="0.7"),
        Bad(
            f"{_GAP}    - {{mm: [0.7, 0.8], source: handbook, page: 38}}\n    - {{in: 0.035, source: bench}}\n",
            where="[0.7, 0.8]",
        ),
        Bad(
            "figures:\n  plug-type:\n    - {code: TQ 41, source: plate}\n    - {code: TQ 14, source: bench}\n",
            where="TQ 14",
        ),
        Bad(
            "figures:\n  cranking-speed:\n    - {rpm: [250, 300], source: plate}\n"
            "    - {rpm: [290, 350], source: bench}\n    - {rpm: [340, 400], source: list, page: 3}\n",
            where="[340, 400]",
        ),
    ),
    good=(
        Good(f"{_GAP}    - {{in: 0.035, source: handbook, page: 38}}\n"),
        Good(f"{_GAP}    - {{mm: [0.8, 1.0], source: handbook, page: 38}}\n"),
        Good(f"{_GAP}    - {{mm: 0.7, source: recollection}}\n"),
        Good(
            f"{_GAP}    - {{mm: 0.7, source: handbook, page: 38, only: {{serials: {{from: 350000}}}}, "
            "supersedes: {source: plate}}\n"
        ),
    ),
    check=check,
)
