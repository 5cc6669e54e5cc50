"""From a folder of files without errors to a book, in memory or compiled to one file."""

from __future__ import annotations

import json
import re
from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from itertools import chain
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple, TypeVar

from kb.book.model.family import Document, FigureKind, Maker, Source
from kb.book.store.in_memory import MemoryBook
from kb.book.store.writing import digest_of, in_json, write_store
from kb.errors import BookError, BookHasFaults, BookMissing, InternalError
from kb.finding import INTERNAL_ERROR, Finding, Severity
from kb.intake.check.failures import failed
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.kept.cache_file import Damaged
from kb.intake.check.kept.rows import Rows
from kb.intake.check.one_file import parse_file
from kb.intake.check.whole_book import check_files
from kb.intake.check.whole_folder import CheckedFolder, check_folder, collector_paused, last_check

_READ_AT_ONCE = 256  # documents

_DATE = re.compile(r'[{,]"(?:on|since)":"([0-9-]+)"')  # of a reading or a report, or since when something applies
_INVENTED = '"invented":"true"'

UNDATED = "undated"
"""The date of a book that contains no date."""

_DATA = ("family", "maker", "source", "report", "retired", "withdrawn")
"""The kinds of file that say whether they are invented."""


class Compiled(NamedTuple):
    """The result of compiling: the file, its number of families, the date of its data, and the remaining warnings."""

    path: Path
    families: int
    date: str
    warnings: Sequence[Finding]


def book_in_memory(files: Mapping[str, bytes]) -> MemoryBook:
    """A book in memory, from files by relative path.

    Raises:
        BookHasFaults: the files have errors; the exception carries them.
        InternalError: the check has failed, or a book cannot be made of files without errors.
    """
    _require_no_errors(check_files(files))
    documents: dict[str, dict[str, Document]] = {}
    for file in sorted(files):
        if found := kind_and_id(file):
            kind, key = found
            documents.setdefault(kind, {})[key] = parse_file(file, files[file]).document
    return _make_book(documents)


def open_folder(folder: Path, cache: Path | None = None, jobs: int | None = None) -> MemoryBook:
    """A book in memory, from a folder of YAML files that is checked first; ``cache`` and ``jobs`` as for a check.

    Raises:
        BookMissing: there is no such folder, or it has no families.
        BookHasFaults: it has errors.
        InternalError: the check has failed, or a book cannot be made of files without errors.
    """
    return _of_checked(folder, cache, jobs, lambda book, _: _in_memory(book))


def compile_book(folder: Path, path: Path, cache: Path | None = None, jobs: int | None = None) -> Compiled:
    """Check a folder and compile it to one file; if the folder has errors the file stays as it is.

    Raises:
        BookMissing: there is no such folder, or it has no families.
        BookHasFaults: it has errors.
        InternalError: the check has failed, or a book cannot be made of files without errors.
    """

    def compiled(book: MemoryBook, findings: Sequence[Finding]) -> Compiled:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_store(path, book)
        return Compiled(path, len(book.documents), book.date, findings)

    return _of_checked(folder, cache, jobs, compiled)


T = TypeVar("T")


def _of_checked(
    folder: Path, cache: Path | None, jobs: int | None, make: Callable[[MemoryBook, Sequence[Finding]], T]
) -> T:
    """What is made of a folder that is checked first, and of what its check kept: nothing is read or typed again.

    Where the cache cannot be written, or another check writes it meanwhile, a cache of one's own serves.
    """
    with TemporaryDirectory() as own, collector_paused():
        for place in (cache, cache, Path(own) / "check.cache"):
            if place is None:
                continue
            with suppress(Damaged):
                _require_no_errors(check_folder(folder, place, jobs), folder.name)
                if checked := last_check(folder, place):
                    _require_no_errors(checked.findings, folder.name)
                    return _made(folder, checked, make)
    raise BookError(f"the check of {folder} can be kept neither in its cache nor in a temporary folder")


def _made(folder: Path, checked: CheckedFolder, make: Callable[[MemoryBook, Sequence[Finding]], T]) -> T:
    try:
        book = _make_book(_kept_documents(checked))
        if not book.documents:
            raise BookMissing(f"{folder} holds no families; give the folder that holds catalogue/ and families/")
        return make(book, checked.findings)
    except (AttributeError, LookupError, TypeError, ValueError) as error:
        failure = failed("", "compiling", error)
        words = f"{folder} has no errors, and yet {failure.what}, so nothing is compiled; report it with this folder"
        raise InternalError(words, [*checked.findings, failure]) from error


def _in_memory(book: MemoryBook) -> MemoryBook:
    return replace(book, documents=dict(book.documents), reported=dict(book.reported))


class _Kept(Mapping[str, Document]):
    """The documents of one kind by id, in order, as a check kept them: some are read at once, when the first of them is
    asked for, and forgotten when others are."""

    def __init__(self, rows: Rows, files: Mapping[str, str]) -> None:
        self._rows, self._files = rows, files
        self._ids = sorted(files)
        self._read: dict[str, Document] = {}

    def __getitem__(self, key: str) -> Document:
        if key not in self._read:
            if key not in self._files:
                raise KeyError(key)
            start = bisect_left(self._ids, key)
            ids = self._ids[start : start + _READ_AT_ONCE]
            texts = self._rows.documents([self._files[one] for one in ids])
            self._read = {one: json.loads(text) for one, (_, text) in zip(ids, texts, strict=True)}
        return self._read[key]

    def texts(self) -> Iterator[str]:
        """Every document as JSON, in order."""
        for _, text in self._rows.documents(self._files[key] for key in self._ids):
            yield in_json(json.loads(text)) if "\\" in text else text  # what is kept is in plain letters throughout

    def __iter__(self) -> Iterator[str]:
        return iter(self._ids)

    def __len__(self) -> int:
        return len(self._ids)


def _kept_documents(checked: CheckedFolder) -> Mapping[str, Mapping[str, Document]]:
    files: dict[str, dict[str, str]] = {}
    for file in checked.files:
        if found := kind_and_id(file):
            files.setdefault(found[0], {})[found[1]] = file
    return {kind: _Kept(checked.rows, of_kind) for kind, of_kind in files.items()}


def _require_no_errors(findings: Sequence[Finding], folder: str = "") -> None:
    def where(first: Finding) -> str:
        return f"{folder}/{first.file}" if folder else first.file

    if failures := [found for found in findings if found.rule == INTERNAL_ERROR]:
        first = failures[0]
        raise InternalError(
            f"the check itself has failed, so nothing is compiled; first at {where(first)}: {first.what}; {first.do}",
            findings,
        )
    errors = [found for found in findings if found.severity is Severity.ERROR]
    if errors:
        first = errors[0]
        raise BookHasFaults(
            f"{len(errors)} error{'s' if len(errors) > 1 else ''}, so nothing is compiled; the first is at "
            f"{where(first)}:{first.place.line}:{first.place.column}: {first.what} ({first.rule})",
            findings,
        )


def _make_book(documents: Mapping[str, Mapping[str, Document]]) -> MemoryBook:
    """The book of documents by kind and id."""

    def of(kind: str) -> Mapping[str, Any]:
        return documents.get(kind, {})

    date, invented = "", set()
    for text in chain.from_iterable(_texts(of(kind)) for kind in _DATA):
        date = max(date, *_DATE.findall(text), "")
        invented.add(_INVENTED in text)
    return MemoryBook(
        date or UNDATED,
        invented == {True},
        {key: FigureKind(key, document) for key, document in of("figure").items()},
        {key: Maker(key, document) for key, document in of("maker").items()},
        {key: Source(key, document) for key, document in of("source").items()},
        dict(of("caution")),
        dict(of("routine")),
        {entry["id"]: entry for entry in of("retired").get("", {}).get("retired", ())},
        of("family"),
        of("withdrawn").get("", {}).get("withdrawn", ()),
        of("report"),
        digest_of(_texts(of("family"))),
    )


def _texts(documents: Mapping[str, Document]) -> Iterable[str]:
    """The documents of one kind as JSON, in order of id."""
    return documents.texts() if isinstance(documents, _Kept) else (in_json(documents[key]) for key in sorted(documents))
