"""Findings for people: place and fault, the line, why it matters, what to type, and a count at the end."""

from __future__ import annotations

from collections.abc import Sequence

from kb.finding import Finding
from kb.intake.reporters.wording import summary, visible

_WIDEST = 120
"""The longest line that is shown whole; of a longer one only the part around the fault is shown."""

_COLOURS = {"error": "1;31", "warning": "1;33", "file": "1", "label": "2", "mark": "4"}


def print_text(findings: Sequence[Finding], folder: str, files: int, *, colour: bool = False) -> str:
    """All findings as text, ending with a line that counts them.

    With ``colour``, terminal codes colour the severity and underline the marked text.
    """
    return "\n".join([*blocks(findings, folder, colour=colour), summary(findings, files)])


def blocks(findings: Sequence[Finding], folder: str, *, colour: bool = False) -> list[str]:
    """Each finding as a text of its own, with the folder before its file name."""
    return [_block(finding, folder, colour) for finding in findings]


def _block(finding: Finding, folder: str, colour: bool) -> str:
    place = finding.place
    where = _paint(visible(f"{folder}{finding.file}:{place.line}:{place.column}:"), "file", colour)
    severity = _paint(f"{finding.severity}:", finding.severity, colour)
    lines = [f"{where} {severity} {visible(finding.what)}  ({finding.rule})"]
    if finding.line_text.strip():
        lines.append(f"{place.line:>6} > {_marked(finding, colour)}")
    for label, words in (("why", finding.why), ("do", finding.do), ("more", f"stopscrew rule {finding.rule}")):
        lines.append(f"       {_paint(f'{label:<4}', 'label', colour)} {visible(words)}")
    return "\n".join(lines) + "\n"


def _marked(finding: Finding, colour: bool) -> str:
    """The line, cut to the part around the fault if it is too long; in colour the fault is underlined."""
    text, place = finding.line_text, finding.place
    first = max(place.column - 1, 0)
    last = place.end_column - 1 if place.end_line == place.line else len(text)
    start = max(0, first - _WIDEST // 2) if len(text) > _WIDEST else 0
    end = start + _WIDEST
    before, marked, after = text[start:first], text[first : min(last, end)], text[max(first, min(last, end)) : end]
    body = visible(before) + _paint(visible(marked), "mark", colour and bool(marked)) + visible(after)
    return ("... " if start else "") + body.rstrip() + (" ..." if end < len(text) else "")


def _paint(text: str, what: str, colour: bool) -> str:
    return f"\x1b[{_COLOURS[what]}m{text}\x1b[0m" if colour else text
