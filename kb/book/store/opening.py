"""Opening a file as a compiled book: checking its header, and a read-only connection."""

from __future__ import annotations

import os
import sqlite3
import stat
from io import FileIO

from kb.book.store.file_format import APPLICATION, FORMAT, LARGEST, PAGE
from kb.errors import BookDamaged, BookError, BookForeign, BookMissing

_HEADER = 100  # bytes at the beginning of every SQLite file
_SHAPE = PAGE.to_bytes(2, "big") + bytes((1, 1, 0, 64, 32, 32))  # legacy write and read versions, no reserved bytes
_TRIES = 20
_MAGIC = b"SQLite format 3\0"
_AGAIN = "compile it again, or get another copy"
_PLAIN = frozenset(b"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._/:")


def open_both(path: str) -> tuple[FileIO, sqlite3.Connection]:
    """A whole compiled book of this version: its file, and a connection to it.

    Raises:
        BookMissing: there is no such file.
        BookForeign: it is another kind of file, or of another version.
        BookDamaged: it is cut off, or something is appended.
        BookError: it cannot be read.
    """
    for _ in range(_TRIES):
        file = _open(path)
        try:
            held = os.fstat(file.fileno())
            _look_at_header(path, file.read(_HEADER) if stat.S_ISREG(held.st_mode) else b"", held.st_size)
            connection = _connect(path)
        except BaseException:
            file.close()
            raise
        if _still_there(path, file):
            return file, connection
        connection.close()  # the file was replaced between the two
        file.close()
    raise BookError(f"{path} is replaced again and again and cannot be opened in between")


def _still_there(path: str, file: FileIO) -> bool:
    try:
        with FileIO(path) as again:
            return os.path.sameopenfile(file.fileno(), again.fileno())
    except OSError:
        return False


def _open(path: str) -> FileIO:
    try:
        return FileIO(path)
    except FileNotFoundError:
        raise BookMissing(f"there is no file {path}; give a compiled book, or a folder of YAML files") from None
    except OSError as error:
        raise BookError(f"{path} cannot be read: {error.strerror}") from None


def _look_at_header(path: str, header: bytes, size: int) -> None:
    """Raise unless a file's header and size are those of a whole compiled book of this version."""
    if not header.startswith(_MAGIC):
        raise BookForeign(f"{path} is not a compiled book; stopscrew compile makes one")

    def number(at: int) -> int:
        return int.from_bytes(header[at : at + 4], "big")

    if len(header) < _HEADER:
        raise BookDamaged(f"{path} is cut off; {_AGAIN}")
    if number(68) != APPLICATION:
        raise BookForeign(f"{path} is an SQLite file of something else; stopscrew compile makes a compiled book")
    if number(60) != FORMAT:
        raise BookForeign(f"{path} is a compiled book of format {number(60)}; this is for format {FORMAT}; {_AGAIN}")
    if size != PAGE * number(28):
        raise BookDamaged(f"{path} has {size} bytes where it was written with {PAGE * number(28)}; {_AGAIN}")
    if header[16:24] != _SHAPE or [number(at) for at in (44, 52, 56, 64)] != [4, 0, 1, 0]:
        raise BookDamaged(f"{path} has a header that no compiled book has; {_AGAIN}")


def _connect(path: str) -> sqlite3.Connection:
    """A connection to a file that never writes, ignores journals, and reads nothing larger than a document.

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
    except (sqlite3.Error, UnicodeDecodeError) as error:
        connection.close()
        raise BookDamaged(f"{path} cannot be read: {error}; {_AGAIN}") from None
    return connection
