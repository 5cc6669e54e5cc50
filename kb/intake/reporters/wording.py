"""What the formats share: counts in words, and text made safe to show."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from kb.finding import Finding, Severity

_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})
"""Categories of characters that a terminal obeys or hides: controls, direction marks, surrogates."""


def counted(number: int, noun: str) -> str:
    """A number with its noun.

    >>> counted(1, "error"), counted(41, "file")
    ('1 error', '41 files')
    """
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def how_many(findings: Sequence[Finding], severity: Severity) -> int:
    """How many findings have that severity."""
    return sum(finding.severity is severity for finding in findings)


def summary(findings: Sequence[Finding], files: int) -> str:
    """The last line: how many errors and warnings, in how many files."""
    counts = [counted(number, severity.value) for severity in Severity if (number := how_many(findings, severity))]
    return f"{', '.join(counts) or 'nothing found'} in {counted(files, 'file')}\n"


def visible(text: str) -> str:
    r"""Text with every character visible and none obeyed: a stranger's file may contain codes that move the cursor.

    >>> visible("24\x1b[2J")
    '24\\u{1b}[2J'
    """
    if text.isprintable():
        return text
    return "".join(
        f"\\u{{{ord(letter):x}}}" if unicodedata.category(letter) in _UNSEEN else letter
        for letter in text.replace("\t", "    ")
    )


def encodable(text: str) -> str:
    """Text that UTF-8 can encode: a lone surrogate becomes a question mark."""
    return text.encode("utf-8", "replace").decode("utf-8")
