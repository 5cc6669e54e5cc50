"""The ranges of years and of serial numbers in a file, with their places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Literal

from kb.book.model.family import Range, as_list
from kb.finding import Path
from kb.intake.facts.rule_context import FileCase


def ranges(case: FileCase, key: Literal["years", "serials"]) -> Iterator[tuple[Path, Range]]:
    """Every range of years, or of serial numbers, in a family or in withdrawn.yaml, with its place."""
    for path, fit in _fits(case):
        if (raw := fit.get(key)) and (found := Range.read(raw)):
            yield (*path, key), found


def _fits(case: FileCase) -> Iterator[tuple[Path, Mapping[str, Any]]]:
    """Everything in the file that says which engines are meant, with its place."""
    document = case.document
    for index, fit in enumerate(as_list(document.get("fits"))):
        yield ("fits", index), fit
    for figure, statements in (document.get("figures") or {}).items():
        for index, statement in enumerate(as_list(statements)):
            if only := statement.get("only"):
                yield ("figures", figure, index, "only"), only
    for index, exception in enumerate(as_list(document.get("exceptions"))):
        at = exception.get("at")
        if isinstance(at, Mapping) and (only := at.get("only")):
            yield ("exceptions", index, "at", "only"), only
    for index, entry in enumerate(as_list(document.get("withdrawn"))):
        if only := entry["statement"].get("only"):
            yield ("withdrawn", index, "statement", "only"), only
