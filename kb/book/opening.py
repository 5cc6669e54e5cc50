"""Opening a file as a compiled book: what its header says, and a connection that can only read."""

from __future__ import annotations

import os
import sqlite3
import stat
from io import FileIO

from kb.book.layout import APPLICATION, FORMAT, LARGEST
from kb.errors import BookDamaged, BookError, BookForeign, BookMissing

_HEADER = 100  # bytes at the beginning of every SQLite file
_MAGIC = b"SQLite format 3\0"
_AGAIN = "compile it again, or get another copy"
_PLAIN = frozenset(b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._/:")


def look_at_header(path: str) -> None:
    """Do nothing if a file's header and size are those of a whole compiled book of this version.

    Raises:
        BookMissing: there is no such file.
        BookForeign: it is another kind of file, or of another version.
        BookDamaged: it is cut off, or something is appended.
        BookError: it cannot be read.
    """
    try:
        with FileIO(path) as file:
            held = os.fstat(file.fileno())
            header = file.read(_HEADER) if stat.S_ISREG(held.st_mode) else b""
    except FileNotFoundError:
        raise BookMissing(f"there is no file {path}; give a compiled book, or a folder of YAML files") from None
    except OSError as error:
        raise BookError(f"{path} cannot be read: {error.strerror}") from None
    if not header.startswith(_MAGIC):
        raise BookForeign(f"{path} is no compiled book; stopscrew compile makes one")

    def number(at: int, size: int = 4) -> int:
        return int.from_bytes(header[at : at + size], "big")

    if len(header) < _HEADER:
        raise BookDamaged(f"{path} is cut off; {_AGAIN}")
    if number(68) != APPLICATION:
        raise BookForeign(f"{path} is an SQLite file of something else; stopscrew compile makes a compiled book")
    if number(60) != FORMAT:
        raise BookForeign(f"{path} is a compiled book of format {number(60)}; this is for format {FORMAT}; {_AGAIN}")
    page = 65536 if number(16, 2) == 1 else number(16, 2)
    if held.st_size != page * number(28):
        raise BookDamaged(f"{path} has {held.st_size} bytes where it was written with {page * number(28)}; {_AGAIN}")
    if header[18:20] != b"\1\1":
        raise BookDamaged(f"{path} says that others write to it, which no compiled book does; {_AGAIN}")


def connect(path: str) -> sqlite3.Connection:
    """A connection to a file that never writes, looks for no journal, and reads nothing larger than a document.

    Raises:
        BookDamaged: SQLite cannot open it.
    """
    name = "".join(chr(byte) if byte in _PLAIN else f"%{byte:02x}" for byte in os.fsencode(path))
    name = f"file://{name}" if name.startswith("/") else f"file:{name}"
    try:
        connection = sqlite3.connect(
            f"{name}?mode=ro&immutable=1", uri=True, isolation_level=None, check_same_thread=False
        )
    except sqlite3.Error as error:
        raise BookDamaged(f"{path} cannot be opened: {error}; {_AGAIN}") from None
    connection.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, LARGEST)
    connection.setlimit(sqlite3.SQLITE_LIMIT_ATTACHED, 0)
    try:
        connection.execute("pragma trusted_schema = off")
        connection.execute("pragma cell_size_check = on")
    except sqlite3.Error as error:
        connection.close()
        raise BookDamaged(f"{path} cannot be read: {error}; {_AGAIN}") from None
    return connection
