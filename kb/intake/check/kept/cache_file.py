"""The cache file: an SQLite file of parts, whose digests are in one index, and of rows, whose digests are in a part.

The index has the version of the checker that wrote it, the digest of every part, and its own digest. If anything does
not match (a flipped bit, a row from an older state, a truncated file, another version), the cache counts as empty and
the next write replaces it. Nothing in it is ever executed: parts and rows are JSON or plain text.

A write is one transaction and goes only onto the state that was read: if two processes run at once, one keeps its
results and the other drops them. The file may be deleted, copied or shared at any time.
"""

from __future__ import annotations

import json
import os
import sqlite3
from collections.abc import Iterable, Mapping, Sequence
from contextlib import closing, suppress
from pathlib import Path

from kb.intake.check.kept.finding_rows import digest, packed

RESULT, DOCUMENT = "result", "document"
"""The two rows of a file: the result of its check, and what it says as typed."""

_INDEX = "index"
_TABLES = {
    "part": "CREATE TABLE part (name TEXT PRIMARY KEY, payload BLOB NOT NULL)",
    **{table: f"CREATE TABLE {table} (file BLOB PRIMARY KEY, payload BLOB NOT NULL)" for table in (RESULT, DOCUMENT)},
}
_MEMORY = 16_384  # kilobytes of a temporary database that may stay in memory
_SECONDS_TO_WAIT = 5.0  # seconds to wait for another process's writing


class Damaged(Exception):
    """A part is missing or does not match the index."""


class Cache:
    """The cached parts of one state; empty if there is no valid state of this version.

    Parts are read when needed and written only by ``replace``.
    """

    def __init__(self, path: Path | None, version: str) -> None:
        self._path = path
        self._edition = version
        self._raw = b""
        self.parts: dict[str, str] = {}
        with suppress(sqlite3.Error, OSError, Damaged, ValueError, KeyError, TypeError):
            self._open()

    @property
    def keeps(self) -> bool:
        """Whether there is a file to keep anything in."""
        return self._path is not None

    def _open(self) -> None:
        raw = self._fetch((_INDEX,)).get(_INDEX, b"")
        stated, body = raw[:32], raw[32:]
        if stated != digest(body).encode():
            raise Damaged("the index")
        index = json.loads(body)
        if index["edition"] == self._edition:
            self.parts, self._raw = index["parts"], raw

    def _fetch(self, names: Iterable[str]) -> dict[str, bytes]:
        """Those of the named parts that the file has, unverified."""
        found: dict[str, bytes] = {}
        if self._path is None or not self._path.is_file() or not self._path.stat().st_size:
            return found
        with closing(sqlite3.connect(self._path, timeout=_SECONDS_TO_WAIT)) as connection:
            for name in names:
                for (payload,) in connection.execute("SELECT payload FROM part WHERE name = ?", (name,)):
                    found[name] = bytes(payload)
        return found

    def rows(self, table: str, files: Sequence[str]) -> dict[str, bytes]:
        """The row of each of these files in a table, unverified: whoever asks has the digests.

        Raises:
            Damaged: the file cannot be read.
        """
        if self._path is None or not files:
            return {}
        try:
            with closing(sqlite3.connect(self._path, timeout=_SECONDS_TO_WAIT)) as connection:
                return rows_of(connection, table, files)
        except (sqlite3.Error, OSError, TypeError, ValueError) as error:
            raise Damaged(str(error)) from None

    def read(self, names: Iterable[str]) -> dict[str, bytes]:
        """Those of the named parts that exist, each verified.

        Raises:
            Damaged: a part does not match the index, or another process has written in the meantime.
        """
        wanted = [name for name in names if name in self.parts]
        if not wanted:
            return {}
        try:
            found = self._fetch(wanted)
        except (sqlite3.Error, OSError, TypeError, ValueError) as error:
            raise Damaged(str(error)) from None
        for name in wanted:
            if name not in found or digest(found[name]) != self.parts[name]:
                raise Damaged(name)
        return found

    def replace(
        self, changed: Mapping[str, bytes], rows: sqlite3.Connection | None = None, gone: Sequence[str] = ()
    ) -> None:
        """Write the changed parts and all ``rows`` of a temporary database, delete those of files that are gone.

        Nothing is written, and no error raised, if there is no cache file, if another process has written in the
        meantime, or if the file cannot be written: a cache is a convenience and must never stop a check.
        """
        if self._path is None:
            return
        digests = {name: digest(payload) for name, payload in changed.items()}
        changed = {name: payload for name, payload in changed.items() if self.parts.get(name) != digests[name]}
        body = packed({"edition": self._edition, "parts": {**self.parts, **digests}})
        changed[_INDEX] = digest(body).encode() + body
        with suppress(sqlite3.Error, OSError):
            if self._raw:
                self._update(self._path, changed, rows, gone)
            elif _may_overwrite(self._path):
                _start_afresh(self._path, changed, rows)

    def forget(self) -> None:
        """Treat the cache as empty: the next write replaces it."""
        self.parts, self._raw = {}, b""

    def _update(
        self, path: Path, changed: Mapping[str, bytes], rows: sqlite3.Connection | None, gone: Sequence[str]
    ) -> None:
        with closing(sqlite3.connect(path, timeout=_SECONDS_TO_WAIT, isolation_level=None)) as connection:
            connection.execute("PRAGMA synchronous = OFF")  # the digests detect what a power cut damages
            connection.execute("BEGIN IMMEDIATE")
            raw = connection.execute("SELECT payload FROM part WHERE name = ?", (_INDEX,)).fetchone()
            if raw is None or bytes(raw[0]) != self._raw:
                connection.execute("ROLLBACK")
                return
            for table in (RESULT, DOCUMENT):
                connection.executemany(f"DELETE FROM {table} WHERE file = ?", [(row_key(file),) for file in gone])
            _write(connection, changed, rows)
            connection.execute("COMMIT")


def rows_of(connection: sqlite3.Connection, table: str, files: Sequence[str]) -> dict[str, bytes]:
    """Those rows of a table that are of these files."""
    keys = {row_key(file): file for file in files}
    marks = ", ".join("?" * len(keys))
    found = connection.execute(f"SELECT file, payload FROM {table} WHERE file IN ({marks})", (*keys,))
    return {keys[bytes(key)]: bytes(payload) for key, payload in found}


def temporary_rows() -> sqlite3.Connection:
    """A database with the tables of the rows, which is gone when it is closed; what is large lies on the disk."""
    connection = sqlite3.connect("", isolation_level=None)
    for setting in (f"cache_size = -{_MEMORY}", "journal_mode = OFF", "synchronous = OFF"):
        connection.execute(f"PRAGMA {setting}")
    _create(connection)
    connection.execute("BEGIN")
    return connection


def row_key(file: str) -> bytes:
    """The key of a file's rows; a path may hold bytes that are not UTF-8."""
    return file.encode("utf-8", "surrogateescape")


def _create(connection: sqlite3.Connection) -> None:
    for table in _TABLES.values():
        connection.execute(table)


def _write(connection: sqlite3.Connection, changed: Mapping[str, bytes], rows: sqlite3.Connection | None) -> None:
    connection.executemany("INSERT OR REPLACE INTO part VALUES (?, ?)", list(changed.items()))
    if rows is None:
        return
    for table in (RESULT, DOCUMENT):
        from_there = rows.execute(f"SELECT file, payload FROM {table} ORDER BY file")
        connection.executemany(f"INSERT OR REPLACE INTO {table} VALUES (?, ?)", from_there)


def _start_afresh(path: Path, changed: Mapping[str, bytes], rows: sqlite3.Connection | None) -> None:
    """Build a new file next to the old one and replace that in one step."""
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    beside.unlink(missing_ok=True)
    try:
        with closing(sqlite3.connect(beside, isolation_level=None)) as connection:
            connection.execute("PRAGMA journal_mode = OFF")
            connection.execute("PRAGMA synchronous = OFF")
            _create(connection)
            connection.execute("BEGIN")
            _write(connection, changed, rows)
            connection.execute("COMMIT")
        path.with_name(f"{path.name}-journal").unlink(missing_ok=True)
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def _may_overwrite(path: Path) -> bool:
    """Whether the file is a cache, however damaged, and not somebody's text or database."""
    try:
        with path.open("rb") as stream:
            head = stream.read(64)
    except FileNotFoundError:
        return True
    try:
        with closing(sqlite3.connect(path, timeout=_SECONDS_TO_WAIT)) as connection:
            tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
    except sqlite3.Error:
        return not _is_text(head)
    return {name for (name,) in tables} <= _TABLES.keys()


def _is_text(head: bytes) -> bool:
    """Whether a file that begins like this is readable text; a truncated character at the end is ignored."""
    return bool(head) and min(head) >= 9 and head.decode("utf-8", "replace").count("\ufffd") <= 1
