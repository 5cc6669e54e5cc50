"""The folder of a site, replaced as a whole: it is built beside its place and moved there when complete, so that a
failed build leaves the last good site; and it never replaces anything but a site."""

from __future__ import annotations

import errno
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_MARKS = ("version.json", "worker.js")
"""Files that every site has; a folder that is not empty and lacks them belongs to somebody."""


@contextmanager
def replacing(place: Path) -> Iterator[Path]:
    """An empty folder to build in, which replaces the last site when the block ends without an error.

    Raises:
        FileExistsError: something other than a site is there, and would be lost.
        OSError: it cannot be written; the last site stays.
    """
    place = place.resolve()  # through a link, to what it names
    if not _free(place):
        raise FileExistsError(
            errno.EEXIST,
            "something other than a site is there, and would be lost; name a new or an empty folder",
            str(place),
        )
    place.parent.mkdir(parents=True, exist_ok=True)
    stage = Path(tempfile.mkdtemp(prefix=f".{place.name}.", suffix=".part", dir=place.parent))
    try:
        yield stage
        stage.chmod(0o755)
        _put(stage, place)
    except BaseException:
        shutil.rmtree(stage, ignore_errors=True)
        raise


def _free(place: Path) -> bool:
    """Whether there is nothing at the place, or only a site."""
    if not place.exists():
        return True
    return place.is_dir() and (not any(place.iterdir()) or all((place / mark).is_file() for mark in _MARKS))


def _put(stage: Path, place: Path) -> None:
    """Put the new folder in the place of the old one, which is moved aside for a moment and put back on failure."""
    old = stage.with_suffix(".old")
    had = place.exists()
    if had:
        place.rename(old)
    try:
        stage.rename(place)
    except BaseException:
        if had:
            old.rename(place)
        raise
    shutil.rmtree(old, ignore_errors=True)
