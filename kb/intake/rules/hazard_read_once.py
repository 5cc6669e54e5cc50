"""A figure of hazard tier A is read twice: another person reads the same page without sight of the first reading and
records it under `readings` with `blind: true`. It is enough for one of the pages that a figure rests on; a plate or a
measurement has no page and is read on the engine. Ask someone to read the page, or accept the warning with an
exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.family import Statement, as_list
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, one_per_place, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every judgement of a figure of tier A that rests on pages."""
    return one_per_place(_read_once(case))


def _read_once(case: FileCase) -> Iterator[Slip]:
    sources = {key for key, source in case.family_facts.sources.items() if source.paged}
    for kind, counting, _ in case.family_facts.tier_a_evidence:
        paged = [one for one in counting if one.source in sources]
        if paged and not any(map(_read_twice, paged)) and not case.cuts.touched(("figures", kind.id)):
            what = f"{kind.id}, {paged[0].value}, has no blind second reading by another person"
            do = f"have another person read {cite(paged[0])} and add {{by: .., on: .., blind: true}} to its readings"
            yield Slip(value_path(paged[0]), what, do)


def _read_twice(statement: Statement) -> bool:
    readings = as_list(statement.document.get("readings"))
    if not any(reading.get("blind") == "true" for reading in readings):
        return False
    return len({reading["by"] for reading in readings}) > 1


def _plug(readings: str) -> str:
    return f"figures:\n  plug-type:\n    - {{code: TQ 41, source: handbook, page: 37{readings}}}\n"


_TWICE = ", readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a figure of hazard tier A read by one person only",
    why="whoever mistypes a digit tends to overlook it again; a second reader does not",
    bad=(
        Bad(_plug(""), where="TQ 41"),
        Bad(_plug(", readings: [{by: mk, on: 2026-03-02}]"), where="TQ 41"),
        Bad(_plug(", readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11}]"), where="TQ 41"),
        Bad(_plug(", readings: [{by: ro, on: 2026-04-11, blind: true}]"), where="TQ 41"),
    ),
    good=(
        Good(_plug(_TWICE)),
        Good(_plug("") + f"    - {{code: TQ 41, source: manual, page: 7-1{_TWICE}}}\n"),
        Good("figures:\n  plug-type:\n    - {code: TQ 41, source: plate}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: handbook, page: 38}\n"),
    ),
    check=check,
)
