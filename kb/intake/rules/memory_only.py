"""A figure that only memory or common practice gives is better than none, and is shown as what it is. It neither
disputes nor confirms what is on paper, so it stays a single source until someone measures it or finds a page. Measure
it and add the measurement as a source, or accept the warning with an exception."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.citation import cite, one_per_place, value_path
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule


def check(case: FileCase) -> Iterator[Slip]:
    """Every figure that rests on memory or common practice alone."""
    return one_per_place(_unwritten(case))


def _unwritten(case: FileCase) -> Iterator[Slip]:
    hearsay = case.family_facts.hearsay
    for kind, judgement in case.family_facts.judgements if hearsay else ():
        counting = judgement.counting
        if case.cuts.touched(("figures", kind.id)):
            continue  # the part that could not be read may be a statement from paper
        if counting and all(one.source in hearsay for one in counting):
            what = f"{kind.id} rests on {' and '.join(cite(one) for one in counting)} alone"
            do = "measure it, or find a page that states it; or add an exception that gives the reason"
            yield Slip(value_path(counting[0]), what, do)


_GAP = "figures:\n  plug-gap:\n    - {mm: 0.9, source: recollection}\n"

RULE = Rule(
    severity=Severity.WARNING,
    reads="file",
    summary="a figure that only memory or common practice gives",
    why="nobody can look it up, and people often remember another engine's figure",
    bad=(
        Bad(_GAP, where="0.9"),
        Bad(_GAP + "    - {mm: 0.9, source: custom}\n", where="0.9"),
        Bad("figures:\n  plug-torque:\n    - {Nm: [18, 22], source: custom}\n", where="[18, 22]"),
    ),
    good=(
        Good(_GAP + "    - {mm: 0.9, source: plate}\n"),
        Good(_GAP + "    - {mm: 0.7, source: bench}\n"),
        Good("figures:\n  plug-gap:\n    - {absent: not-stated, source: recollection}\n"),
    ),
    check=check,
)
