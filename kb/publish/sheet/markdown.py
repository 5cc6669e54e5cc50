"""The sheet as Markdown, for a log book kept as text."""

from __future__ import annotations

from kb.publish.sheet.markdown_leaf import leaf_lines
from kb.publish.sheet.markdown_long import long_lines
from kb.publish.sheet.record import Sheet


def sheet_markdown(sheet: Sheet, *, long: bool = False) -> str:
    """The sheet as Markdown, in short or long, ending in a newline."""
    return "\n".join(long_lines(sheet) if long else leaf_lines(sheet)) + "\n"
