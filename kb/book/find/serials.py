"""Serial numbers in the index: keys that sort as serial numbers do, and the ranges that hold one."""

from __future__ import annotations

from collections.abc import Iterator
from sqlite3 import Connection

from kb.book.find.query_text import Serial
from kb.book.model.engine_kinds import serial_key
from kb.book.model.engine_ranges import Range

_FIRST, _LAST = "", "~"  # sorts before, and after, every serial number


def serial_place(serial: str) -> tuple[str, str]:
    """The shape of a serial number, and a text that sorts within that shape as serial numbers do.

    >>> serial_place("b 900") < serial_place("B-12000")
    True
    """
    runs = serial_key(serial)
    shape = "".join("9" if isinstance(run, int) else "A" for run in runs)
    return shape, "".join(f"{len(str(run)):03}{run}" if isinstance(run, int) else f"{run} " for run in runs)


def range_places(held: Range) -> Iterator[tuple[str, str, str]]:
    """The shape of a range with the keys of its last and its first; none where its ends differ in shape."""
    ends = [serial_place(end) if end else None for end in (held.first, held.last)]
    shapes = {end[0] for end in ends if end}
    if len(shapes) == 1:
        first, last = (end[1] if end else other for end, other in zip(ends, (_FIRST, _LAST), strict=True))
        yield shapes.pop(), last, first


def families_holding(connection: Connection, serial: Serial, others: str, limit: int) -> list[tuple[int, int]]:
    """Places of families with a range that holds a serial number, each with the line of that range.

    ``others`` is an FTS5 query that they must match too, or empty.
    """
    shape, at = serial_place(serial.text)
    sql = "select place, line from find_serial where shape = ? and last >= ? and first <= ?"
    values: list[str | int] = [shape, at, at]
    if serial.apart:
        sql += f" and {_OWN_LETTERS}"
        values += _own_letters(serial)
    if others:
        sql += " and place in (select rowid from find_words where find_words match ?)"
        values.append(others)
    return connection.execute(f"{sql} order by place limit ?", (*values, limit)).fetchall()


def letters_are_known(connection: Connection, serial: Serial) -> bool:
    """Whether some range of serial numbers begins or ends with the letters of this one."""
    sql = f"select 1 from find_serial where shape = ? and {_OWN_LETTERS} limit 1"
    return connection.execute(sql, (serial_place(serial.text)[0], *_own_letters(serial))).fetchone() is not None


_OWN_LETTERS = "(substr(first, 1, ?) = ? or substr(last, 1, ?) = ?)"


def _own_letters(serial: Serial) -> list[str | int]:
    _, letters = serial_place(serial.text.rstrip("0123456789"))
    return [len(letters), letters, len(letters), letters]
