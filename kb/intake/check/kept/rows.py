"""The rows of the cache: for each file the result of its check, and what it says as typed, read only when needed.

What a check finds out goes into a temporary database, and from there into the cache when the check has ended. So memory
does not grow with what the files come to, but only with their number.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import NamedTuple, TypeVar

from kb.intake.check.kept.cache_file import DOCUMENT, RESULT, Cache, Damaged, row_key, rows_of, temporary_rows
from kb.intake.check.kept.finding_rows import digest

ROWS = "rows"
"""The part of the cache that binds the rows: the digests of both rows of every file, in order of file."""

_BATCH = 256  # rows read at once


T = TypeVar("T")


def in_batches(several: Iterable[T]) -> Iterator[list[T]]:
    """As many at once as are read at once."""
    remaining = iter(several)
    while batch := list(islice(remaining, _BATCH)):
        yield batch


class Result(NamedTuple):
    """The result of checking one file, as text: the digest of its content, and columns of JSON."""

    content: str
    needs: str
    findings: str
    exemptions: str
    facts: str

    @classmethod
    def read(cls, row: str) -> Result:
        """From the row of a file."""
        return cls(*row.split("\t"))

    @property
    def row(self) -> str:
        """The row of the file; no column holds a tab."""
        return "\t".join(self)


class Rows:
    """The rows of the files as the cache has them, with the changes to write."""

    def __init__(self, cache: Cache, files: Sequence[str]) -> None:
        """``files`` are those that the cache knows, in its order.

        Raises:
            Damaged: the cache does not match its index.
        """
        self._cache = cache
        digests = cache.read((ROWS,)).get(ROWS, b"").decode("ascii").split() if files else []
        if len(digests) != len(files):
            raise Damaged(ROWS)
        self._digests = dict(zip(files, digests, strict=True))
        self._written: sqlite3.Connection | None = None
        self._changed: set[str] = set()
        self._gone: set[str] = set()

    def results(self, files: Iterable[str]) -> Iterator[tuple[str, Result]]:
        """The result of each of these files that has one.

        Raises:
            Damaged: a row does not match its digest.
        """
        return ((file, Result.read(payload.decode("ascii"))) for file, payload in self._rows(RESULT, files))

    def documents(self, files: Iterable[str]) -> Iterator[tuple[str, str]]:
        """What each of these files says, as JSON text; likewise."""
        return ((file, payload.decode("ascii")) for file, payload in self._rows(DOCUMENT, files))

    def _rows(self, table: str, files: Iterable[str]) -> Iterator[tuple[str, bytes]]:
        for batch in in_batches(files):
            kept = [file for file in batch if file in self._digests and file not in self._changed]
            found = self._cache.rows(table, kept)
            for file in kept:
                if file not in found or digest(found[file]) != self._digest(table, file):
                    raise Damaged(f"the {table} of {file}")
            if self._written is not None and len(kept) < len(batch):
                found.update(rows_of(self._written, table, [file for file in batch if file in self._changed]))
            yield from ((file, found[file]) for file in batch if file in found)

    def _digest(self, table: str, file: str) -> str:
        both = self._digests[file]
        return both[:32] if table == RESULT else both[32:]

    def put(self, file: str, result: Result, document: str) -> None:
        """Set both rows of a file."""
        if self._written is None:
            self._written = temporary_rows()
        key, payloads = row_key(file), (result.row.encode("ascii"), document.encode("ascii"))
        for table, payload in zip((RESULT, DOCUMENT), payloads, strict=True):
            self._written.execute(f"INSERT OR REPLACE INTO {table} VALUES (?, ?)", (key, payload))
        self._digests[file] = "".join(map(digest, payloads))
        self._changed.add(file)

    def drop(self, file: str) -> None:
        """Delete the rows of a file."""
        if self._digests.pop(file, None):
            self._gone.add(file)

    def write(self, parts: Mapping[str, bytes], files: Iterable[str]) -> None:
        """Write the rows into the cache, with these other parts, for a folder that has these files."""
        bound = "\n".join([self._digests[file] for file in files]).encode("ascii")
        self._cache.replace({**parts, ROWS: bound}, self._written, sorted(self._gone))
