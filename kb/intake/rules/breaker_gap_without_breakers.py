"""Only an ignition with contact breakers has a breaker gap; one that is triggered by a coil or a sensor has a trigger
gap instead, and a breaker ignition has none. A gap stated for the wrong kind is that of another engine, or the type
of the ignition is wrong. To say that the figure does not apply, write `absent: not-applicable`."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Part, Severity, Slip
from kb.intake.facts.citation import cite
from kb.intake.facts.rule_context import StatementCase
from kb.intake.rules import Bad, Good, Rule


def check(case: StatementCase) -> Iterator[Slip]:
    """Both gaps of every family beside its ignition."""
    ignition = (case.document.get("ignition") or {}).get("type")
    if not ignition:
        return
    breakers = ignition.startswith("breaker-")
    figure = "trigger-gap" if breakers else "breaker-gap"
    stated = [one for one in case.family.statements.get(figure, ()) if not one.absent]
    if stated:
        lacks, instead = ("no trigger", "breaker-gap") if breakers else ("no breakers", "trigger-gap")
        what = f"{cite(stated[0])} gives a {figure}, and a {ignition} ignition has {lacks}"
        do = f"write {instead} if that is meant, mend the type, or move it to the family it is of"
        yield Slip(("figures", figure), what, do, Part.KEY)


_BREAKER = "figures:\n  breaker-gap:\n    - {in: 0.020, source: handbook, page: 38}\n"
_TRIGGER = "figures:\n  trigger-gap:\n    - {in: 0.030, source: leaflet, page: 2}\n"
_OTHER = "families/skerrow/other.yaml"

RULE = Rule(
    severity=Severity.ERROR,
    reads="file",
    summary="a breaker gap without breakers, or a trigger gap without a trigger",
    why="someone would look for a part that is not there, or set the one that is there by another engine's gap",
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
