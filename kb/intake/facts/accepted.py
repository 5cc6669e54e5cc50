"""An exception in a file: a warning that is accepted, and where."""

from __future__ import annotations

from typing import NamedTuple

from kb.finding import Finding, Path, Place, Severity


class AcceptedFinding(NamedTuple):
    """An exception with the places that it covers; an empty path covers the whole file."""

    rule: str
    covers: tuple[Path, ...]
    path: Path
    place: Place
    line_text: str

    def covers_finding(self, finding: Finding) -> bool:
        """Whether it accepts a finding; only warnings can be accepted."""
        return (
            finding.severity is Severity.WARNING
            and finding.rule == self.rule
            and any(finding.path[: len(prefix)] == prefix for prefix in self.covers)
        )
