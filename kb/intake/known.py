"""What is known of a folder's files from the last run: how each lay on the disk, and what it held."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from kb.intake.cache import Cache
from kb.intake.folder import UNSURE

STATS, DIGESTS = "stats", "digests"
"""The parts of the cache: the marks of all files, and the digests of their bytes, both in order of file."""


class Known(NamedTuple):
    """One file as it was: its mark, which tells whether it may have changed, and the digest of its bytes."""

    mark: str
    digest: str


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
    parts = cache.read((STATS, DIGESTS))
    if len(parts) < 2:
        return {}
    where, *fields = parts[STATS].decode("utf-8", "surrogateescape").split("\0")
    digests = parts[DIGESTS].decode("ascii").split()
    marks = fields[1::2] if where == here else [UNSURE] * len(digests)
    return {file: Known(mark, digest) for file, mark, digest in zip(fields[::2], marks, digests, strict=True)}
