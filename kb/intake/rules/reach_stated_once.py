"""A statement that supersedes a page changes the figure of the engines that it reaches: all of them, or those from a
serial number on. For a figure of hazard tier A one mistyped digit, or an `only` left out, would change it for the wrong
engines. So its reach is stated twice. An end of its `only` stands a second time, in `fits` or in the `only` of another
original; a statement that replaces a page for every engine has a second original that agrees with it."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.evidence.standing import Standing
from kb.book.model.engine_kinds import changeovers
from kb.book.model.family import Statement
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.catalogue import HazardTier


def check(case: FileCase) -> Iterator[Slip]:
    """Every superseding statement of a figure of hazard tier A."""
    for figure, statements in case.family_facts.statements.items():
        superseding = [one for one in statements if "supersedes" in one.document and not one.absent]
        kind = case.context.figures.get(figure) if superseding else None
        if kind is None or kind.document["hazard"] != HazardTier.A or case.cuts.touched(("figures", figure)):
            continue
        for statement in superseding:
            yield from _of_part(case, statement) if statement.only else _of_all(case, statement)


def _of_part(case: FileCase, statement: Statement) -> Iterator[Slip]:
    facts = case.family_facts
    others = [
        other.only
        for several in facts.statements.values()
        for other in several
        if other.only and facts.original(other) != facts.original(statement)
    ]
    known = {found for fit in (*case.family.fits, *others) for found in changeovers(fit)}
    if statement.only and not known.issuperset(changeovers(statement.only)):
        what = f"only {cite(statement)} says that the figure changes at {statement.only}"
        do = "check the number, and end one range of fits and begin the next where the figure changes"
        yield Slip(("figures", statement.figure, statement.index, "only"), what, do)


def _of_all(case: FileCase, statement: Statement) -> Iterator[Slip]:
    judged = case.family_facts.judgements_of(statement.figure)
    if not any(one.standing is Standing.AGREED and statement in one.counting for _, one in judged):
        what = f"{cite(statement)} replaces a page for every engine, and no other original agrees with it"
        do = "write only if it replaces the page for some engines, or add an exception that gives the reason"
        yield Slip(("figures", statement.figure, statement.index, "supersedes"), what, do)


_OLD = "figures:\n  max-advance:\n    - {btdc: 24, state: cranking, source: handbook, page: 42}\n"
_NEW = "    - {btdc: 22, state: cranking, source: leaflet, page: 2, supersedes: {source: handbook, page: 42}}\n"
_LATER = _NEW.replace("}}", "}, only: {serials: {from: 350000}}}")
_RUNS = (
    "fits:\n  - years: [1978, 1979]\n    serials: {from: 300100, to: 349999}\n"
    "  - years: [1979, 1981]\n    serials: {from: 350000, to: 418999}\n"
)

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="which engines a superseding statement is for is stated only once",
    why="with one digit wrong, engines would be set to a figure that was never meant for them",
    bad=(
        Bad(_OLD + _LATER, where="{serials: {from: 350000}}"),
        Bad(_RUNS + _OLD + _LATER.replace("350000", "305000"), where="{serials: {from: 305000}}"),
        Bad(_RUNS + _OLD + _NEW, where="{source: handbook, page: 42}"),
        Bad(_OLD + _LATER.replace("serials: {from: 350000}", "years: [1980, 1981]"), where="{years: [1980, 1981]}"),
    ),
    good=(
        Good(_RUNS + _OLD + _LATER),
        Good(
            _OLD
            + _LATER
            + _OLD.splitlines()[-1].replace("handbook, page: 42", "manual, page: 7-3, only: {serials: {to: 349999}}")
            + "\n"
        ),
        Good(_OLD + _NEW + "    - {btdc: 22, state: cranking, source: manual, page: 7-3}\n"),
        Good(
            "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"
            + _LATER.replace("btdc: 22, state: cranking", "mm: 0.8").replace("handbook, page: 42", "plate")
        ),
    ),
    check=check,
)
