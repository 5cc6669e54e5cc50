"""Ways to spoil a compiled book, each drawn by chance from a seed."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from random import Random

PAGE = 4096


@dataclass(frozen=True)
class Material:
    """A compiled book, and another one of much the same families, whose pages and rows may stray into the first."""

    book: bytes
    other: bytes


def _pages(raw: bytes | bytearray) -> int:
    return len(raw) // PAGE


def _with_count(raw: bytearray) -> bytes:
    """With the number of pages in its header set right, as someone would who means to mislead."""
    raw[28:32] = _pages(raw).to_bytes(4, "big")
    return bytes(raw)


def flip_a_bit(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    raw[chance.randrange(len(raw))] ^= 1 << chance.randrange(8)
    return bytes(raw)


def flip_a_bit_that_tells(material: Material, chance: Random) -> bytes:
    """In the header, in the schema, or where a page says what it holds."""
    raw = bytearray(material.book)
    at = chance.choice([chance.randrange(200), PAGE * chance.randrange(_pages(raw)) + chance.randrange(60)])
    raw[at] ^= 1 << chance.randrange(8)
    return bytes(raw)


def change_bytes(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    at = chance.randrange(len(raw))
    for index in range(at, min(len(raw), at + chance.randrange(1, 200))):
        raw[index] = chance.randrange(256)
    return bytes(raw)


def shift_bytes(material: Material, chance: Random) -> bytes:
    """A byte lost or doubled, and all behind it moved."""
    raw = bytearray(material.book)
    at = chance.randrange(100, len(raw) - 1)
    if chance.random() < 0.5:
        del raw[at]
        raw.append(0)
    else:
        raw.insert(at, raw[at])
        raw.pop()
    return bytes(raw)


def zero_a_page(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    at = PAGE * chance.randrange(_pages(raw))
    raw[at : at + PAGE] = bytes(PAGE)
    return bytes(raw)


def zero_to_the_end(material: Material, chance: Random) -> bytes:
    """As after a disk that lost what was written last."""
    at = chance.randrange(len(material.book))
    return material.book[:at] + bytes(len(material.book) - at)


def swap_pages(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    one, other = (PAGE * page for page in chance.sample(range(_pages(raw)), 2))
    raw[one : one + PAGE], raw[other : other + PAGE] = raw[other : other + PAGE], raw[one : one + PAGE]
    return bytes(raw)


def double_a_page(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    one, other = (PAGE * page for page in chance.sample(range(_pages(raw)), 2))
    raw[one : one + PAGE] = raw[other : other + PAGE]
    return bytes(raw)


def take_a_page_of_another_book(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book)
    at = PAGE * chance.randrange(min(_pages(raw), _pages(material.other)))
    raw[at : at + PAGE] = material.other[at : at + PAGE]
    return bytes(raw)


def take_the_beginning_of_another_book(material: Material, chance: Random) -> bytes:
    while True:
        at = PAGE * chance.randrange(1, min(_pages(material.book), _pages(material.other)))
        raw = _with_count(bytearray(material.other[:at] + material.book[at:]))
        if raw not in (material.book, material.other):  # which are sound, after all
            return raw


def cut_off(material: Material, chance: Random) -> bytes:
    return material.book[: chance.randrange(len(material.book))]


def cut_off_pages(material: Material, chance: Random) -> bytes:
    return _with_count(bytearray(material.book[: PAGE * chance.randrange(1, _pages(material.book))]))


def append_junk(material: Material, chance: Random) -> bytes:
    raw = bytearray(material.book + chance.randbytes(chance.choice((1, 100, PAGE, 3 * PAGE))))
    return _with_count(raw) if chance.random() < 0.5 else bytes(raw)


_FIND_TABLES = ("find_family", "find_name", "find_words_data", "find_serial")
_PAYLOADS = ("reference", "settled", "name", "family")
_TABLES = (*_PAYLOADS, "meta", *_FIND_TABLES)


def _some_row(connection: sqlite3.Connection, chance: Random, table: str) -> tuple[object, ...]:
    rows = connection.execute(f"select * from {table}").fetchall()
    found: tuple[object, ...] = chance.choice(rows)
    return found


def _columns(connection: sqlite3.Connection, table: str) -> list[str]:
    return [row[1] for row in connection.execute(f"pragma table_info({table})")]


def _where(connection: sqlite3.Connection, table: str) -> str:
    return " and ".join(f"{column} is ?" for column in _columns(connection, table))


def delete_a_row(connection: sqlite3.Connection, chance: Random) -> None:
    table = chance.choice(_TABLES)
    connection.execute(f"delete from {table} where {_where(connection, table)}", _some_row(connection, chance, table))


def delete_all_rows(connection: sqlite3.Connection, chance: Random) -> None:
    connection.execute(f"delete from {chance.choice(_TABLES)}")


def change_a_value(connection: sqlite3.Connection, chance: Random) -> None:
    table = chance.choice(_TABLES)
    columns, row = _columns(connection, table), _some_row(connection, chance, table)
    at = chance.randrange(len(columns))
    value = row[at]
    changed: object = value + 1 if isinstance(value, int) else f"{value}x" if isinstance(value, str) else b"\0"
    if table not in _FIND_TABLES and chance.random() < 0.5:
        changed = None
    statement = f"update or ignore {table} set {columns[at]} = ? where {_where(connection, table)}"
    connection.execute(statement, (changed, *row))


def swap_payloads(connection: sqlite3.Connection, chance: Random) -> None:
    """Under each other's keys, with their seals."""
    table = chance.choice(_PAYLOADS)
    one, other = _some_row(connection, chance, table), _some_row(connection, chance, table)
    for row, sealed in ((one, other[-2:]), (other, one[-2:])):
        statement = f"update {table} set payload = ?, seal = ? where {_where(connection, table)}"
        connection.execute(statement, (*sealed, *row))


def swap_keys(connection: sqlite3.Connection, chance: Random) -> None:
    table = chance.choice(_PAYLOADS)
    one, other = _some_row(connection, chance, table), _some_row(connection, chance, table)
    if one != other:
        count = len(one) - (4 if table == "family" else 2)
        for row in (one, other):
            connection.execute(f"delete from {table} where {_where(connection, table)}", row)
        marks = ", ".join("?" * len(one))
        connection.execute(f"insert into {table} values ({marks})", other[:count] + one[count:])
        connection.execute(f"insert into {table} values ({marks})", one[:count] + other[count:])


def put_views_for_tables(connection: sqlite3.Connection, chance: Random) -> None:
    table = chance.choice(("reference", "family", "settled", "name", "meta", "find_family"))
    connection.execute("pragma legacy_alter_table = on")
    connection.execute(f"alter table {table} rename to find_hidden")
    connection.execute(f"create view {table} as select * from find_hidden where abs(random()) % 2")


def add_to_the_schema(connection: sqlite3.Connection, chance: Random) -> None:
    connection.execute(
        chance.choice(
            (
                "create table more (a)",
                "create index more on settled (figure)",
                "create index find_more on find_name (place)",
                "create view more as select 1",
                "create view find_more as select 1",
                "create trigger more after insert on name begin delete from name; end",
                "create virtual table find_more using fts5(a)",
                "create virtual table more using fts5(a)",
                "alter table settled add column more text default 'x'",
                "alter table find_family add column more text default 'x'",
            )
        )
    )


def rewrite_the_schema(connection: sqlite3.Connection, chance: Random) -> None:
    connection.execute("pragma writable_schema = on")
    connection.execute(
        chance.choice(
            (
                "update sqlite_schema set sql = replace(sql, 'payload BLOB', 'payload AS (x''00'')')",
                "update sqlite_schema set rootpage = 3 where name = 'settled'",
                "update sqlite_schema set rootpage = (select max(rootpage) from sqlite_schema) where name = 'family'",
                "update sqlite_schema set rootpage = 2 where name like 'sqlite_autoindex_family%'",
                "delete from sqlite_schema where name = 'name'",
                "delete from sqlite_schema where name like 'sqlite_autoindex%'",
                "update sqlite_schema set sql = replace(sql, 'TEXT', 'TEXT COLLATE NOCASE') where name = 'family'",
                "update sqlite_schema set name = 'family', tbl_name = 'family' where name = 'settled'",
                "update sqlite_schema set type = 'trigger' where name = 'name'",
                "update sqlite_schema set rootpage = 3 where name = 'find_words_data'",
            )
        )
    )


def set_another_version(connection: sqlite3.Connection, chance: Random) -> None:
    setting = chance.choice(("application_id", "user_version"))
    connection.execute(f"pragma {setting} = {chance.randrange(2, 9)}")


OF_BYTES: dict[Callable[[Material, Random], bytes], int] = {
    flip_a_bit: 300,
    flip_a_bit_that_tells: 220,
    change_bytes: 120,
    shift_bytes: 40,
    zero_a_page: 70,
    zero_to_the_end: 30,
    swap_pages: 120,
    double_a_page: 80,
    take_a_page_of_another_book: 100,
    take_the_beginning_of_another_book: 20,
    cut_off: 50,
    cut_off_pages: 30,
    append_junk: 30,
}
"""How many of each kind are tried, on the bytes of the file."""

OF_ROWS: dict[Callable[[sqlite3.Connection, Random], None], int] = {
    delete_a_row: 110,
    delete_all_rows: 15,
    change_a_value: 80,
    swap_payloads: 40,
    swap_keys: 25,
    put_views_for_tables: 10,
    add_to_the_schema: 15,
    rewrite_the_schema: 15,
    set_another_version: 5,
}
"""And through SQLite."""


def through_sqlite(spoil: Callable[[sqlite3.Connection, Random], None], path: Path, chance: Random) -> None:
    """Spoil the rows of a book that lies at a path."""
    connection = sqlite3.connect(path)
    try:
        spoil(connection, chance)
        connection.commit()
    finally:
        connection.close()
