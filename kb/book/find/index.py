"""The tables in which families are found: the same in memory and in a compiled file."""

from __future__ import annotations

from itertools import chain
from sqlite3 import Connection

from kb.book.find.known_facts import RetiredIds, lines_of, power_of, years_of
from kb.book.find.serials import range_places
from kb.book.find.words import name_key
from kb.book.model.catalogue import Maker
from kb.book.model.heading_reader import HeadingReader

TABLES = (
    "create table find_family (place integer primary key, family text not null, name text not null,"
    " maker text not null, power text not null, years text not null, words text not null, labels text not null)",
    "create table find_name (key text not null, score integer not null, place integer not null, line integer not null,"
    " primary key (key, score, place, line)) without rowid",
    "create table find_serial (shape text not null, last text not null, first text not null, place integer not null,"
    " line integer not null, primary key (shape, last, first, place, line)) without rowid",
    "create table find_vocabulary (length integer not null, word text not null, primary key (length, word))"
    " without rowid",
    "create virtual table find_words using fts5(said, seen, content='', columnsize=0, detail=column,"
    """ prefix='1 2 3 4 5', tokenize="ascii tokenchars '.~'")""",
)
"""``place`` is the family's place in the order of ids, so that rows in the order of places are in a stable order.

``find_family`` is what a hit shows; ``words`` and ``labels`` hold one line for each thing that is known of the
family: its words, and (after the old id that it names, if any, and a tab) its label. ``line`` counts these
from 0. ``find_words`` holds the words of all lines, apart by whether they are facts of a family or seen on it;
``find_vocabulary`` those that may be meant by a misspelt one.
"""


def write_index(connection: Connection, book: HeadingReader) -> None:
    """Create the tables and fill them; the caller commits, which changes nothing more in them."""
    for statement in TABLES:
        connection.execute(statement)
    retired = RetiredIds.read(book.retired)
    vocabulary: set[str] = set()
    for place, family in enumerate(filter(None, map(book.get_heading, sorted(book.family_ids()))), 1):
        maker = book.makers[family.maker] if family.maker in book.makers else Maker(family.maker, {})
        lines = lines_of(family, maker, retired)
        said = [word for line in lines if not line.seen for word in line.words]
        seen = [word for line in lines if line.seen for word in line.words]
        vocabulary.update(word for word in chain(said, seen) if _may_be_misspelt(word))
        connection.execute(
            "insert into find_family values (?, ?, ?, ?, ?, ?, ?, ?)",
            (
                place,
                family.id,
                family.name,
                maker.name,
                power_of(family),
                years_of(family),
                "\n".join(f" {' '.join(line.words)} " for line in lines),
                "\n".join(f"{line.old_id}\t{line.label}" for line in lines),
            ),
        )
        values = (place, " ".join(said), " ".join(seen))
        connection.execute("insert into find_words (rowid, said, seen) values (?, ?, ?)", values)
        for number, line in enumerate(lines):
            connection.executemany(
                "insert or ignore into find_name values (?, ?, ?, ?)",
                [(name_key(name), line.score, place, number) for name in line.names],
            )
            connection.executemany(
                "insert into find_serial values (?, ?, ?, ?, ?)",
                [(*ends, place, number) for held in line.serials for ends in range_places(held)],
            )
    words = sorted((len(word), word) for word in vocabulary)
    connection.executemany("insert into find_vocabulary values (?, ?)", words)
    connection.execute("insert into find_words (find_words) values ('optimize')")
    connection.execute("savepoint find_written")  # makes FTS5 write what it would keep until the commit
    connection.execute("release find_written")


def _may_be_misspelt(word: str) -> bool:
    """Words of three letters or more, and years."""
    return (len(word) >= 3 and word.isalpha()) or (len(word) == 4 and word.isdecimal())
