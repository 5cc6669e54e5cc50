"""Findings in the plainest form, for when a reporter has failed: it shares nothing with the other forms."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from kb.finding import Finding
from kb.intake.check.failures import failed

Print = Callable[[Sequence[Finding]], str]


def print_plain(findings: Sequence[Finding], folder: str) -> str:
    """A line for each finding."""
    return "".join(f"{_line(found, folder)}\n" for found in findings)


def print_after_failure(reporter: str, error: Exception, again: Print, findings: Sequence[Finding], folder: str) -> str:
    """The findings that a reporter failed to print, and its failure as the last of them.

    ``again`` is the reporter, to find out at which finding it fails.
    """
    failure = failed(_stops_at(again, findings), f"the reporter {reporter}", error)
    return print_plain([*findings, failure], folder)


def _line(found: Finding, folder: str) -> str:
    place = f"{folder}{found.file}:{found.place.line}:{found.place.column}"
    line = f"{place}: {found.severity}: {found.what}; {found.do} ({found.rule})"
    return line if line.isprintable() else ascii(line)


def _stops_at(again: Print, findings: Sequence[Finding]) -> str:
    """The file of the first finding that the reporter cannot print by itself; empty if it can print each."""
    for found in findings:
        try:
            again([found])
        except Exception:
            return found.file
    return ""
