"""Writes a compiled book: draws the conclusions, packs and seals each row, and puts the file in its place at once."""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing
from io import FileIO
from itertools import chain, groupby
from json import JSONEncoder
from operator import itemgetter
from pathlib import Path

from kb.book.evidence.conclusions import conclude
from kb.book.find import make_index
from kb.book.model.catalogue import CORRECTION
from kb.book.model.family import Document, Heading
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
    unpack,
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
    if os.name == "posix":  # elsewhere a folder cannot be opened, nor a file without write permission
        descriptor = os.open(path, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


_encode = JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode


def in_json(document: object) -> str:
    """A document as JSON text, the same for the same document."""
    return _encode(document)


def digest_of(texts: Iterable[str]) -> str:
    """One number for many texts in their order."""
    return digest([texts])


class _Written:
    """The headings of a book in the making, read from its file again."""

    def __init__(self, binding: _Binding) -> None:
        self._binding = binding
        self.makers, self.retired = binding.shelf.makers, binding.shelf.retired

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""
        return self._binding.shelf.family_ids()

    def get_heading(self, family: str) -> Heading | None:
        """The heading of the family with that id."""
        row = self._binding.connection.execute("select heading from family where id = ?", (family,)).fetchone()
        return Heading(family, unpack(row[0], self._binding.dictionary)) if row else None


class _Binding:
    """Writes one compiled book."""

    def __init__(self, path: Path, shelf: MemoryBook) -> None:
        self.path, self.shelf = path, shelf
        self.connection = sqlite3.connect(path, isolation_level=None)
        # from the families and what they refer to: the conclusions follow from these and are drawn only once
        said = shelf.said or digest_of(map(in_json, shelf.documents.values()))
        references = (f"{kind} {key} {in_json(document)}" for kind, key, document in self._references())
        self.salt = int(digest_of(chain((shelf.date, said), references))[:8], 16)
        self.dictionary = self._sample()

    def write(self) -> None:
        """Write it all, and give the file back. Families are written one by one: however many, they take no memory."""
        with closing(self.connection):
            for setting in _SETTINGS:
                self.connection.execute(f"pragma {setting}").fetchall()
            self.connection.execute("begin")
            for table in TABLES.values():
                self.connection.execute(table)
            self.connection.execute("create temp table named (name text, id text)")
            for kind, key, document in self._references():
                self._insert("reference", (kind, key), in_json(document))
            for key in self.shelf.family_ids():
                self._family(key)
            named = self.connection.execute("select name, id from named order by name, id")
            for name, rows in groupby(named, itemgetter(0)):
                self._insert("name", (name,), in_json([key for _, key in rows]))
            self._insert("meta", ("dictionary",), self.dictionary)
            make_index(self.connection, _Written(self))  # last, so that its pages lie together
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
        names = [(name, key) for name in self.shelf.names_of(document)]
        self.connection.executemany("insert into named values (?, ?)", names)
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
        """What families refer to, and what is beside each of them; the reports one family at a time."""
        shelf = self.shelf
        withdrawn: dict[str, list[Document]] = {}
        for entry in shelf.withdrawals:
            withdrawn.setdefault(entry["statement"]["family"], []).append(entry)
        kinds: Mapping[str, Mapping[str, object]] = {
            "caution": shelf.cautions,
            "figure": {key: kind.document for key, kind in shelf.figures.items()},
            "maker": {key: maker.document for key, maker in shelf.makers.items()},
            "retired": shelf.retired,
            "routine": shelf.routines,
            "source": {key: source.document for key, source in shelf.sources.items()},
            "withdrawn": withdrawn,
        }
        for kind, documents in kinds.items():
            for key in sorted(documents):
                yield kind, key, documents[key]
        for family, keys in groupby(sorted(shelf.reported), lambda key: key.rpartition("/")[0]):
            yield "report", family, {key.rpartition("/")[2]: shelf.reported[key] for key in keys}

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
