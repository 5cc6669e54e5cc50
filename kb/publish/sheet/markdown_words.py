"""Words in Markdown: contributors' texts escaped, room to write in, lines of a list."""

from __future__ import annotations

import re
from collections.abc import Iterable

from kb.publish.sheet.record import Blank

ROOM = "\\_" * 8
"""Room to write in."""


def words(text: str) -> str:
    """Text escaped for Markdown, for the middle of a line and never its beginning.

    >>> print(words("<b> [x](https://y.example) *K47*"))
    \\<b\\> \\[x\\](https:\\/\\/y\\.example) \\*K47\\*
    """
    escaped = re.sub(r"([\\`*_{}\[\]<>#|~&$@])", r"\\\1", " ".join(text.split()))
    escaped = re.sub(r"(?i)(?<=[a-z])\.(?=[a-z])", r"\\.", escaped)  # what would become a link
    return escaped.replace("://", ":\\/\\/")


def sentence(text: str) -> str:
    """Text with a capital letter, ending in a stop."""
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith(('.', '…')) else '.'}"


def room(blank: Blank) -> str:
    """Room to write in, with the unit of what goes in and its sides to tick."""
    return f"{ROOM} {words(blank.unit)}".rstrip() + (" [ ] before [ ] after" if blank.sided else "")


def listed(lines: Iterable[str]) -> list[str]:
    """The lines of a list and an empty line after them; nothing for an empty list."""
    found = list(lines)
    return [*found, ""] if found else []
