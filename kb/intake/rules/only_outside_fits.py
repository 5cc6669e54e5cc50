"""`only` says which part of a family a statement is about, so it must cover engines that the family `fits`. If it
covers none, that is an error: a digit is wrong, or the statement belongs in another family's file. If one end of `only`
is outside every `fits`, that is a warning: where the page gives a range that covers other families too, leave that end
out, since the family's own range limits it anyway."""

from __future__ import annotations

from collections.abc import Iterator

from kb.book.model.engine_kinds import fits_meet
from kb.book.model.family import Fit, Range
from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.family_facts import MOST_FITS
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every statement about a part of the family."""
    fits = case.family.fits
    for figure, statements in case.family.statements.items() if 0 < len(fits) <= MOST_FITS else ():
        for statement in statements:
            only = statement.only
            if only is None:
                continue
            path = ("figures", figure, statement.index, "only")
            if not any(fits_meet(only, fit) for fit in fits):
                what = f"{cite(statement)} is about {only}, but the family fits {'; '.join(map(str, fits))}"
                do = "correct the range, or move the statement to the family that has these engines"
                yield Slip(path, what, do)
                continue
            for end in _ends(only):
                if not any(fits_meet(end, fit) for fit in fits):
                    what = f"one end, {end}, is outside what the family fits, {'; '.join(map(str, fits))}"
                    do = "correct the digit that is wrong, or leave that end out"
                    yield Slip(path, what, do, severity=Severity.WARNING)


def _ends(only: Fit) -> Iterator[Fit]:
    """Each closed end of a range as a fit of its own."""
    years, serials = only.years, only.serials
    for end in dict.fromkeys((years.first, years.last)) if years else ():
        if end:
            yield Fit(years=Range(end, end))
    for end in dict.fromkeys((serials.first, serials.last)) if serials else ():
        if end:
            yield Fit(serials=Range(end, end))


_ONLY = "figures:\n  plug-gap:\n    - {mm: 0.9, source: plate, only: "

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a statement about engines outside the family",
    why="no engine of the family is ever set to it, and the engine it is meant for is not either",
    bad=(
        Bad(f"{_ONLY}{{serials: {{from: 500000}}}}}}\n", where="{serials: {from: 500000}}"),
        Bad(f"{_ONLY}{{years: [1985, 1987]}}}}\n", where="{years: [1985, 1987]}"),
        Bad(f"{_ONLY}{{serials: {{from: B 350000}}}}}}\n", where="{serials: {from: B 350000}}"),
        Bad(f"{_ONLY}{{serials: {{from: 35000}}}}}}\n", where="{serials: {from: 35000}}", severity=Severity.WARNING),
    ),
    good=(
        Good(f"{_ONLY}{{serials: {{from: 350000}}}}}}\n"),
        Good(f"{_ONLY}{{serials: {{from: 418999}}, years: 1981}}}}\n"),
        Good("fits:\n  - note: all of that name\n" + f"{_ONLY}{{serials: {{from: 7}}}}}}\n"),
    ),
    check=check,
    may_warn=True,
)
