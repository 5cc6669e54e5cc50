"""Failures of the program itself, as findings: a rule, a model or a reporter that stopped with an exception."""

from __future__ import annotations

from typing import Final

from kb.finding import INTERNAL_ERROR, WHOLE_FILE, Finding, Slip, has_failures
from kb.intake.rules import Rule, rule_of
from kb.intake.rules.internal_error import Failure

FAILED_FACT: Final = {INTERNAL_ERROR: True}
"""Stands for the fact that a rule failed to extract from a file."""


def failed(file: str, part: str, error: Exception) -> Finding:
    """A part of the program, such as "the rule window-inverted", that stopped at a file."""
    rule = rule_of(INTERNAL_ERROR)
    slip: Slip = next(rule.check(Failure(part, error)))
    return Finding(file, WHOLE_FILE, rule.id, rule.severity, slip.what, rule.why, slip.do, "")


def rule_failed(file: str, rule: Rule, error: Exception, files: int = 1) -> Finding:
    """A rule that stopped at a file, or at several of which this is the first."""
    several = f", which reads {files} files from this one on," if files > 1 else ""
    return failed(file, f"the rule {rule.id}{several}", error)


def without_doubtful(findings: list[Finding]) -> list[Finding]:
    """The findings; after a failure without exceptions that seem not to be needed, since the warning that one of them
    accepts may be what the failed rule would have reported."""
    if not has_failures(findings):
        return findings
    return [found for found in findings if found.rule != "exception-not-needed"]
