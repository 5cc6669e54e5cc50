"""Figures of hazard tier A can wreck an engine or hurt someone, so they should not rest on one original source. Look
for a second: another manual, the plate, a measurement. A reprint is not a second original. If no other source is known,
say so in an exception. A figure that rests on memory alone is reported by `memory-only` instead."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, one_per_place, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every tier A figure that rests on one original source."""
    return one_per_place(_alone(case))


def _alone(case: FileCase) -> Iterator[Slip]:
    hearsay = case.family_facts.hearsay
    for kind, counting, single in case.family_facts.tier_a_evidence:
        if not single or case.cuts.touched(("figures", kind.id)):
            continue  # the second original may be what could not be read
        if not all(one.source in hearsay for one in counting):
            what = f"{kind.id} rests on one original source, {cite(counting[0])}"
            if because := kind.document.get("hazard_because"):
                what += f"; {because}"
            do = "add a second original source, or an exception that gives the reason"
            yield Slip(value_path(counting[0]), what, do)


_READ = "readings: [{by: mk, on: 2026-03-02}, {by: ro, on: 2026-04-11, blind: true}]"
_PLUG = f"figures:\n  plug-type:\n    - {{code: TQ 41, source: handbook, page: 37, {_READ}}}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a figure of hazard tier A that rests on one original source",
    why="a misprint in the only source would go straight to the engine",
    bad=(
        Bad(_PLUG, where="TQ 41"),
        Bad(f"{_PLUG}    - {{code: TQ 41, source: reprint, page: 37}}\n", where="TQ 41"),
        Bad(f"{_PLUG}    - {{code: TQ 41, source: recollection}}\n", where="TQ 41"),
        Bad(
            f"{_PLUG}    - {{code: TQ 42, source: leaflet, page: 2, only: {{serials: {{from: 350000}}}}, {_READ},"
            " supersedes: {source: handbook, page: 37}}\n",
            where="TQ 42",
            count=2,
        ),
    ),
    good=(
        Good(f"{_PLUG}    - {{code: TQ 41, source: plate}}\n"),
        Good(f"{_PLUG}    - {{code: TQ 42, source: plate}}\n"),
        Good("figures:\n  plug-gap:\n    - {mm: 0.9, source: plate}\n"),
        Good("figures:\n  plug-type:\n    - {absent: not-stated, source: handbook}\n"),
    ),
    check=check,
)
