"""The reasons why a family was found, in words."""

from __future__ import annotations

from collections.abc import Sequence

from kb.book.find.query_text import Word

_UNITS = {"hp": "hp", "kw": "kW", "ps": "PS"}

Way = tuple[Sequence[str], str]
"""A way to find a word: the texts that a line of the index must contain, and a note on how the word was read."""


def ways_of(word: Word) -> list[Way]:
    """The ways in which a word can be found, as typed first."""
    begun = word.exact if word.grows else ()
    tries = ((word.exact, " "), (begun, ""), (word.wider, " "), (word.also_near, " "))
    return [
        ([f" {part}{end}" for part in group], _note(word, group) if groups is word.also_near else "")
        for groups, end in tries
        for group in groups
    ]


def reasons_for(words: Sequence[Sequence[Way]], line: int | None, lines: str, labels: str) -> tuple[str, str]:
    """The labels of the lines that contain each word, in the order typed, with notes on how it was read; then that of
    ``line``, by which the family was found; and the old id that one of them names. ``lines`` and ``labels`` are the
    family's, from the index.
    """
    places = [place for ways in words for place in _places(ways, lines)]
    if line is not None:
        places.append((line, ""))
    if len(places) == 1:
        at, note = places[0]
        old_id, _, label = labels.split("\n")[at].partition("\t")
        return f"{label} ({note})" if note else label, old_id
    each, old_id, notes = labels.split("\n"), "", dict[str, list[str]]()
    for at, note in places:
        old, _, label = each[at].partition("\t")
        old_id = old_id or old
        added = notes.setdefault(label, [])
        if note and note not in added:
            added.append(note)
    return "; ".join([f"{label} ({', '.join(added)})" if added else label for label, added in notes.items()]), old_id


def _places(ways: Sequence[Way], lines: str) -> list[tuple[int, str]]:
    """The lines that contain a word, in the first way that matches."""
    for needles, note in ways:
        found = [*map(lines.find, needles)]
        if -1 not in found:
            return [(lines.count("\n", 0, at), note) for at in found]
    return []


def _note(word: Word, group: Sequence[str]) -> str:
    read = " ".join(group).strip("~")
    if group[0].startswith("~") and (unit := _UNITS.get(read[-2:])):
        read = f"{read[:-2]} {unit}"
    return "" if read == word.typed else f"“{word.typed}” read as “{read}”"
