"""What is known of a folder's files from the last run: how each lay on the disk, and what it held."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from kb.intake.check.folder import MARK, UNSURE, Marked, read_file
from kb.intake.check.kept.cache_file import Cache
from kb.intake.check.kept.finding_rows import digest

NAMES, MARKS, DIGESTS, FINAL = "names", "marks", "digests", "final"
"""The parts of the cache: the names of all files, their marks, the digests of their bytes; and the findings."""


_BLOCK = 256  # so many marks are compared at once


class Since(NamedTuple):
    """What has become of a folder since the last run.

    ``known`` are the files of the last run; ``digests`` is of all files but new ones.
    """

    known: tuple[str, ...]
    digests: dict[str, str]
    changed: list[str]
    gone: list[str]

    @property
    def nothing(self) -> bool:
        """Whether every file still holds what it held; some may have been touched."""
        return bool(self.known) and not self.changed and not self.gone


def is_unchanged(cache: Cache, marked: Marked) -> bool:
    """Whether this is to the last mark the folder of the last run.

    Raises:
        Damaged: what was kept is not what is there.
    """
    kept = cache.read((NAMES, MARKS))
    return (
        len(kept) == 2 and kept[MARKS] == marked.marks and kept[NAMES] == _names(marked) and UNSURE not in marked.marks
    )


def compare(cache: Cache, folder: Path, marked: Marked) -> Since:
    """Find the files whose bytes are not what they were; only those whose mark differs are read.

    Raises:
        Damaged: what was kept is not what is there.
        BookError: a file cannot be read.
    """
    kept = cache.read((NAMES, MARKS, DIGESTS))
    if len(kept) < 3:
        return Since((), {}, list(marked.files), [])
    where, *names = kept[NAMES].decode("utf-8", "surrogateescape").split("\0")
    digests = dict(zip(names, kept[DIGESTS].decode("ascii").split(), strict=True))
    known = Marked(where, tuple(names), kept[MARKS])
    since = Since(known.files, digests, [], [])
    if known.files != marked.files:
        there = set(marked.files)
        since.gone.extend(file for file in known.files if file not in there)
        since.changed.extend(file for file in marked.files if file not in digests)
        for file in since.gone:
            del digests[file]
    for file in _doubtful(known, marked):
        if file in digests:
            was, digests[file] = digests[file], digest(read_file(folder, file))
            if digests[file] != was:
                since.changed.append(file)
    return since


def parts(marked: Marked, digests: dict[str, str]) -> dict[str, bytes]:
    """What to keep of all this for the next run."""
    ordered = "\n".join([digests[file] for file in marked.files])
    return {NAMES: _names(marked), MARKS: marked.marks, DIGESTS: ordered.encode("ascii")}


def _names(marked: Marked) -> bytes:
    return "\0".join((marked.here, *marked.files)).encode("utf-8", "surrogateescape")


def _doubtful(known: Marked, marked: Marked) -> Iterator[str]:
    """The files whose mark is not the one they had, or says nothing."""
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
