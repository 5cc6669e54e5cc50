"""Parts of the cache as tables: one line a file, its path and then columns of JSON, read only when asked for.

Ten thousand files come to a few hundred parts, of which a run after one change reads and writes a handful.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any
from zlib import crc32

from kb.intake.check.kept.cache_file import Cache, Damaged
from kb.intake.check.kept.finding_rows import packed

Table = dict[str, str]
"""The rest of each line by its file: JSON columns with tabs between."""

_BUCKETS = 64


def bucket(file: str) -> str:
    """The part of a file that belongs to no group: buckets hold some hundred and fifty files in ten thousand."""
    return f"{crc32(file.encode('utf-8', 'surrogateescape')) % _BUCKETS:02}"


def text(value: Any) -> str:
    """Plain JSON values as one column: it holds neither a tab nor a line end."""
    return packed(value).decode("ascii")


def decode(payload: bytes) -> Table:
    """A table from its lines."""
    lines = payload.decode("utf-8").split("\n") if payload else ()
    return {_file(key): rest for key, _, rest in (line.partition("\t") for line in lines)}


def encode(table: Mapping[str, str]) -> bytes:
    """A table as lines, in order of file."""
    return "\n".join(f"{_key(file)}\t{table[file]}" for file in sorted(table)).encode("utf-8")


def _key(file: str) -> str:
    """A path as it is, or as JSON where it holds what would break a line."""
    return file if file.isprintable() and not file.startswith('"') else text(file)


def _file(key: str) -> str:
    return str(json.loads(key)) if key.startswith('"') else key


class Tables:
    """The tables of a cache as they were and as they become."""

    def __init__(self, cache: Cache) -> None:
        self._cache = cache
        self._tables: dict[str, Table] = {}
        self._changed: set[str] = set()

    def names(self, prefix: str) -> set[str]:
        """Every table that there is or will be whose name begins so."""
        found = {name for name in self._cache.parts if name.startswith(prefix)} | self._tables.keys()
        return {name for name in found if name.startswith(prefix)}

    def load(self, names: Iterable[str]) -> None:
        """Read several at once.

        Raises:
            Damaged: one of them is not what was kept.
        """
        wanted = sorted(set(names) - self._tables.keys())
        payloads = self._cache.read(wanted)
        for name in wanted:
            try:
                self._tables[name] = decode(payloads.get(name, b""))
            except ValueError as error:
                raise Damaged(str(error)) from None

    def table(self, name: str) -> Table:
        """One table; empty where there is none. Change it through ``put`` and ``drop``."""
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
        """Take a file's line out."""
        if self.table(name).pop(file, None) is not None:
            self._changed.add(name)

    def changes(self) -> tuple[dict[str, bytes], list[str]]:
        """The tables to write, and the names of those that have become empty."""
        written = {name: encode(self._tables[name]) for name in sorted(self._changed) if self._tables[name]}
        return written, sorted(name for name in self._changed if not self._tables[name])
