"""A compiled book: one file, opened read-only; a look-up reads two rows."""

from __future__ import annotations

import os
import sqlite3
from _thread import allocate_lock  # as functools does; threading takes a while to import

from kb.book.book import Book
from kb.book.model.catalogue import CORRECTION, MAXIMUM, FigureKind, Maker, Source
from kb.book.store.file_format import FIND_TABLES, KEYS, SCHEMA, TABLES, digest, find_digest, seal, unpack
from kb.book.store.lazy_catalogue import DefaultStates, References
from kb.book.store.opening import open_both
from kb.errors import BookDamaged, BookError, BookForeign

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from typing import Any

    from kb.book.find import Hit
    from kb.book.model.documents import (
        CautionDocument,
        FigureConclusions,
        NamedDocument,
        RetiredDocument,
        RoutineDocument,
        WithdrawnDocument,
    )
    from kb.book.model.engine_ranges import Document
    from kb.book.model.family import Family, Heading

_TICK, _MOST_TICKS = 20_000, 2_000  # a query of more than 40 million SQLite steps must be stuck

_UNREADABLE = (sqlite3.Error, UnicodeDecodeError)  # the latter of names in a damaged schema
_SETTLED = "select payload, seal from settled where family = ? and figure = ?"
_FAMILY = "select payload, seal from family where id = ?"
_HEADING = "select heading, heading_seal from family where id = ?"
_REFERENCE = "select payload, seal from reference where kind = ? and id = ?"
_NAME = "select payload, seal from name where name = ?"


class CompiledBook(Book):
    """A compiled book in a file.

    Opening checks the file's header, size and tables; each row that is read is checked by its seal, and when a row is
    not found the table's keys are checked by their digest. Any thread may ask.

    Raises:
        BookMissing: there is no such file.
        BookForeign: it is not a compiled book, or one of another version.
        BookDamaged: a row, or the whole, has changed since it was written; raised by every method.
    """

    def __init__(self, path: str | os.PathLike[str]) -> None:
        self.path = os.fspath(path)
        self._ticks = 0
        # one query at a time: SQLite lets other threads run while it works, and calls back now and then
        self._lock = allocate_lock()
        self._file, self._connection = open_both(self.path)
        try:
            self._connection.set_progress_handler(self._tick, _TICK)
            self._open()
        except BaseException:
            self.close()
            raise
        self._confirmed: set[str] = set()
        read, ids = self._reference, self._reference_ids
        self.figures: Mapping[str, FigureKind] = References(read, ids, "figure", FigureKind)
        self._default_states = DefaultStates(self.figures)
        self.makers: Mapping[str, Maker] = References(read, ids, "maker", Maker)
        self.sources: Mapping[str, Source] = References(read, ids, "source", Source)
        self.cautions: Mapping[str, CautionDocument] = References(read, ids, "caution")
        self.routines: Mapping[str, RoutineDocument] = References(read, ids, "routine")
        self.retired: Mapping[str, RetiredDocument] = References(read, ids, "retired")

    def _tick(self) -> bool:
        self._ticks += 1
        return self._ticks > _MOST_TICKS

    def _open(self) -> None:
        schema = self._rows(SCHEMA)
        ours = {name: sql for kind, name, _, sql, _ in schema if kind == "table" and name in TABLES}
        strange = [
            name
            for kind, name, table, sql, _ in schema  # an automatic index comes with its table
            if kind not in ("table", "index") or (sql and name not in TABLES and not table.startswith(FIND_TABLES))
        ]
        if ours != TABLES or strange:
            raise BookForeign(f"{self.path} has other tables than a compiled book of this version has")
        rows = {name: (payload, stamp) for name, payload, stamp in self._rows("select * from meta")}
        if set(rows) != {"book", "dictionary"}:
            raise self._damaged("its description of itself is missing")
        self._salt, self._dictionary = 0, b""
        self._meta = self._read("meta\0book", *rows["book"])
        self._salt = self._meta["salt"]
        dictionary, stamp = rows["dictionary"]
        if not isinstance(dictionary, bytes) or seal(self._salt, "meta\0dictionary", dictionary) != stamp:
            raise self._damaged("its dictionary does not match its seal")
        self._dictionary = dictionary
        self.date, self.invented = self._meta["date"], self._meta["invented"]

    def _damaged(self, why: str) -> BookDamaged:
        return BookDamaged(f"{self.path} is damaged: {why}; compile it again or get another copy")

    def _rows(self, sql: str, *values: object) -> list[Any]:
        try:
            with self._lock:
                self._ticks = 0
                return self._connection.execute(sql, values).fetchall()
        except sqlite3.ProgrammingError as error:
            raise BookError(f"{self.path} cannot be asked: {error}") from None
        except _UNREADABLE as error:
            raise self._damaged(str(error)) from None
        except UnicodeEncodeError:  # no key has half of a surrogate pair
            return []

    def _read(self, key: str, payload: Any, stamp: Any) -> Any:
        """The document in a row, which must match its seal."""
        if not isinstance(payload, bytes) or seal(self._salt, key, payload) != stamp:
            name = key.replace("\0", " ")
            raise self._damaged(f"the row of {name} does not match its seal")
        return unpack(payload, self._dictionary)

    def _confirm(self, table: str) -> None:
        """Check that a table has all its keys, so that what is not found was never written."""
        if table not in self._confirmed:
            if digest(self._rows(KEYS[table])) != self._meta["keys"][table]:
                raise self._damaged(f"rows of the table {table} are missing or have other keys")
            self._confirmed.add(table)

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""
        self._confirm("family")
        return [key for (key,) in self._rows(KEYS["family"])]

    def get_family(self, family: str) -> Family | None:
        """The family with that id, or None."""
        from kb.book.model.family import Family

        document = self._family(family, _FAMILY, "family")
        return None if document is None else Family(family, document, self._default_states)

    def get_heading(self, family: str) -> Heading | None:
        """The heading of the family with that id, or None."""
        from kb.book.model.family import Heading

        document = self._family(family, _HEADING, "heading")
        return None if document is None else Heading(family, document)

    def _family(self, family: str, sql: str, column: str) -> Document | None:
        rows = self._rows(sql, family)
        if not rows:
            self._confirm("family")
            return None
        document: Document = self._read(f"{column}\0{family}", *rows[0])
        return document

    def conclusions(self, family: str, figure: str) -> tuple[NamedDocument, FigureConclusions] | None:
        """The facts of a family that an answer shows, and the conclusions on a figure."""
        rows = self._rows(_SETTLED, family, figure)
        if rows:
            found = self._read(f"settled\0{family}\0{figure}", *rows[0])
            return found["told"], found
        if heading := self.get_heading(family):
            figures = heading.document["figures"]
            if figure in figures or (figure == CORRECTION and MAXIMUM in figures):
                raise self._damaged(f"the row of {figure} of {family} is missing")
        return None

    def _reference(self, kind: str, key: str) -> Any:
        """What a file holds that families refer to, or nothing."""
        rows = self._rows(_REFERENCE, kind, key)
        if not rows:
            self._confirm("reference")
            return None
        return self._read(f"reference\0{kind}\0{key}", *rows[0])

    def _reference_ids(self, kind: str) -> Sequence[str]:
        """The ids of what families refer to, of one kind, sorted."""
        self._confirm("reference")
        return [key for (key,) in self._rows("select id from reference where kind = ? order by id", kind)]

    def withdrawn(self, family: str) -> Sequence[WithdrawnDocument]:
        """The family's entries of withdrawn.yaml."""
        return self._reference("withdrawn", family) or ()

    def reports(self, family: str) -> Mapping[str, Document]:
        """The reports of jobs on engines of the family, by the last part of their id."""
        return self._reference("report", family) or {}

    def named(self, name: str) -> Sequence[str]:
        """The ids of families with exactly that name, with or without the maker's before it, in any case."""
        name = " ".join(name.split()).casefold()
        rows = self._rows(_NAME, name)
        if not rows:
            self._confirm("name")
            return ()
        ids: list[str] = self._read(f"name\0{name}", *rows[0])
        return ids

    def find(self, words: str, limit: int = 20) -> list[Hit]:
        """Families by what is known of them, best first."""
        from kb.book.find import search

        if "find" not in self._confirmed:
            self._confirm_find()
        try:
            with self._lock:
                self._ticks = 0
                return search(self._connection, words, limit)
        except _UNREADABLE as error:
            raise self._damaged(str(error)) from None

    def _confirm_find(self) -> None:
        """Check the tables of the search index by their digest."""
        if digest(self._rows(SCHEMA)) != self._meta["schema"]:
            raise self._damaged("its tables are not those that were written")
        with self._lock:
            found = find_digest(self._file, self._meta["find"]["page"])
        if found != self._meta["find"]["digest"]:
            raise self._damaged("the tables in which families are found are not as they were written")
        self._confirmed.add("find")

    def _properties(self) -> Iterator[tuple[str, Document]]:
        self._confirm("family")
        for family, heading, stamp in self._rows("select id, heading, heading_seal from family order by id"):
            yield family, self._read(f"heading\0{family}", heading, stamp)

    def verify(self) -> None:
        """Read the whole book and check its seals and digests.

        Raises:
            BookDamaged: something has changed since it was written.
        """
        from kb.book.store.verify import faults

        self._confirm_find()
        families = len(self._rows(KEYS["family"]))
        try:
            with self._lock:
                self._ticks = -_MOST_TICKS * families  # reading everything takes longer
                found = faults(self._connection, self._meta, self._read)
        except _UNREADABLE as error:
            found = str(error)
        if found:
            raise self._damaged(found)

    def close(self) -> None:
        """Close the file; the book answers no more."""
        self._connection.close()
        self._file.close()

    def __del__(self) -> None:
        if hasattr(self, "_connection"):
            self.close()
