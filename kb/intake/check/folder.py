"""A folder of YAML files on the disk: which files there are, and a mark of each that shows whether it has changed.

Nothing heavy is imported here, because this is all that the check of an unchanged folder needs.
"""

from __future__ import annotations

import os
import stat
import time
from collections.abc import Mapping
from io import FileIO
from pathlib import Path
from struct import Struct
from typing import NamedTuple

from kb.errors import BookError, BookMissing

MARK = 32
"""The length of a file's mark, in bytes."""

UNSURE = bytes(MARK)
"""The mark of a file that must be read to know whether it has changed."""

_MARK = Struct("<4q")
_LARGEST = (1 << 63) - 1
_TICK = 2_000_000_000  # nanoseconds; no file system in use has coarser time stamps


def list_files(folder: Path) -> dict[str, bytes]:
    """A mark of every YAML file below a folder, by its relative path with forward slashes: its size, times and inode.

    Hidden files and folders are skipped, as is everything that is not YAML. Links to folders are not followed.

    Raises:
        BookMissing: there is no such folder, or a file is a link that leads nowhere.
        BookError: the folder cannot be listed, or a file is not a regular one but a pipe, a device or the like.
    """
    found: dict[str, bytes] = {}
    if not folder.is_dir():
        raise BookMissing(f"there is no folder {folder}; give the folder that holds catalogue/ and families/")
    try:
        _list(str(folder), "", found)
    except OSError as error:
        raise _unreadable(error) from None
    return found


def _list(folder: str, prefix: str, found: dict[str, bytes]) -> None:
    with os.scandir(folder) as entries:
        for entry in entries:
            name = entry.name
            if name.startswith("."):
                continue
            if name.endswith((".yaml", ".yml")) and not entry.is_dir(follow_symlinks=False):
                found[prefix + name] = _mark(prefix + name, entry.stat())
            elif entry.is_dir(follow_symlinks=False):
                _list(entry.path, f"{prefix}{name}/", found)


def _mark(file: str, found: os.stat_result) -> bytes:
    if not stat.S_ISREG(found.st_mode):
        raise BookError(f"{file} is not a regular file")
    return _MARK.pack(found.st_size, found.st_mtime_ns, found.st_ctime_ns, found.st_ino & _LARGEST)


def read_file(folder: Path, file: str) -> bytes:
    """A file's bytes.

    Raises:
        BookMissing: it has been deleted in the meantime.
        BookError: it cannot be read, or is not a file.
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
    """The time for ``mark_files``, to be taken before the folder is listed."""
    return time.time_ns()


class Marked(NamedTuple):
    """The files of a folder, sorted, and a mark of each; while the mark is the same, so is the file's content.

    ``here`` identifies this folder on this machine: marks made elsewhere, even of a copy of the folder, are worthless.
    """

    here: str
    files: tuple[str, ...]
    marks: bytes

    def mark(self, index: int) -> bytes:
        """The mark of a file, by its position among the files."""
        return self.marks[index * MARK : index * MARK + MARK]


def mark_files(folder: Path, listed: Mapping[str, bytes], listed_at: int) -> Marked:
    """The files of a folder with their marks, as they were listed.

    A file touched within the last clock tick before it was listed is marked ``UNSURE``: it could be written again in
    that tick, after it was read, and keep the same times. Git takes the same precaution.
    """
    settled = listed_at - _TICK
    files = tuple(sorted(listed))
    marks = bytearray()
    for file in files:
        _, written, changed, _ = _MARK.unpack(listed[file])
        marks += UNSURE if changed > settled or written > settled else listed[file]
    return Marked(identity_of(folder), files, bytes(marks))


def identity_of(folder: Path) -> str:
    """What identifies a folder on this machine."""
    own = folder.stat()
    return f"{own.st_dev} {own.st_ino} {folder.resolve()}"
