"""Cutting the smallest broken part out of a text, judged by indentation, so that the rest can be read."""

from __future__ import annotations

import re
from collections.abc import Sequence

from kb.finding import Path
from kb.intake.yaml.limits import wipe

_ENTRY = re.compile(r" *-(?= |$)")
_KEY = re.compile(r"""[ ]*(?:-[ ]+)*["']?([\w<][\w-]*)""")
_KEY_ALONE = re.compile(r"[^#]*:\s*(?:#.*)?$")


def cut_part(clean: str, line: int) -> tuple[str, range, Path]:
    """The text with spaces in place of the smallest whole part around a line, the part's line numbers, and its path.

    The smallest whole part is the list entry (in a family, the statement) or else the key with its value, together
    with each key that would be left without a value. The path of a list entry is that of its list. Lines keep their
    length. The range is empty if there is nothing to cut.
    """
    rows = clean.split("\n")
    number = _nearest(rows, min(line, len(rows)) - 1)
    if number is None:
        return clean, range(0), ()
    above = [number, *_above(rows, number)]
    position = next((place for place, row in enumerate(above) if _ENTRY.match(rows[row])), 0)
    start, end = above[position], _end(rows, above[position])
    for row in above[position + 1 :]:
        after = _end(rows, row)
        others = any(_has_content(rows[other]) for other in (*range(row + 1, start), *range(end, after)))
        if others or not _KEY_ALONE.match(rows[row]):
            break
        start, end, position = row, after, above.index(row)
    first = sum(map(len, rows[:start])) + start
    last = first + sum(map(len, rows[start:end])) + end - start - 1
    return wipe(clean, [(first, last)]), range(start + 1, end + 1), _path(rows, above[position:])


def indent(row: str) -> int:
    """The number of spaces before a line's content."""
    return len(row) - len(row.lstrip(" "))


def _has_content(row: str) -> bool:
    bare = row.lstrip()
    return bare != "" and not bare.startswith("#")


def _nearest(rows: Sequence[str], number: int) -> int | None:
    """The nearest line with content at or above a line, else the first below it."""
    above = next((row for row in range(number, -1, -1) if _has_content(rows[row])), None)
    return (
        above if above is not None else next((row for row in range(number, len(rows)) if _has_content(rows[row])), None)
    )


def _above(rows: Sequence[str], number: int) -> list[int]:
    """The lines that begin the parts around a line, from the innermost outward."""
    found = []
    depth, entry = indent(rows[number]), _ENTRY.match(rows[number]) is not None
    for row in range(number - 1, -1, -1):
        if not _has_content(rows[row]):
            continue
        here = indent(rows[row])
        if here < depth or (here == depth and entry and not _ENTRY.match(rows[row])):
            found.append(row)
            depth, entry = here, _ENTRY.match(rows[row]) is not None
    return found


def _end(rows: Sequence[str], number: int) -> int:
    """The line after the last line with content of the part that begins on a line."""
    depth, entry = indent(rows[number]), _ENTRY.match(rows[number]) is not None
    last = number
    for row in range(number + 1, len(rows)):
        if not _has_content(rows[row]):
            continue
        here = indent(rows[row])
        if here < depth or (here == depth and (entry or not _ENTRY.match(rows[row]))):
            break
        last = row
    return last + 1


def _path(rows: Sequence[str], above: Sequence[int]) -> Path:
    """The path of the part that begins on the first of these lines, each of which is inside the next."""
    path: list[str | int] = []
    for place, row in enumerate(reversed(above)):
        last = place == len(above) - 1
        if _ENTRY.match(rows[row]):
            if last:
                break
            path.append(_position(rows, row))
            if not _key_within(rows, row, above[len(above) - 2 - place]):
                continue
        if key := _KEY.match(rows[row]):
            path.append(key.group(1))
    return tuple(path)


def _key_within(rows: Sequence[str], row: int, inner: int) -> bool:
    """Whether an inner line belongs to the key on the line of a list entry, not to the entry itself."""
    key = _KEY.match(rows[row])
    return key is not None and indent(rows[inner]) > key.start(1)


def _position(rows: Sequence[str], number: int) -> int:
    """The position of a list entry among those of its list."""
    depth, count = indent(rows[number]), 0
    for row in range(number - 1, -1, -1):
        if _has_content(rows[row]) and indent(rows[row]) <= depth:
            if indent(rows[row]) < depth or not _ENTRY.match(rows[row]):
                break
            count += 1
    return count
