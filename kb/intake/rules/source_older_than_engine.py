"""A document printed years before an engine was made is not about it. A source more than a year older than the first
engines of the family, or of the part that a statement is about, suggests a figure in the wrong file, a source with a
similar name, or a wrong year. One year is allowed, since next year's engines are often in print already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from kb.book.model.family import Fit, Statement
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """The source of every statement; each source is reported once."""
    family_from = _first_year(case.family.fits)
    years = {name: int(source.document.get("year") or 9999) for name, source in case.family_facts.sources.items()}
    old = {name for name, year in years.items() if family_from is not None and year < family_from - 1}
    reported: set[str] = set()
    for figure, statements in case.family.statements.items():
        for statement in statements:
            if statement.only is None and statement.source not in old:
                continue
            name, first = statement.source, _first_of(statement, family_from)
            if first is not None and years.get(name, first) < first - 1 and name not in reported:
                reported.add(name)
                what = f"{name} is from {years[name]}, but these engines were made from {first} on"
                do = "correct the source, the family or the year; or add an exception that gives the reason"
                yield Slip(("figures", figure, statement.index, "source"), what, do)


def _first_of(statement: Statement, family_from: int | None) -> int | None:
    only = _first_year([statement.only]) if statement.only else None
    return max((year for year in (only, family_from) if year is not None), default=None)


def _first_year(fits: Iterable[Fit]) -> int | None:
    """The earliest first year; none if one of them is open."""
    firsts = [fit.years.first if fit.years else None for fit in fits]
    years = [int(first) for first in firsts if first]
    return min(years) if years and len(years) == len(firsts) else None


def _gap(source: str) -> str:
    return f"figures:\n  plug-gap:\n    - {{mm: 0.9, source: {source}, page: 2}}\n"


_EARLY = {"sources/leaflet.yaml": "year: 1971\n"}

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a source older than the engines it is cited for",
    why="it cannot be about them, so the figure is most likely another engine's",
    bad=(
        Bad(_gap("leaflet"), where="leaflet", beside=_EARLY),
        Bad(_gap("handbook").replace("page: 2", "page: 2, only: {years: [1981, 1981]}"), where="handbook"),
        Bad("fits:\n  - years: {from: 1984}\n", where="handbook", count=2),
    ),
    good=(
        Good(_gap("leaflet")),
        Good(_gap("handbook").replace("page: 2", "page: 2, only: {years: [1980, 1981]}")),
        Good("fits:\n  - years: {from: 1980}\n" + _gap("handbook")),
        Good("fits:\n  - years: [1978, 1981]\n  - note: and later ones\n" + _gap("leaflet"), beside=_EARLY),
    ),
    check=check,
)
