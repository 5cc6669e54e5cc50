"""A report is in reports/<maker>/<family>/ and is about that family, which must exist."""

from __future__ import annotations

from collections.abc import Iterator

from kb.finding import Severity, Slip
from kb.intake.facts.rule_context import FileCase, RuleContext
from kb.intake.rules import Bad, Facts, Good, Rule


def extract_facts(case: FileCase) -> str:
    """The family that a report is about."""
    return case.id.rpartition("/")[0]


def check(facts: Facts, context: RuleContext) -> Iterator[tuple[str, Slip]]:
    """Every report whose family does not exist."""
    for file, family in facts.items():
        if family not in context.families:
            otherwise = f"move the report to the folder of its family, or add families/{family}.yaml"
            what, do = context.unknown_id("family", family, context.families, otherwise)
            yield file, Slip(("by",), what, do.replace("write ", "move the report to the folder of ", 1))


_REPORT = "invented: true\nby: mk\non: 2026-05-12\nran: well\n"

RULE = Rule(
    severity=Severity.ERROR,
    reads="book",
    summary="a report in the folder of a family that does not exist",
    why="nobody who looks at the family would see it",
    bad=(
        Bad(_REPORT, where="mk", file="reports/skerrow/exampel/2026-05-12-slip.yaml", whole=True),
        Bad(_REPORT, where="mk", file="reports/pellwater/foehn-9/2026-05-12-slip.yaml", whole=True),
        Bad(_REPORT, where="mk", file="reports/skerrow/example-30/2026-05-12-slip.yaml", whole=True),
    ),
    good=(
        Good(_REPORT, file="reports/skerrow/other/2026-05-12-slip.yaml", whole=True),
        Good(_REPORT, file="reports/skerrow/example/2026-05-13-slip.yaml", whole=True),
    ),
    check=check,
    extract_facts=extract_facts,
    kinds=("report",),
)
