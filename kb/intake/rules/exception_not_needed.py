"""An exception accepts a warning and says why. Once the warning is gone, delete the exception: it would hide the next
one. In a file with a part that cannot be read, exceptions are not checked: the warning may be in that part."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from kb.finding import Severity, Slip
from kb.intake.rules import Bad, Good, Rule, rules

if TYPE_CHECKING:
    from kb.intake.facts.accepted import AcceptedFinding


def check(exemption: AcceptedFinding) -> Iterator[Slip]:
    """One exception that covers no warning; one that names a rule of errors is left to ``unknown-rule``."""
    rule = rules().get(exemption.rule)
    if rule is not None and rule.can_warn:
        yield Slip(exemption.path, f"{exemption.rule} gives no warning here", "delete the exception, or correct its at")


RULE = Rule(
    severity=Severity.ERROR,
    reads="exceptions",
    summary="an exception that accepts no warning",
    why="an exception left behind hides the next mistake of its kind",
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
