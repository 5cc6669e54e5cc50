"""Finding families by what is known of them: forgiving, bounded, and in the same order every time.

A search goes from the surest match to the least sure and stops when it has enough: a whole id or name (also another
name, or a retired id); all words as typed, first in a family's facts (maker, names, power, years, cylinders, ignition)
and then also in what is seen on the engine; a serial number within one of its ranges; the typed words as beginnings of
words; and, where none of these but serial numbers match, misspelt words. When nothing is found with all words, one word
at a time is left out. Ties keep the order of ids.

Files import downward in this order: by_property, words, known_facts, query_text, misspelling, reasons, serials,
index, searching.

What only a search needs is imported on its first use.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.model.hit import Hit

if TYPE_CHECKING:
    from sqlite3 import Connection

    from kb.book.model.heading_reader import HeadingReader

__all__ = ["Hit", "index_in_memory", "make_index", "search"]


def make_index(connection: Connection, book: HeadingReader) -> None:
    """Create the tables that ``search`` reads, and fill them from the book's headings; the caller commits."""
    from kb.book.find.index import write_index

    write_index(connection, book)


def index_in_memory(book: HeadingReader) -> Connection:
    """A new in-memory connection with the tables; any thread may search in it."""
    import sqlite3

    connection = sqlite3.connect(":memory:", check_same_thread=False)
    make_index(connection, book)
    connection.commit()
    return connection


def search(connection: Connection, words: str, limit: int = 20) -> list[Hit]:
    """Families by what is known of them, best first; at most ``limit``, and never more than 200.

    Anything may be typed: text without a word finds nothing; of a very long text only the beginning is read.

    Raises:
        sqlite3.DatabaseError: the tables are missing or damaged; never because of what was typed.
    """
    from kb.book.find.searching import search_for

    return search_for(connection, words, limit)
