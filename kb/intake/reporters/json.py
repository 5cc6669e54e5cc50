"""Findings for programs, as one JSON object whose fields are stable: none is renamed, removed or given another type.

::

    {"findings": [{"file", "line", "column", "end_line", "end_column", "rule", "severity", "what", "why", "do",
                   "line_text", "path"}, ...],
     "errors": 3, "warnings": 1, "files": 41}

Lines and columns count from 1, columns in characters (code points), the end is exclusive. ``severity`` is ``error`` or
``warning``. ``path`` leads to the fault in the document, by keys and positions from 0.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from kb.finding import Finding, Severity
from kb.intake.reporters.wording import encodable, how_many


def print_json(findings: Sequence[Finding], folder: str, files: int) -> str:
    """All findings as one JSON object, in their order."""
    whole = {
        "findings": [as_json(finding, folder) for finding in findings],
        "errors": how_many(findings, Severity.ERROR),
        "warnings": how_many(findings, Severity.WARNING),
        "files": files,
    }
    return encodable(json.dumps(whole, ensure_ascii=False, indent=1)) + "\n"


def as_json(finding: Finding, folder: str) -> dict[str, Any]:
    """One finding as plain JSON values."""
    place = finding.place
    return {
        "file": folder + finding.file,
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
        "rule": finding.rule,
        "severity": finding.severity.value,
        "what": finding.what,
        "why": finding.why,
        "do": finding.do,
        "line_text": finding.line_text,
        "path": list(finding.path),
    }
