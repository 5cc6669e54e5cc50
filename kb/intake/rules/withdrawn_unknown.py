"""withdrawn.yaml identifies statements that were found wrong by family, figure, state, conditions, engines, source and
page. The statement stays in its family's file, so the address must match one there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.book.model.family import Address, as_list
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> Any:
    """For withdrawn.yaml, the place and address of each entry; for a family, which of its entries match."""
    if case.kind == "withdrawn":
        return [
            [list(case.original(("withdrawn", index, "statement"))), entry["statement"]]
            for index, entry in enumerate(as_list(case.document.get("withdrawn")))
        ]
    entries = case.context.withdrawn_of.get(case.id)
    return None if entries is None else {"family": case.id, "matched": [_matches(case, entry) for entry in entries]}


def _matches(case: FileCase, entry: Any) -> bool:
    figure = entry["statement"]["figure"]
    address = Address.read(entry["statement"])
    statements = case.family.statements.get(figure, ())
    # if a part could not be read, it may be the statement that is meant
    return any(map(address.matches, statements)) or case.cuts.touched(("figures", figure))


def check(facts: Facts, context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every entry that matches no statement of its family."""
    matched = {fact["family"]: iter(fact["matched"]) for fact in facts.values() if isinstance(fact, dict)}
    for file, fact in facts.items():
        for path, address in fact if isinstance(fact, list) else ():
            family = address["family"]
            if family not in context.families:
                what, do = context.unknown_id(
                    "family", family, context.families, "delete the entry, or correct the family"
                )
                yield file, Slip((*path, "family"), what, do)
            elif not next(matched.get(family, iter(())), True):
                given = ", ".join(f"{key} {address[key]}" for key in ("state", "source", "page") if key in address)
                what = f"{family} has no statement of {address['figure']} with {given}"
                yield file, Slip(tuple(path), what, "write state, source and page as they are in the family's file")


def _entry(address: str) -> str:
    return f"withdrawn:\n  - {{statement: {{{address}}}, since: 2026-02-01, because: a misprint, severity: care}}\n"


RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="a withdrawn statement that does not exist",
    why="the statement that was found wrong would still be given as an answer",
    bad=(
        Bad(
            _entry("family: skerrow/exampel, figure: plug-gap, source: plate"),
            where="skerrow/exampel",
            file="withdrawn.yaml",
        ),
        Bad(
            _entry("family: skerrow/other, figure: plug-gap, source: reprint, page: 21"),
            file="withdrawn.yaml",
            where="{family: skerrow/other, figure: plug-gap, source: reprint, page: 21}",
        ),
        Bad(
            _entry("family: skerrow/other, figure: plug-type, source: reprint"),
            file="withdrawn.yaml",
            where="{family: skerrow/other, figure: plug-type, source: reprint}",
        ),
        Bad(
            _entry("family: skerrow/example, figure: max-advance, state: static, source: list"),
            file="withdrawn.yaml",
            where="{family: skerrow/example, figure: max-advance, state: static, source: list}",
        ),
    ),
    good=(
        Good(
            _entry("family: skerrow/example, figure: max-advance, state: cranking, source: handbook, page: 42"),
            file="withdrawn.yaml",
        ),
        Good(
            _entry("family: skerrow/example, figure: max-advance, at: {rpm: 5000}, source: handbook"),
            file="withdrawn.yaml",
        ),
    ),
    check=check,
    extract_facts=extract_facts,
    kinds=("withdrawn", "family"),
)
