"""From a folder of files without errors to a book, in memory or compiled to one file."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from kb.book.model.family import Document, FigureKind, Maker, Source
from kb.book.store.in_memory import MemoryBook
from kb.errors import BookHasFaults, BookMissing
from kb.finding import Finding, Severity
from kb.intake.check.file_kinds import kind_and_id
from kb.intake.check.folder import list_files, read_file
from kb.intake.check.one_file import parse_file
from kb.intake.check.whole_book import check_files
from kb.intake.check.whole_folder import check_folder

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
    """
    _require_no_errors(check_files(files))
    return _make_book(files)


def open_folder(folder: Path, cache: Path | None = None, jobs: int | None = None) -> MemoryBook:
    """A book in memory, from a folder of YAML files that is checked first; ``cache`` and ``jobs`` as for a check.

    Raises:
        BookMissing: there is no such folder, or it has no families.
        BookHasFaults: it has errors.
    """
    return _checked(folder, cache, jobs)[0]


def compile_book(folder: Path, path: Path, cache: Path | None = None, jobs: int | None = None) -> Compiled:
    """Check a folder and compile it to one file; if the folder has errors the file stays as it is.

    Raises:
        BookMissing: there is no such folder, or it has no families.
        BookHasFaults: it has errors.
    """
    from kb.book.store.writing import write_store

    book, findings = _checked(folder, cache, jobs)
    path.parent.mkdir(parents=True, exist_ok=True)
    write_store(path, book)
    return Compiled(path, len(book.documents), book.date, findings)


def _checked(folder: Path, cache: Path | None, jobs: int | None) -> tuple[MemoryBook, Sequence[Finding]]:
    findings = check_folder(folder, cache, jobs)
    _require_no_errors(findings, folder.name)
    files = {file: read_file(folder, file) for file in sorted(list_files(folder))}
    book = _make_book(files)
    if not book.documents:
        raise BookMissing(f"{folder} holds no families; give the folder that holds catalogue/ and families/")
    return book, findings


def _require_no_errors(findings: Sequence[Finding], folder: str = "") -> None:
    errors = [found for found in findings if found.severity is Severity.ERROR]
    if errors:
        first = errors[0]
        where = f"{folder}/{first.file}" if folder else first.file
        raise BookHasFaults(
            f"{len(errors)} error{'s' if len(errors) > 1 else ''}, so nothing is compiled; the first is at "
            f"{where}:{first.place.line}:{first.place.column}: {first.what} ({first.rule})",
            findings,
        )


def _make_book(files: Mapping[str, bytes]) -> MemoryBook:
    documents: dict[str, dict[str, Document]] = {}
    for file in sorted(files):
        if found := kind_and_id(file):
            kind, key = found
            documents.setdefault(kind, {})[key] = parse_file(file, files[file]).document

    def of(kind: str) -> Mapping[str, Any]:
        return documents.get(kind, {})

    documented = [document for kind in _DATA for document in of(kind).values()]
    dates = [date for kind in _DATA for document in of(kind).values() for date in _dates(document)]
    return MemoryBook(
        max(dates, default=UNDATED),
        bool(documented) and all(document.get("invented") == "true" for document in documented),
        {key: FigureKind(key, document) for key, document in of("figure").items()},
        {key: Maker(key, document) for key, document in of("maker").items()},
        {key: Source(key, document) for key, document in of("source").items()},
        of("caution"),
        of("routine"),
        {entry["id"]: entry for entry in of("retired").get("", {}).get("retired", ())},
        of("family"),
        of("withdrawn").get("", {}).get("withdrawn", ()),
        of("report"),
    )


def _dates(value: Any) -> Iterator[str]:
    """Every date in a document: of a reading, of a report, or since when something applies."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            if key in ("on", "since") and isinstance(inner, str):
                yield inner
            else:
                yield from _dates(inner)
    elif isinstance(value, (list, tuple)):
        for inner in value:
            yield from _dates(inner)
