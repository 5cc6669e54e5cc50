"""Writes a compiled book: draws the conclusions, packs and seals each row, and puts the file in its place at once."""

from __future__ import annotations

import json
import os
import sqlite3
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import closing
from io import FileIO
from pathlib import Path

from kb.book.evidence.conclusions import conclude
from kb.book.find import make_index
from kb.book.model.catalogue import CORRECTION
from kb.book.model.family import Document
from kb.book.store.file_format import (
    APPLICATION,
    FIND_TABLES,
    FORMAT,
    KEYS,
    PAGE,
    SCHEMA,
    TABLES,
    TOLD,
    content_digest,
    digest,
    find_digest,
    pack,
    seal,
)
from kb.book.store.in_memory import MemoryBook
from kb.errors import BookError

_SETTINGS = (
    f"page_size = {PAGE}",
    "journal_mode = off",
    "synchronous = off",
    "locking_mode = exclusive",
    f"application_id = {APPLICATION}",
    f"user_version = {FORMAT}",
)
_DICTIONARY = 8192


def write_store(path: str | os.PathLike[str], shelf: MemoryBook) -> None:
    """Write a book to one compiled file. The same book gives the same bytes, as long as SQLite is the same.

    The file is written beside its place and moved there when it is complete and on the disk: a process that has the old
    one open goes on reading that, and of several that write at once the last one to finish is kept whole.

    Raises:
        OSError: the folder cannot be written to; nothing is left behind.
    """
    place = Path(path)
    descriptor, name = tempfile.mkstemp(prefix=f".{place.name}.", suffix=".part", dir=place.parent)
    os.close(descriptor)
    part = Path(name)
    try:
        _Binding(part, shelf).write()
        mask = os.umask(0)
        os.umask(mask)
        part.chmod(0o666 & ~mask)
        _to_disk(part)
        part.replace(place)
        _to_disk(place.parent)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _to_disk(path: Path) -> None:
    if os.name == "posix":  # elsewhere a folder can not be opened, nor a file without write permission
        descriptor = os.open(path, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def in_json(document: object) -> str:
    """A document as JSON text, the same for the same document."""
    return json.dumps(document, ensure_ascii=False, separators=(",", ":"))


class _Binding:
    """Writes one compiled book."""

    def __init__(self, path: Path, shelf: MemoryBook) -> None:
        self.path, self.shelf = path, shelf
        self.connection = sqlite3.connect(path, isolation_level=None)
        # from the families and what they refer to: the conclusions follow from these and are drawn only once
        says = [shelf.date, *(in_json(document) for document in shelf.documents.values())]
        says += [f"{kind} {key} {in_json(document)}" for kind, key, document in self._references()]
        self.salt = int(digest([says])[:8], 16)
        self.dictionary = self._sample()

    def write(self) -> None:
        """Write it all, and give the file back."""
        with closing(self.connection):
            for setting in _SETTINGS:
                self.connection.execute(f"pragma {setting}").fetchall()
            self.connection.execute("begin")
            for table in TABLES.values():
                self.connection.execute(table)
            for kind, key, document in self._references():
                self._insert("reference", (kind, key), in_json(document))
            for name, ids in sorted(self.shelf.names.items()):
                self._insert("name", (name,), in_json(ids))
            for key in self.shelf.family_ids():
                self._family(key)
            self._insert("meta", ("dictionary",), self.dictionary)
            make_index(self.connection, self.shelf)  # last, so that its pages lie together
            self.connection.execute("commit")
            meta = self._meta()
            self._insert("meta", ("book",), in_json(meta))
            if meta["find"] != self._find():
                raise BookError(f"{self.path} cannot be written: what it says of itself does not fit beside the rest")

    def _family(self, key: str) -> None:
        document = self.shelf.documents[key]
        heading = {**document, "figures": list(document["figures"])}
        row: list[object] = [key]
        for column, text in (("heading", in_json(heading)), ("family", in_json(document))):
            payload = pack(text, self.dictionary)
            row += [payload, seal(self.salt, f"{column}\0{key}", payload)]
        self.connection.execute("insert into family values (?, ?, ?, ?, ?)", row)
        for figure, settled in self._settled(key):
            self._insert("settled", (key, figure), in_json(settled))

    def _insert(self, table: str, key: Sequence[str], value: str | bytes) -> None:
        """One row of a table that has a payload and a seal behind its key."""
        dictionary = b"" if table == "meta" else self.dictionary
        payload = value if isinstance(value, bytes) else pack(value, dictionary)
        salt = 0 if key == ("book",) else self.salt
        stamp = seal(salt, "\0".join((table, *key)), payload)
        marks = ", ".join("?" * (len(key) + 2))
        self.connection.execute(f"insert into {table} values ({marks})", (*key, payload, stamp))

    def _settled(self, family: str) -> Iterator[tuple[str, Document]]:
        found = self.shelf.get_family(family)
        if found is not None:
            told = {name: found.document[name] for name in TOLD if name in found.document}
            for figure in sorted({*found.statements, CORRECTION}):
                if (settled := conclude(self.shelf, found, figure)) is not None:
                    yield figure, {"told": told, **settled}

    def _references(self) -> Iterator[tuple[str, str, object]]:
        shelf = self.shelf
        withdrawn: dict[str, list[Document]] = {}
        for entry in shelf.withdrawals:
            withdrawn.setdefault(entry["statement"]["family"], []).append(entry)
        kinds: Mapping[str, Mapping[str, object]] = {
            "caution": shelf.cautions,
            "figure": {key: kind.document for key, kind in shelf.figures.items()},
            "maker": {key: maker.document for key, maker in shelf.makers.items()},
            "report": shelf.reports_by_family,
            "retired": shelf.retired,
            "routine": shelf.routines,
            "source": {key: source.document for key, source in shelf.sources.items()},
            "withdrawn": withdrawn,
        }
        for kind, documents in kinds.items():
            for key in sorted(documents):
                yield kind, key, documents[key]

    def _sample(self) -> bytes:
        """What is often said in this book: the dictionary that packing falls back on, commonest last."""
        ids = self.shelf.family_ids()
        few = ids[:: max(1, len(ids) // 4)][:4]
        documents = "".join(in_json(self.shelf.documents[key]) for key in few[:1])
        settled = "".join(in_json(settled) for key in few for _, settled in self._settled(key))
        half = _DICTIONARY // 2
        return documents.encode()[-half:] + settled.encode()[-half:]

    def _meta(self) -> Document:
        return {
            "format": FORMAT,
            "date": self.shelf.date,
            "invented": self.shelf.invented,
            "salt": self.salt,
            "counts": {table: self.connection.execute(f"select count(*) from {table}").fetchone()[0] for table in KEYS},
            "keys": {table: digest(self.connection.execute(sql)) for table, sql in KEYS.items()},
            "content": content_digest(self.connection),
            "schema": digest(self.connection.execute(SCHEMA)),
            "find": self._find(),
        }

    def _find(self) -> Document:
        """Which pages hold the tables in which families are found, from the first to the end, and their digest."""
        schema = self.connection.execute(SCHEMA).fetchall()
        first = min(root for _, name, _, _, root in schema if root and name.startswith(FIND_TABLES))
        with FileIO(str(self.path)) as file:
            return {"page": first, "digest": find_digest(file, first)}
