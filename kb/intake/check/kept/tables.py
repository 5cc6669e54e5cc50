"""Parts of the cache as tables: a line per file, its path and then columns of JSON, read only when needed.

Ten thousand files make a few hundred parts, of which a run after one change reads and writes a handful.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any
from zlib import crc32

from kb.intake.check.kept.cache_file import Cache, Damaged
from kb.intake.check.kept.finding_rows import packed

Table = dict[str, str]
"""The rest of each line by its file: JSON columns separated by tabs."""

_BUCKETS = 64


def bucket(file: str) -> str:
    """The bucket of a file that belongs to no group; of ten thousand files, about 150 are in each bucket."""
    return f"{crc32(file.encode('utf-8', 'surrogateescape')) % _BUCKETS:02}"


def text(value: Any) -> str:
    """Plain JSON values as one column, without tabs and line ends."""
    return packed(value).decode("ascii")


def decode(payload: bytes) -> Table:
    """A table from its lines."""
    lines = payload.decode("utf-8").split("\n") if payload else ()
    return {_file(key): rest for key, _, rest in (line.partition("\t") for line in lines)}


def encode(table: Mapping[str, str]) -> bytes:
    """A table as lines, in order of file."""
    return "\n".join(f"{_key(file)}\t{table[file]}" for file in sorted(table)).encode("utf-8")


def _key(file: str) -> str:
    """A path as it is, or as JSON if it contains something that would break a line."""
    return file if file.isprintable() and not file.startswith('"') else text(file)


def _file(key: str) -> str:
    return str(json.loads(key)) if key.startswith('"') else key


class Tables:
    """The tables of a cache, with the changes to write."""

    def __init__(self, cache: Cache) -> None:
        self._cache = cache
        self._tables: dict[str, Table] = {}
        self._changed: set[str] = set()

    def names(self, prefix: str) -> set[str]:
        """Every table, old or new, whose name begins with this prefix."""
        found = {name for name in self._cache.parts if name.startswith(prefix)} | self._tables.keys()
        return {name for name in found if name.startswith(prefix)}

    def load(self, names: Iterable[str]) -> None:
        """Read several tables at once.

        Raises:
            Damaged: one of them does not match the index.
        """
        wanted = sorted(set(names) - self._tables.keys())
        payloads = self._cache.read(wanted)
        for name in wanted:
            try:
                self._tables[name] = decode(payloads.get(name, b""))
            except ValueError as error:
                raise Damaged(str(error)) from None

    def table(self, name: str) -> Table:
        """One table; empty if there is none. Change it with ``put`` and ``drop``."""
        if name not in self._tables:
            self.load((name,))
        return self._tables[name]

    def put(self, name: str, file: str, columns: str) -> None:
        """Set a file's line."""
        table = self.table(name)
        if table.get(file) != columns:
            table[file] = columns
            self._changed.add(name)

    def drop(self, name: str, file: str) -> None:
        """Delete a file's line."""
        if self.table(name).pop(file, None) is not None:
            self._changed.add(name)

    def changes(self) -> tuple[dict[str, bytes], list[str]]:
        """The tables to write, and the names of tables that have become empty."""
        written = {name: encode(self._tables[name]) for name in sorted(self._changed) if self._tables[name]}
        return written, sorted(name for name in self._changed if not self._tables[name])
