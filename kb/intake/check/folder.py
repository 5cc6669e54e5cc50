"""A folder of YAML files as it lies on the disk: which there are, and what tells that one has changed.

Light: nothing heavy is imported here, because it is all that a check of an unchanged folder needs.
"""

from __future__ import annotations

import os
import stat
import time
from array import array
from collections.abc import Mapping
from io import FileIO
from pathlib import Path
from typing import NamedTuple

from kb.errors import BookError, BookMissing

MARK = 32
"""How many bytes the mark of one file has."""

UNSURE = bytes(MARK)
"""The mark of a file that must be read to know whether it has changed."""

_LARGEST = (1 << 63) - 1
_TICK = 2_000_000_000  # nanoseconds; no file system in use counts time more coarsely


def list_files(folder: Path) -> dict[str, os.stat_result]:
    """Every YAML file below a folder, by its path relative to it with forward slashes, with its stat.

    Hidden files and folders are passed over; so is what is no YAML file. Links to folders are not followed.

    Raises:
        BookMissing: there is no such folder, or a file is a link that leads nowhere.
        BookError: it cannot be listed.
    """
    found: dict[str, os.stat_result] = {}
    if not folder.is_dir():
        raise BookMissing(f"there is no folder {folder}; give the folder that holds catalogue/ and families/")
    try:
        _list(str(folder), "", found)
    except OSError as error:
        raise _unreadable(error) from None
    return found


def _list(folder: str, prefix: str, found: dict[str, os.stat_result]) -> None:
    with os.scandir(folder) as entries:
        for entry in entries:
            name = entry.name
            if name.startswith("."):
                continue
            if name.endswith((".yaml", ".yml")) and not entry.is_dir(follow_symlinks=False):
                found[prefix + name] = entry.stat()
            elif entry.is_dir(follow_symlinks=False):
                _list(entry.path, f"{prefix}{name}/", found)


def read_file(folder: Path, file: str) -> bytes:
    """A file's bytes.

    Raises:
        BookMissing: it has just gone.
        BookError: it cannot be read, or is no file.
    """
    try:
        with FileIO(f"{folder}/{file}") as stream:
            return stream.readall()
    except OSError as error:
        raise _unreadable(error) from None


def _unreadable(error: OSError) -> BookError:
    words = f"{error.filename} cannot be read: {(error.strerror or 'no reason given').lower()}"
    return BookMissing(words) if isinstance(error, FileNotFoundError) else BookError(words)


def now() -> int:
    """The time to give to ``mark_files``: taken before the folder is listed."""
    return time.time_ns()


class Marked(NamedTuple):
    """The files of a folder, sorted, and a mark of each; as long as that is the same, so is what the file says.

    ``here`` tells this folder from another, be it a copy of the same on another machine, where no mark means anything.
    """

    here: str
    files: tuple[str, ...]
    marks: bytes

    def mark(self, index: int) -> bytes:
        """The mark of a file by its place among them."""
        return self.marks[index * MARK : index * MARK + MARK]


def mark_files(folder: Path, listed: Mapping[str, os.stat_result], listed_at: int) -> Marked:
    """Mark each file by its size, its times and where it lies on the disk.

    A file touched within the last tick of the clock before it was listed gets no such mark: it may be written once
    more within that tick, after it was read, and would still bear the same times. Git has the same care.

    Raises:
        BookError: one of them is no file but a pipe, a device or the like.
    """
    settled = listed_at - _TICK
    files = tuple(sorted(listed))
    marks = array("q")
    for file in files:
        found = listed[file]
        changed, written = found.st_ctime_ns, found.st_mtime_ns
        if not stat.S_ISREG(found.st_mode):
            raise BookError(f"{file} is no file that can be read")
        if changed > settled or written > settled:
            marks.extend((0, 0, 0, 0))
        else:
            marks.extend((found.st_size, written, changed, found.st_ino & _LARGEST))
    own = folder.stat()
    return Marked(f"{own.st_dev} {own.st_ino} {folder.resolve()}", files, marks.tobytes())
