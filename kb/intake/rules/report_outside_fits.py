"""A report is about one engine of the family whose folder it is in, so its serial number and year must be within what
the family `fits`. If they are not, it is a report on another engine, a misread plate, or a family whose ranges are too
narrow. Correct the number, move the report, or, if the plate was read twice, widen the family's range."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from kb.book.model.engine_kinds import fit_holds
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.book.model.family import Fit
from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Good, Rule


def extract_facts(case: FileCase) -> Any:
    """The engine of a report, or the ranges of a family."""
    if case.kind == "report":
        engine = case.document.get("engine") or {}
        family = case.id.rpartition("/")[0]
        path = list(case.original(("engine",)))
        return {"family": family, "engine": engine, "path": path} if engine else None
    fits = case.document.get("fits")
    return {"fits": fits} if fits else None


def check(facts: Mapping[str, Any], _context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every report whose family says which engines it fits."""
    for file, fact in facts.items():
        fits = facts.get(f"families/{fact.get('family')}.yaml", {}).get("fits") if "engine" in fact else None
        known = [fit for raw in fits or () if (fit := Fit.read(raw))]
        for key, value in fact["engine"].items() if known else ():
            engine = EngineOnTheStand(serial=value) if key == "serial" else EngineOnTheStand(year=int(value))
            if all(fit_holds(fit, engine) is False for fit in known):
                what = f"{key} {value} is outside what {fact['family']} fits, {'; '.join(map(str, known))}"
                do = "correct it if it was misread, or move the report to the family it belongs to"
                yield file, Slip((*fact["path"], key), what, do)


_REPORT = "reports/skerrow/example/2026-05-12-slip.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="maker",
    summary="a report on an engine that its family does not fit",
    why="readings from another engine would be taken for experience with this one",
    bad=(
        Bad("engine: {serial: 30145}\n", where="30145", file=_REPORT),
        Bad("engine: {serial: B 301455}\n", where="B 301455", file=_REPORT),
        Bad("engine: {serial: 301455, year: 1997}\n", where="1997", file=_REPORT),
    ),
    good=(
        Good("engine: {serial: 300100, year: 1981}\n", file=_REPORT),
        Good("engine: {year: 1979}\n", file=_REPORT),
        Good(
            "engine: {serial: 7}\n",
            file=_REPORT,
            beside={"families/skerrow/example.yaml": "fits:\n  - note: all of that name\n"},
        ),
    ),
    check=check,
    kinds=("family", "report"),
    extract_facts=extract_facts,
)
