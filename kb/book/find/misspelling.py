"""Misspelt words: words of the index that differ little from the typed one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from sqlite3 import Connection

from kb.book.find.query_text import Word
from kb.book.find.words import Group

MOST_SPELLINGS = 24
"""The most other spellings of one word that are tried."""


def spelt_otherwise(connection: Connection, word: Word, edits: int) -> tuple[Group, ...]:
    """The words of the index within ``edits`` slips of the typed word; nearest first, then alphabetically.

    One slip (a letter too many, too few or wrong, or two neighbours swapped) is allowed in words of four letters or
    more, in a year, and in the beginning of a longer word; two in words of eight or more.
    """
    typed = word.exact[0][0] if word.grows and len(word.exact[0]) == 1 else ""
    if len(typed) < 3 or not (typed.isalpha() or (len(typed) == 4 and typed.isdecimal())):
        return ()
    if edits > 1 and len(typed) < 7:
        edits = 1
    near = []
    for known in _sharing_a_piece(connection, typed, edits):
        longer = max(len(typed), len(known))
        allowed = min(edits, 2 if longer >= 8 else 1 if longer >= 4 else 0)
        slips = next((count for count in range(1, allowed + 1) if within(typed, known, count)), None)
        if slips is None and len(typed) >= 5 and _begins(typed, known):
            slips = 3  # sorts after every whole word
        if slips is not None:
            near.append((slips, known))
    return tuple((known,) for _, known in sorted(near)[:MOST_SPELLINGS])


def with_blanks_moved(connection: Connection, words: Sequence[Word]) -> Iterator[Sequence[Word]]:
    """The words with one blank removed or one inserted, where the index has the resulting words."""
    for at, word in enumerate(words):
        if at + 1 < len(words):
            joined, places = word.typed + words[at + 1].typed, word.places | words[at + 1].places
            if _known(connection, [joined]):
                yield [*words[:at], Word(joined, ((joined,),), places=places), *words[at + 2 :]]
        if word.typed.isalpha():
            cuts = [(word.typed[:cut], word.typed[cut:]) for cut in range(3, min(len(word.typed), 30) - 2)]
            known = _known(connection, [half for cut in cuts for half in cut])
            groups = tuple(cut for cut in cuts if set(cut) <= known)
            if groups:
                yield [*words[:at], Word(word.typed, groups, places=word.places), *words[at + 1 :]]


def within(one: str, other: str, slips: int) -> bool:
    """Whether two words are at most ``slips`` slips apart.

    >>> within("kecth", "ketch", 1), within("skerow", "skerrow", 1), within("yawl", "awl", 0)
    (True, True, False)
    """
    if abs(len(one) - len(other)) > slips:
        return False
    same = 0
    for a, b in zip(one, other, strict=False):
        if a != b:
            break
        same += 1
    one, other = one[same:], other[same:]
    if not one or not other:
        return True
    if not slips:
        return False
    left = slips - 1
    return (
        within(one[1:], other[1:], left)
        or within(one, other[1:], left)
        or within(one[1:], other, left)
        or (one[:2] == other[1::-1] and within(one[2:], other[2:], left))
    )


def _begins(typed: str, known: str) -> bool:
    """Whether the typed word is the beginning of a longer word, with one slip."""
    return len(known) > len(typed) + 1 and any(
        within(typed, known[:length], 1) for length in range(len(typed) - 1, len(typed) + 2)
    )


def _sharing_a_piece(connection: Connection, typed: str, slips: int) -> list[str]:
    """Every word of the index that may be that near. Cut into one piece more than there are slips, with one letter left
    out between pieces (two neighbours may be swapped there), a word keeps at least one piece whole."""
    size = (len(typed) - slips) // (slips + 1)
    starts = [at * (size + 1) for at in range(slips + 1)]
    first, *others = [typed[start : start + size] for start in starts[:-1]] + [typed[starts[-1] :]]
    rows = connection.execute(
        "select word from find_vocabulary where length >= ? and (substr(word, 1, ?) = ? or "
        + " or ".join("instr(word, ?) > 0" for _ in others)
        + ")",
        (len(typed) - slips, len(first), first, *others),
    )
    return [word for (word,) in rows]


def _known(connection: Connection, words: Sequence[str]) -> set[str]:
    if not words:
        return set()
    marks = ", ".join("(?, ?)" for _ in words)
    values = [value for word in words for value in (len(word), word)]
    rows = connection.execute(f"select word from find_vocabulary where (length, word) in (values {marks})", values)
    return {word for (word,) in rows}
