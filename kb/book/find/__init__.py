"""Finding families by what is known of them: forgiving, bounded, and in the same order every time.

A search goes from what is surest to what is least sure and stops when it has enough: a whole id or name (also another
name, or an id that was given up); all words as typed, first in what is said of a family (maker, names, power, years,
cylinders, ignition) and then also in what is seen on it; a serial number that one of its ranges holds; words of which
the typed ones are beginnings; and, when there are none of all these but serial numbers, words with a slip in them.
When nothing is found with all words, one word at a time is left out. Ties keep the order of ids.

Files import downward in this order: by_property, words, known_facts, query_text, misspelling, reasons, serials,
index, searching.

What only a search needs is imported when asked.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from kb.book.model.hit import Hit

if TYPE_CHECKING:
    from sqlite3 import Connection

    from kb.book.model.heading_reader import HeadingReader

__all__ = ["Hit", "index_in_memory", "make_index", "search"]


def make_index(connection: Connection, book: HeadingReader) -> None:
    """Make the tables that ``search`` reads, and fill them from the book's headings; the caller commits."""
    from kb.book.find.index import write_index

    write_index(connection, book)


def index_in_memory(book: HeadingReader) -> Connection:
    """A connection of its own, in memory, that holds the tables; any thread may search in it."""
    import sqlite3

    connection = sqlite3.connect(":memory:", check_same_thread=False)
    make_index(connection, book)
    connection.commit()
    return connection


def search(connection: Connection, words: str, limit: int = 20) -> list[Hit]:
    """Families by what is known of them, best first; at most ``limit``, and never more than 200.

    Anything may be typed: what holds no word finds nothing; what is very long is read only at its beginning.

    Raises:
        sqlite3.DatabaseError: the tables are missing or damaged; never because of what was typed.
    """
    from kb.book.find.searching import search_for

    return search_for(connection, words, limit)
