"""An exception accepts a warning and says why. When the warning is no longer given the exception is taken out: it would
hide the next one. In a file of which a part can not be read none is judged: the warning may lie there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule, rules

if TYPE_CHECKING:
    from kb.intake.facts.accepted import AcceptedFinding


def check(exemption: AcceptedFinding) -> Iterator[Slip]:
    """One exception that accepts no warning; one whose rule can not be accepted at all is told elsewhere."""
    rule = rules().get(exemption.rule)
    if rule is not None and rule.can_warn:
        yield Slip(exemption.path, f"{exemption.rule} has nothing to say here", "take it out, or mend its at")


RULE = Rule(
    severity=Severity.ERROR,
    reads="exceptions",
    summary="an exception that accepts no warning",
    why="an exception that is left standing hides the next slip of its kind",
    bad=(
        Bad(
            "exceptions:\n  - {rule: source-unused, because: it was once}\n",
            where="{rule: source-unused, because: it was once}",
            file="sources/plate.yaml",
        ),
        Bad(
            "exceptions:\n  - {rule: source-unused, at: title, because: its families are to come}\n"
            "  - {rule: source-unused, at: year, because: its families are to come}\n",
            where="{rule: source-unused, at: year, because: its families are to come}",
            file="sources/spare.yaml",
            beside={"sources/spare.yaml": "kind: plate\ntitle: Spare plate\nseen: on-the-engine\n"},
        ),
        Bad(
            "exceptions:\n  - {rule: memory-only, at: no-such-figure, because: nobody else knows}\n",
            where="{rule: memory-only, at: no-such-figure, because: nobody else knows}",
        ),
    ),
    good=(
        Good(
            "exceptions:\n  - {rule: source-unused, because: its families are to come}\n",
            file="sources/spare.yaml",
            beside={"sources/spare.yaml": "kind: plate\ntitle: Spare plate\nseen: on-the-engine\n"},
        ),
        Good("exceptions:\n  - {rule: source-unused, because: no warning of a family}\nlinkage: loose\n"),
    ),
    check=check,
    kinds=("family", "source"),
)
