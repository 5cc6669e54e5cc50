"""Where a site is put: made beside its place and moved there when whole, so that a failed build leaves the last good
one; and never in the place of anything but a site."""

from __future__ import annotations

import errno
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_MARKS = ("version.json", "worker.js")
"""What lies in every site; a folder without them that is not empty is somebody's own."""


@contextmanager
def replacing(place: Path) -> Iterator[Path]:
    """An empty folder to build in, which takes the place of the last site when the block ends well.

    Raises:
        FileExistsError: something else lies there, and would be gone.
        OSError: it cannot be written; the last site stays.
    """
    place = place.resolve()  # through a link, to what it names
    if not _free(place):
        raise FileExistsError(
            errno.EEXIST,
            "something else than a site lies there, and would be gone; name a new or an empty folder",
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
    """Whether nothing lies there but a site, if that."""
    if not place.exists():
        return True
    return place.is_dir() and (not any(place.iterdir()) or all((place / mark).is_file() for mark in _MARKS))


def _put(stage: Path, place: Path) -> None:
    """The new folder in the place of the old one, which is away for a moment only and comes back if that fails."""
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
