"""A source states a figure for a part of the family, in another state than an older page that speaks for all of it. The
page then goes on counting for those engines, and nobody can tell whether it still should. Where the newer source
replaces it, write `supersedes`; where both hold, accept the warning with an exception that says so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, one_per_place
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement about a part of the family, with those about all of it that count for the same engines."""
    return one_per_place(_beside(case.family_facts))


def _beside(facts: FamilyFacts) -> Iterator[Slip]:
    for figure, statements in facts.statements.items():
        if not any(one.only for one in statements) or len({one.state for one in statements}) < 2:
            continue
        for parts in facts.engine_kinds(figure):
            in_force = facts.in_force(figure, parts)
            for part in in_force:
                for whole in in_force if part.only else ():
                    if whole.only is None and _neither_states_both(facts, part, whole, in_force):
                        what = (
                            f"{cite(part)} is about {part.only}, but {cite(whole)} counts for them too, {whole.state}"
                        )
                        do = f"write supersedes if it replaces {cite(whole)}, or add an exception that says both hold"
                        yield Slip(("figures", figure, part.index, "only"), what, do)


def _neither_states_both(facts: FamilyFacts, part: Statement, whole: Statement, in_force: Sequence[Statement]) -> bool:
    """Whether the two are of different originals and states, and neither original states the other's state as well."""
    stated = {(facts.original(one), one.state) for one in in_force}
    first, second = facts.original(part), facts.original(whole)
    different = first != second and part.state != whole.state
    return different and (first, whole.state) not in stated and (second, part.state) not in stated


_WHOLE = "figures:\n  max-advance:\n    - {btdc: 24, state: cranking, source: handbook, page: 42}\n"
_PART = "    - {btdc: 22, state: running, source: leaflet, page: 2, only: {serials: {from: 350000}}}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a statement about a part of the family that leaves open whether an older page still holds for it",
    why="engines of that part are set by a page that was replaced, or one that still holds is taken for replaced",
    bad=(
        Bad(_WHOLE + _PART, where="{serials: {from: 350000}}"),
        Bad(_WHOLE + _PART.replace("serials: {from: 350000}", "years: [1980, 1981]"), where="{years: [1980, 1981]}"),
        Bad(
            "figures:\n  idle-timing:\n    - {atdc: 3, state: static, source: handbook, page: 42}\n"
            + _PART.replace("btdc: 22, state: running", "atdc: 2, state: cranking"),
            where="{serials: {from: 350000}}",
        ),
    ),
    good=(
        Good(_WHOLE + _PART.replace("page: 2,", "page: 2, supersedes: {source: handbook, page: 42},")),
        Good(_WHOLE + _PART.replace("leaflet, page: 2", "handbook, page: 42")),
        Good(_WHOLE + _PART + "    - {btdc: 22, state: running, source: handbook, page: 42}\n"),
        Good(_WHOLE + _PART + _PART.replace("btdc: 22, state: running", "btdc: 24, state: cranking")),
    ),
    check=check,
)
