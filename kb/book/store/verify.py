"""Verifies a whole compiled book against its seals and digests."""

from __future__ import annotations

from collections.abc import Callable
from sqlite3 import Connection
from typing import Any

from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.store.file_format import KEYS, content_digest, digest

Read = Callable[[str, Any, Any], Any]
"""Returns the document in a row from key, payload and seal, or raises BookDamaged."""


def faults(connection: Connection, meta: dict[str, Any], read: Read) -> str:
    """What has changed since the book was written, in words; empty when nothing has.

    Raises:
        sqlite3.Error: SQLite cannot read it.
        BookDamaged: a row does not match its seal.
    """
    found = connection.execute("pragma quick_check(family)").fetchall()  # only it has a separate index
    if found != [("ok",)]:
        return str(found[0][0])
    for table, keys in KEYS.items():
        if digest(connection.execute(keys)) != meta["keys"][table]:
            return f"rows of the table {table} are missing or have other keys"
    if content_digest(connection) != meta["content"]:
        return "its rows are not those that were written"
    return _read_all(connection, read)


def _read_all(connection: Connection, read: Read) -> str:
    for kind, key, payload, stamp in connection.execute("select * from reference"):
        read(f"reference\0{kind}\0{key}", payload, stamp)
    for name, payload, stamp in connection.execute("select * from name"):
        read(f"name\0{name}", payload, stamp)
    for family, heading, heading_stamp, payload, stamp in connection.execute("select * from family").fetchall():
        listed = set(read(f"heading\0{family}", heading, heading_stamp)["figures"])
        read(f"family\0{family}", payload, stamp)
        figures = connection.execute("select * from settled where family = ?", (family,)).fetchall()
        for _, figure, *sealed in figures:
            read(f"settled\0{family}\0{figure}", *sealed)
        if {row[1] for row in figures} != listed | ({CORRECTION} if MAXIMUM in listed else set()):
            return f"figures of {family} are missing"
    return ""
