"""An ignition with contact breakers has a breaker gap and no trigger gap; one triggered by a coil or a sensor has a
trigger gap and no breaker gap. A gap of the wrong kind belongs to another engine, or the ignition type is wrong. To say
that a figure does not apply, write `absent: not-applicable`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import FileCase
from kb.intake.rules import Bad, Good, Rule
from kb.vocabulary.engine import BREAKER_IGNITIONS


def check(case: FileCase) -> Iterator[Slip]:
    """The gap that the family's ignition cannot have."""
    ignition = (case.document.get("ignition") or {}).get("type")
    if not ignition:
        return
    breakers = ignition in BREAKER_IGNITIONS
    figure = "trigger-gap" if breakers else "breaker-gap"
    stated = [one for one in case.family.statements.get(figure, ()) if not one.absent]
    if stated:
        lacks, instead = ("no trigger", "breaker-gap") if breakers else ("no breakers", "trigger-gap")
        what = f"{cite(stated[0])} states a {figure}, but a {ignition} ignition has {lacks}"
        do = f"write {instead} if that is meant, correct the ignition type, or move it to the family it belongs to"
        yield Slip(("figures", figure), what, do, Part.KEY)


_BREAKER = "figures:\n  breaker-gap:\n    - {in: 0.020, source: handbook, page: 38}\n"
_TRIGGER = "figures:\n  trigger-gap:\n    - {in: 0.030, source: leaflet, page: 2}\n"
_OTHER = "families/skerrow/other.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a breaker gap without breakers, or a trigger gap without a trigger",
    why="someone would look for a part that is not there, or set the one that is there to another engine's gap",
    bad=(
        Bad(_BREAKER, where="breaker-gap"),
        Bad("ignition: {type: transistor}\n" + _BREAKER, where="breaker-gap"),
        Bad(_TRIGGER, where="trigger-gap", file=_OTHER),
    ),
    good=(
        Good(
            "ignition: {type: breaker-battery}\n"
            + _BREAKER.replace(
                "breaker-gap:", "trigger-gap:\n    - {absent: not-applicable, source: handbook}\n  breaker-gap:"
            )
        ),
        Good("figures:\n  breaker-gap:\n    - {absent: not-applicable, source: handbook}\n"),
        Good(_TRIGGER, file="families/skerrow/example.yaml"),
    ),
    check=check,
)
