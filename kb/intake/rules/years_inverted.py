"""A range of years is written from first to last, `[1978, 1981]`, both included. The wrong way round it covers no year
at all, so a family would fit no engine and a statement would apply to none. Swap the two, or look for a wrong digit in
one of them."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.range_places import ranges
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every range of years that ends before it begins."""
    for path, years in ranges(case, "years"):
        if years.first and years.last and int(years.first) > int(years.last):
            what = f"the first year, {years.first}, comes after the last, {years.last}"
            yield Slip(path, what, f"write [{years.last}, {years.first}], or correct the digit that is wrong")


RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a range of years that ends before it begins",
    why="no year is in that range, so nothing that depends on it is ever found",
    bad=(
        Bad("fits:\n  - years: [1981, 1978]\n    serials: {from: 300100, to: 418999}\n", where="[1981, 1978]"),
        Bad("fits:\n  - years: {from: 1981, to: 1918}\n", where="{from: 1981, to: 1918}"),
        Bad(
            "figures:\n  plug-gap:\n    - {mm: 0.8, source: plate, only: {years: [1981, 1979]}}\n", where="[1981, 1979]"
        ),
        Bad(
            "withdrawn:\n  - statement: {family: skerrow/other, figure: plug-gap, source: reprint, page: 12,"
            " only: {years: [1975, 1970]}}\n    since: 2026-02-01\n    because: a misprint\n    severity: care\n",
            where="[1975, 1970]",
            file="withdrawn.yaml",
        ),
    ),
    good=(
        Good("fits:\n  - years: [1978, 1978]\n    serials: {from: 300100, to: 418999}\n"),
        Good("fits:\n  - years: 1978\n"),
        Good("fits:\n  - years: {from: 1981}\n  - years: {to: 1978}\n"),
    ),
    check=check,
    kinds=("family", "withdrawn"),
)
