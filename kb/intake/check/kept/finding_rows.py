"""Findings as plain rows, in which the cache and other processes get them, and the digest of a cached part."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from hashlib import blake2b
from typing import Any

from kb.finding import Finding, Place, Severity

Row = Sequence[Any]
"""One finding as a list of plain JSON values."""


def to_row(finding: Finding) -> Row:
    """A finding as plain JSON values."""
    place = finding.place
    return [
        finding.file,
        place.line,
        place.column,
        place.end_line,
        place.end_column,
        finding.rule,
        finding.severity.value,
        finding.what,
        finding.why,
        finding.do,
        finding.line_text,
        list(finding.path),
    ]


def from_row(row: Row) -> Finding:
    """The finding of a row."""
    file, line, column, end_line, end_column, rule, severity, what, why, do, line_text, path = row
    place = Place(line, column, end_line, end_column)
    return Finding(file, place, rule, Severity(severity), what, why, do, line_text, tuple(path))


def from_rows(rows: Iterable[Row]) -> list[Finding]:
    """The findings of rows, in their order."""
    return [from_row(row) for row in rows]


def packed(value: Any) -> bytes:
    """Plain JSON values as compact bytes, always the same for the same value, including lone surrogates."""
    return text(value).encode("ascii")


def text(value: Any) -> str:
    """The same as text, without tabs and line ends."""
    return json.dumps(value, separators=(",", ":"))


def digest(payload: bytes) -> str:
    """A digest that identifies this payload."""
    return blake2b(payload, digest_size=16).hexdigest()
