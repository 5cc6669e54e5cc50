"""The format of a compiled book: its tables, how a document is packed, and the seal that protects a row.

The file is SQLite. Every row holds a document as JSON, compressed with a dictionary that is in the file, and a seal: a
checksum of the row's table, key and packed bytes, seeded with a number derived from all that the book holds. So a row
that was changed, has another row's key or comes from another book does not match its seal. A missing row shows in the
digest of all keys of its table. None of this stops someone who writes a whole false book and seals it; the schema, the
sizes and the time that reading takes are bounded all the same.
"""

from __future__ import annotations

import zlib
from functools import lru_cache
from json.decoder import JSONDecoder

from kb.errors import BookDamaged

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from io import FileIO
    from sqlite3 import Connection
    from typing import Any

FORMAT = 3
"""Raised with every change of the tables, of what a document holds, or of how it is packed."""

APPLICATION = 0x53544F50
"""The application id in the file's header, which distinguishes compiled books from other SQLite files."""

PAGE = 4096
"""Bytes in a page of the file."""

_AT_ONCE = 1 << 20  # bytes

LARGEST = 4 << 20
"""The most bytes of a document."""

TABLES = {
    "meta": "CREATE TABLE meta (name TEXT PRIMARY KEY, payload BLOB, seal INTEGER) WITHOUT ROWID",
    "reference": "CREATE TABLE reference (kind TEXT, id TEXT, payload BLOB, seal INTEGER, PRIMARY KEY (kind, id))"
    " WITHOUT ROWID",
    "family": "CREATE TABLE family (id TEXT PRIMARY KEY, heading BLOB, heading_seal INTEGER, payload BLOB,"
    " seal INTEGER)",
    "settled": "CREATE TABLE settled (family TEXT, figure TEXT, payload BLOB, seal INTEGER,"
    " PRIMARY KEY (family, figure)) WITHOUT ROWID",
    "name": "CREATE TABLE name (name TEXT PRIMARY KEY, payload BLOB, seal INTEGER) WITHOUT ROWID",
}
"""The tables of a book; beside them stand those in which families are found, which ``kb.book.find`` makes.

``family`` holds each family whole, and its heading with only the ids of its figures; ``settled`` the
conclusions on each figure, with the family's name, maker and cautions for a look-up; ``reference`` what families refer
to, and under ``withdrawn`` what was found wrong in each.
"""

FIND_TABLES = "find_"
"""The prefix of the names of the tables for finding families."""

SCHEMA = "select type, name, tbl_name, sql, rootpage from sqlite_schema order by name, type"

KEYS = {
    "family": "select id from family order by id",
    "settled": "select family, figure from settled order by family, figure",
    "reference": "select kind, id from reference order by kind, id",
    "name": "select name from name order by name",
}
"""The query for the keys of each table; the book keeps a digest of the result."""

TOLD = ("name", "maker", "invented", "cautions")
"""The facts of a family that a look-up answers with."""

_decode = JSONDecoder().raw_decode


def pack(text: str, dictionary: bytes) -> bytes:
    """A document's JSON, compressed as in the file."""
    packer = _packer(dictionary).copy()
    packed: bytes = packer.compress(text.encode()) + packer.flush()
    return packed


@lru_cache(maxsize=2)
def _packer(dictionary: bytes) -> Any:
    """A packer that has read the dictionary; copying it takes a third less time than making one for every row.

    A packer takes 100 kB in this shape. In the usual one it takes 268 kB, which is more than is kept at hand: the
    system then clears that much memory anew for every row, and that takes longer than packing it.
    """
    shape: Any = {"level": 9, "wbits": -14, "memLevel": 6}
    return zlib.compressobj(**shape, zdict=dictionary) if dictionary else zlib.compressobj(**shape)


def unpack(payload: bytes, dictionary: bytes) -> Any:
    """The document in packed bytes, which must have matched their seal.

    Raises:
        BookDamaged: it is not a document, or too large for one.
    """
    try:
        unpacker = zlib.decompressobj(-15, dictionary)
        raw = unpacker.decompress(payload, LARGEST)
        if not unpacker.eof or unpacker.unused_data:
            raise BookDamaged("the compiled book holds a document that is cut off, or too large to be one")
        text = raw.decode()
        document, end = _decode(text, 0)
        if end != len(text):
            raise BookDamaged("the compiled book holds a document with something behind it")
    except (zlib.error, ValueError, RecursionError) as error:
        raise BookDamaged(f"the compiled book holds a document that cannot be read: {error}") from None
    return document


def seal(salt: int, key: str, payload: bytes) -> int:
    """The checksum of a row or a part of one; the key includes the name of the part."""
    return zlib.crc32(payload, zlib.crc32(f"{key}\0".encode(), salt))


def digest(rows: Iterable[Iterable[object]]) -> str:
    """A digest, in hexadecimal, of rows of numbers, texts and bytes in their order."""
    from hashlib import blake2b  # takes as long to import as a look-up; few look-ups need it

    state = blake2b(digest_size=16)
    for row in rows:
        for value in row:
            raw = value if isinstance(value, bytes) else str(value).encode()
            state.update(b"%s %d %s" % (type(value).__name__.encode(), len(raw), raw))
        state.update(b".")
    return state.hexdigest()


def content_digest(connection: Connection) -> str:
    """A digest of all rows of the book's own tables, without ``meta``."""
    return digest(row for table in KEYS for row in _table_rows(connection, table))


def _table_rows(connection: Connection, table: str) -> Iterator[Iterable[object]]:
    yield (table,)
    yield from connection.execute(f"select * from {table} order by {KEYS[table].partition(' order by ')[2]}")


def find_digest(file: FileIO, first_page: int) -> str:
    """A digest of the file's pages from ``first_page`` on, which hold all that is read to find a family.

    Reading pages is ten times as quick as reading rows, and it detects damaged indexes as well.
    """
    from hashlib import blake2b

    state = blake2b(digest_size=16)
    file.seek((first_page - 1) * PAGE)
    while raw := file.read(_AT_ONCE):
        state.update(raw)
    return state.hexdigest()
