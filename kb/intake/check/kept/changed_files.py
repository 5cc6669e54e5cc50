"""What the cache knows about a folder's files from the last run, and which of them have changed since."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import NamedTuple

from kb.intake.check.folder import MARK, UNSURE, Marked, read_file
from kb.intake.check.kept.cache_file import Cache
from kb.intake.check.kept.finding_rows import digest
from kb.intake.check.kept.rows import Rows

NAMES, MARKS, FINAL = "names", "marks", "final"
"""Parts of the cache: the names of all files, their marks, and the final findings."""


_BLOCK = 256  # marks compared at once


class FolderChanges(NamedTuple):
    """What has changed in a folder since the last run; ``known`` are the files of that run."""

    known: tuple[str, ...]
    changed: list[str]
    gone: list[str]

    @property
    def nothing(self) -> bool:
        """Whether every file has the same content as before; some may have been touched."""
        return bool(self.known) and not self.changed and not self.gone


def is_unchanged(cache: Cache, marked: Marked) -> bool:
    """Whether the folder has exactly the files and marks of the last run.

    Raises:
        Damaged: the cache does not match its index.
    """
    kept = cache.read((NAMES, MARKS))
    return (
        len(kept) == 2 and kept[MARKS] == marked.marks and kept[NAMES] == _names(marked) and UNSURE not in marked.marks
    )


def known_files(cache: Cache) -> Marked:
    """The files of the last run and their marks; none where there was no last run.

    Raises:
        Damaged: the cache does not match its index.
    """
    kept = cache.read((NAMES, MARKS))
    if len(kept) < 2:
        return Marked("", (), b"")
    here, *names = kept[NAMES].decode("utf-8", "surrogateescape").split("\0")
    return Marked(here, tuple(names), kept[MARKS])


def compare(known: Marked, rows: Rows, folder: Path, marked: Marked) -> FolderChanges:
    """Find the files whose content has changed; only those whose mark differs are read.

    Raises:
        Damaged: the cache does not match its index.
        BookError: a file cannot be read.
    """
    changed: list[str] = []
    gone: list[str] = []
    doubtful: Iterable[str] = _to_reread(known, marked)
    if known.files != marked.files:
        before, now = set(known.files), set(marked.files)
        gone = [file for file in known.files if file not in now]
        changed = [file for file in marked.files if file not in before]
        doubtful = (file for file in doubtful if file in before)
    for file, result in rows.results(doubtful):
        if digest(read_file(folder, file)) != result.content:
            changed.append(file)
    return FolderChanges(known.files, changed, gone)


def parts(marked: Marked) -> dict[str, bytes]:
    """The parts to keep for the next run."""
    return {NAMES: _names(marked), MARKS: marked.marks}


def _names(marked: Marked) -> bytes:
    return "\0".join((marked.here, *marked.files)).encode("utf-8", "surrogateescape")


def _to_reread(known: Marked, marked: Marked) -> Iterator[str]:
    """The files whose mark has changed or is ``UNSURE``."""
    if known.here != marked.here:
        yield from marked.files
        return
    if known.files == marked.files:
        for start in range(0, len(marked.files), _BLOCK):
            block = marked.marks[start * MARK : (start + _BLOCK) * MARK]
            if UNSURE in block or block != known.marks[start * MARK : (start + _BLOCK) * MARK]:
                for place in range(start, min(start + _BLOCK, len(marked.files))):
                    if marked.mark(place) != known.mark(place) or marked.mark(place) == UNSURE:
                        yield marked.files[place]
        return
    before = {file: known.mark(place) for place, file in enumerate(known.files)}
    for place, file in enumerate(marked.files):
        mark = marked.mark(place)
        if mark != before.get(file) or mark == UNSURE:
            yield file
