"""What is known of a folder's files from the last run: how each lay on the disk, and what it held."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from kb.intake.cache import Cache
from kb.intake.folder import UNSURE, read_file
from kb.intake.rows import digest

STATS, DIGESTS, FINAL = "stats", "digests", "final"
"""The parts of the cache: the marks of all files, the digests of their bytes, both in order of file; the findings."""


class Known(NamedTuple):
    """One file as it was: its mark, which tells whether it may have changed, and the digest of its bytes."""

    mark: str
    digest: str


class Since(NamedTuple):
    """What has become of a folder since the last run: ``digests`` is of all files but new ones."""

    known: Mapping[str, Known]
    digests: dict[str, str]
    changed: list[str]
    gone: list[str]

    @property
    def nothing(self) -> bool:
        """Whether every file still holds what it held; some may have been touched."""
        return bool(self.known) and not self.changed and not self.gone


def compare(cache: Cache, folder: Path, here: str, marked: Mapping[str, str]) -> Since:
    """Find the files whose bytes are not what they were; only those whose mark differs are read.

    Raises:
        Damaged: what was kept is not what is there.
        BookError: a file cannot be read.
    """
    known = known_files(cache, here)
    since = Since(known, {}, [], sorted(known.keys() - marked.keys()))
    for file, mark in marked.items():
        was = known.get(file)
        if was is None:
            since.changed.append(file)
        elif mark == was.mark and mark != UNSURE:
            since.digests[file] = was.digest
        else:
            since.digests[file] = digest(read_file(folder, file))
            if since.digests[file] != was.digest:
                since.changed.append(file)
    return since


def parts(here: str, marked: Mapping[str, str], digests: Mapping[str, str]) -> dict[str, bytes]:
    """What to keep of all this for the next run."""
    return {STATS: stats(here, marked), DIGESTS: "\n".join(digests[file] for file in marked).encode("ascii")}


def stats(here: str, marked: Mapping[str, str]) -> bytes:
    """The marks as one part, after the identity of the folder that they are true of."""
    return "\0".join([here, *(field for pair in marked.items() for field in pair)]).encode("utf-8", "surrogateescape")


def is_unchanged(cache: Cache, here: str, marked: Mapping[str, str]) -> bool:
    """Whether this is to the last mark the folder of the last run.

    Raises:
        Damaged: what was kept is not what is there.
    """
    kept = cache.read((STATS,)).get(STATS)
    return kept is not None and kept == stats(here, marked) and UNSURE not in marked.values()


def known_files(cache: Cache, here: str) -> dict[str, Known]:
    """Every file of the last run; in another folder no mark can be trusted.

    Raises:
        Damaged: what was kept is not what is there.
    """
    kept = cache.read((STATS, DIGESTS))
    if len(kept) < 2:
        return {}
    where, *fields = kept[STATS].decode("utf-8", "surrogateescape").split("\0")
    digests = kept[DIGESTS].decode("ascii").split()
    marks = fields[1::2] if where == here else [UNSURE] * len(digests)
    return {file: Known(mark, digest) for file, mark, digest in zip(fields[::2], marks, digests, strict=True)}
