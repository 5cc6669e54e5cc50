"""Reading all of a compiled book and holding it against its seals and digests."""

from __future__ import annotations

from collections.abc import Callable
from sqlite3 import Connection
from typing import Any

from kb.book.layout import FIND_TABLES, KEYS, SCHEMA, content_digest, digest, find_digest
from kb.book.reference import CORRECTION, MAXIMUM

Read = Callable[[str, Any, Any], Any]
"""Gives the document in a row, by key, payload and seal, or says that it is damaged."""


def faults(connection: Connection, meta: dict[str, Any], read: Read) -> str:
    """What is not as it was written, in words; nothing when all is.

    Raises:
        sqlite3.Error: SQLite cannot read it.
        BookDamaged: a row does not match its seal.
    """
    if words := misrouted(connection, ""):
        return words
    for table, keys in KEYS.items():
        if digest(connection.execute(keys)) != meta["keys"][table]:
            return f"rows of the table {table} are missing or have other keys"
    if content_digest(connection) != meta["content"]:
        return "its rows are not those that were written"
    return find_fault(connection, meta) or _read_all(connection, read)


def find_fault(connection: Connection, meta: dict[str, Any]) -> str:
    """What is not as it was written in the tables in which families are found, in words; nothing when all is.

    Raises:
        sqlite3.Error: SQLite cannot read it.
    """
    if digest(connection.execute(SCHEMA)) != meta["schema"]:
        return "its tables are not those that were written"
    if find_digest(connection) != meta["find"]:
        return "the tables in which families are found are not those that were written"
    return misrouted(connection, FIND_TABLES)


def misrouted(connection: Connection, prefix: str) -> str:
    """Whether a way by number into a table whose name begins so leads astray, in words.

    Where rows lie under their keys, reading them all in order shows as much. There SQLite 3.40 also takes columns for
    others and reports empty ones, so those tables are not given to it.
    """
    for kind, name, _, sql in connection.execute(SCHEMA).fetchall():
        words = sql.lower() if kind == "table" and name.startswith(prefix) else "virtual"
        if "virtual" not in words and "without rowid" not in words:
            found = connection.execute(f'pragma quick_check("{name}")').fetchall()
            if found != [("ok",)]:
                return str(found[0][0])
    return ""


def _read_all(connection: Connection, read: Read) -> str:
    for kind, key, payload, stamp in connection.execute("select * from reference"):
        read(f"reference\0{kind}\0{key}", payload, stamp)
    for name, payload, stamp in connection.execute("select * from name"):
        read(f"name\0{name}", payload, stamp)
    for family, heading, heading_stamp, payload, stamp in connection.execute("select * from family").fetchall():
        listed = set(read(f"heading\0{family}", heading, heading_stamp)["figures"])
        read(f"family\0{family}", payload, stamp)
        settled = connection.execute("select * from settled where family = ?", (family,)).fetchall()
        for _, figure, *sealed in settled:
            read(f"settled\0{family}\0{figure}", *sealed)
        if {row[1] for row in settled} != listed | ({CORRECTION} if MAXIMUM in listed else set()):
            return f"figures of {family} are missing"
    return ""
