"""Findings as workflow commands, which GitHub shows beside the lines of a pull request."""

from __future__ import annotations

from collections.abc import Sequence

from kb.finding import Finding
from kb.intake.reporters.wording import encodable, summary

_MESSAGE = {"%": "%25", "\r": "%0D", "\n": "%0A"}
_PROPERTY = {**_MESSAGE, ":": "%3A", ",": "%2C"}
"""What must be escaped: a line end would end a message, and a colon or a comma a property too."""


def print_github(findings: Sequence[Finding], folder: str, files: int) -> str:
    """An ``::error`` or ``::warning`` line for each finding, then a line that counts them for the log."""
    return "".join(_command(finding, folder) for finding in findings) + summary(findings, files)


def _command(finding: Finding, folder: str) -> str:
    place = finding.place
    properties: dict[str, str | int] = {"file": folder + finding.file, "line": place.line}
    if place.end_line == place.line:  # columns are not allowed for a span of several lines
        properties.update(col=place.column)
    properties.update(endLine=place.end_line)
    if place.end_line == place.line:
        properties.update(endColumn=place.end_column)
    properties.update(title=finding.rule)
    named = ",".join(f"{name}={_escaped(str(value), _PROPERTY)}" for name, value in properties.items())
    message = _escaped(f"{finding.what}\n{finding.why}\n{finding.do}", _MESSAGE)
    return f"::{finding.severity} {named}::{message}\n"


def _escaped(text: str, signs: dict[str, str]) -> str:
    return encodable("".join(signs.get(letter, letter) for letter in text))
