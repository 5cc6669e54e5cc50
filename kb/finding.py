"""What a check reports: slips found by rules, their places in a file, findings as they are printed.

Floor 0.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import NamedTuple

Path = tuple[str | int, ...]
"""Where in a document: the keys and list positions from its top, such as ("figures", "max-advance", 0)."""


class Severity(StrEnum):
    """How bad: an error stops the book from being compiled, a warning asks for a look or a reason."""

    ERROR = "error"
    WARNING = "warning"


class Part(StrEnum):
    """Which part of the entry at a path is meant: its value, its key, or the line where it would stand."""

    VALUE = "value"
    KEY = "key"


class Place(NamedTuple):
    """A span of text: lines and columns count from 1, columns in characters, the end is exclusive."""

    line: int
    column: int
    end_line: int
    end_column: int


WHOLE_FILE = Place(1, 1, 1, 1)

INTERNAL_ERROR = "internal-error"
"""The rule of a finding that is no fault of a file: a rule or a reporter of the program itself has failed."""


class Slip(NamedTuple):
    """A fault as a rule finds it, before the rule's name and its place are added.

    ``what`` says what was found and ``do`` what to type; ``severity`` is given only where it differs from the
    rule's own, ``place`` only where the reader knows it and no path leads there.
    """

    path: Path
    what: str
    do: str
    part: Part = Part.VALUE
    severity: Severity | None = None
    place: Place | None = None


class Finding(NamedTuple):
    """One reported fault; every reporter (text, JSON, SARIF, GitHub annotations) writes these fields."""

    file: str
    place: Place
    rule: str
    severity: Severity
    what: str
    why: str
    do: str
    line_text: str
    path: Path = ()

    @property
    def sort_key(self) -> tuple[str, Place, str, str]:
        """Order of report: by file, place, rule and words."""
        return (self.file, self.place, self.rule, self.what)


def has_failures(findings: Iterable[Finding]) -> bool:
    """Whether any part of the program has failed."""
    return any(found.rule == INTERNAL_ERROR for found in findings)
