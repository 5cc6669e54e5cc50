"""One search: the ways to match a family, from the surest down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from sqlite3 import Connection, DatabaseError
from typing import NamedTuple

from kb.book.find.misspelling import spelt_otherwise, with_blanks_moved
from kb.book.find.query_text import Serial, Typed, Word, read_typed
from kb.book.find.reasons import Way, reasons_for, ways_of
from kb.book.find.serials import families_holding, letters_are_known
from kb.book.find.words import Group
from kb.book.model.hit import (
    BEGINNINGS,
    BEGINNINGS_SEEN,
    LEFT_OUT,
    MOST_HITS,
    ONE_SLIP,
    ONE_SLIP_BEGUN,
    ONE_SLIP_TOGETHER,
    SERIAL,
    SLIPS,
    WORDS,
    WORDS_SEEN,
    WORDS_TOGETHER,
    Hit,
)

MOST_QUERIES = 120
"""The most queries of one search: enough for five words of which any is left out and any has a slip."""


class _Found(NamedTuple):
    """A family found: its score, the line of the index by which it was found, if any, and the words found elsewhere."""

    score: int
    line: int | None
    words: Sequence[Word] = ()
    left_out: str = ""


def search_for(connection: Connection, words: str, limit: int) -> list[Hit]:
    """See ``kb.book.find.search``."""
    typed = read_typed(words)
    limit = min(limit, MOST_HITS)
    if not typed.words or limit < 1:
        return []
    return list(_Search(connection, typed, limit).hits())


class _Search:
    def __init__(self, connection: Connection, typed: Typed, limit: int) -> None:
        self.connection = connection
        self.typed = typed
        self.limit = limit
        self.found: dict[int, _Found] = {}
        self.near: dict[tuple[Word, int], Word] = {}
        self.left_out: frozenset[int] = frozenset()
        self.queries = 0

    def hits(self) -> Iterator[Hit]:
        """The families found, best first."""
        words = self.typed.words
        self._whole_names()
        self._all(words)
        if not self.found and len(words) > 1:
            self._one_left_out(words)
        marks = ", ".join("?" * len(self.found))
        rows = {
            row[0]: row[1:]
            for row in self.connection.execute(f"select * from find_family where place in ({marks})", (*self.found,))
        }
        if len(rows) < len(self.found):
            raise DatabaseError("a family is found that the index does not hold")
        ways: dict[int, list[list[Way]]] = {}  # one way of being found has one list of words
        for place, found in _in_order(self.found):
            family, name, maker, power, years, lines, labels = rows[place]
            if (key := id(found.words)) not in ways:
                ways[key] = [ways_of(word) for word in found.words]
            matched, old_id = reasons_for(ways[key], found.line, lines, labels)
            if found.left_out:
                matched += f"{'; ' if matched else ''}without “{found.left_out}”"
            yield Hit(family, name, maker, power, years, matched, old_id, found.score)

    def _whole_names(self) -> None:
        rows = self.connection.execute(
            "select place, score, line from find_name where key = ? order by score desc, place limit ?",
            (self.typed.key, self.limit),
        )
        for place, score, line in rows:
            self.found.setdefault(place, _Found(score, line))

    def _all(self, words: Sequence[Word]) -> None:
        """Find families with all words, in every way."""
        exact, begun = _every(map(_exact, words)), _every(map(_begun, words))
        if self._matches(exact):  # a word still being typed rarely matches whole
            for score, expression in ((WORDS_TOGETHER, _together(exact, words)), (WORDS, exact)):
                self._match(f"said : ({expression})" if expression else "", score, words)
            self._match(exact, WORDS_SEEN, words)
        self._serials(words)
        self._match(f"said : ({begun})", BEGINNINGS, words)
        self._match(begun, BEGINNINGS_SEEN, words)
        if all(found.score == SERIAL for found in self.found.values()):
            self._near(words)

    def _near(self, words: Sequence[Word]) -> None:
        """Find families with one word read otherwise; if there are none, with more slips and in any words."""
        known = len(self.found)
        one_slip = [[*words[:at], self._read_near(word, 1), *words[at + 1 :]] for at, word in enumerate(words)]
        variants = [*one_slip, *(() if self.left_out else with_blanks_moved(self.connection, words))]
        exact = [_every(_begun(word) if word.also_near else _exact(word) for word in variant) for variant in variants]
        for variant, each in zip(variants, exact, strict=True):
            self._match(_together(each, variant), ONE_SLIP_TOGETHER, variant)
        for variant, each in zip(variants, exact, strict=True):
            self._match(each, ONE_SLIP, variant)
        for variant in variants:
            self._match(_every(map(_begun, variant)), ONE_SLIP_BEGUN, variant)
        if len(self.found) == known:
            variant = [self._read_near(word, 2) for word in words]
            self._match(_every(map(_begun, variant)), SLIPS, variant)

    def _read_near(self, word: Word, slips: int) -> Word:
        if (word, slips) not in self.near:
            spellings = spelt_otherwise(self.connection, word, slips)
            self.near[word, slips] = replace(word, also_near=word.near + spellings)
        return self.near[word, slips]

    def _may_ask(self) -> bool:
        """Whether one more query is allowed, so that a search stays short however much was typed."""
        self.queries += 1
        return self.queries <= MOST_QUERIES and len(self.found) < self.limit

    def _matches(self, expression: str) -> bool:
        rows = self.connection.execute("select 1 from find_words where find_words match ? limit 1", (expression,))
        return rows.fetchone() is not None

    def _match(self, expression: str, score: int, words: Sequence[Word]) -> None:
        if not expression or not self._may_ask():
            return
        rows = self.connection.execute(
            "select rowid from find_words where find_words match ? order by rowid limit ?", (expression, self.limit)
        )
        for (place,) in rows:
            if place not in self.found and len(self.found) < self.limit:
                self.found[place] = _Found(score, None, words)

    def _serials(self, words: Sequence[Word]) -> None:
        """Find families with a range that holds a possible serial number, and with all other words."""
        for serial in self.typed.serials:
            others = [word for word in words if not word.places & serial.places]
            if len(others) == len(words) or self._is_cut(serial) or not self._may_ask():
                continue
            for place, line in families_holding(self.connection, serial, _every(map(_begun, others)), self.limit):
                if len(self.found) < self.limit:
                    self.found.setdefault(place, _Found(SERIAL, line, others))

    def _is_cut(self, serial: Serial) -> bool:
        """Whether letters next to the digits were left out although some serial numbers begin or end with them."""
        return any(
            serial.places < whole.places and whole.places & self.left_out and letters_are_known(self.connection, whole)
            for whole in self.typed.serials
        )

    def _one_left_out(self, words: Sequence[Word]) -> None:
        """Find families with each word left out in turn; the surest matches first, and of those the fewest."""
        tries: list[tuple[str, dict[int, _Found]]] = []
        for out in self._worth_leaving_out(words):
            self.left_out = words[out].places
            left = [word for at, word in enumerate(words) if at != out]
            if max(len(word.typed) for word in left) > 1:  # one letter by itself finds anything
                self._all(left)
            if self.found:
                tries.append((words[out].typed, self.found))
            self.found = {}
        tries.sort(key=lambda item: (-max(found.score for found in item[1].values()), len(item[1])))
        for less, (left_out, one) in enumerate(tries):
            for place, found in _in_order(one)[: self.limit - len(self.found)]:
                self.found.setdefault(place, found._replace(score=LEFT_OUT - less, left_out=left_out))

    def _worth_leaving_out(self, words: Sequence[Word]) -> Sequence[int]:
        """The words to leave out: the one that no family has; none if there are several such; else each."""
        foreign = []
        for at, word in enumerate(words):
            may_be_serial = any(word.places & serial.places for serial in self.typed.serials)
            if not may_be_serial and not self._matches(_begun(self._read_near(word, 2))):
                foreign.append(at)
        return foreign if len(foreign) == 1 else () if foreign else range(len(words))


def _in_order(found: Mapping[int, _Found]) -> list[tuple[int, _Found]]:
    return sorted(found.items(), key=lambda item: (-item[1].score, item[0]))


def _every(parts: Iterable[str]) -> str:
    return " AND ".join(parts)


def _any(groups: Sequence[Group], *, star: str = "", also: Sequence[Group] = ()) -> str:
    """One word's groups as an FTS5 query. Index words have only letters, digits, points and tildes: quotes suffice."""
    texts = [" AND ".join(f'"{word}"{star}' for word in group) for group in groups]
    texts += [" AND ".join(f'"{word}"' for word in group) for group in also]
    return f"({' OR '.join(f'({text})' for text in dict.fromkeys(texts))})"


def _exact(word: Word) -> str:
    """An FTS5 query for one word as typed."""
    return _any(word.exact)


def _begun(word: Word) -> str:
    """An FTS5 query for one word as a beginning, with its other readings."""
    return _any(word.exact, star="*" if word.grows else "", also=(*word.wider, *word.also_near))


def _together(each: str, words: Sequence[Word]) -> str:
    """An FTS5 query for all words, two of them side by side in a name as typed; empty if no two can be."""
    pairs = [
        f'"~{one}~{other}"'
        for first, second in pairwise(words)
        if first.places and second.places and max(first.places) + 1 == min(second.places)
        for one in _plain_readings(first)
        for other in _plain_readings(second)
    ]
    return f"{each} AND ({' OR '.join(pairs)})" if pairs else ""


def _plain_readings(word: Word) -> list[str]:
    readings = [group[0] for group in (*word.exact, *word.also_near) if len(group) == 1 and group[0][0] != "~"]
    return readings[:8]
