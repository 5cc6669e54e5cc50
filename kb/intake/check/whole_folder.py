"""Checking a folder: the last results if nothing has changed since the last run, otherwise an incremental check.

The rules, the models and the YAML reader are imported only if a file has to be checked.
"""

from __future__ import annotations

import gc
import json
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import NamedTuple

from kb.finding import Finding
from kb.intake.check.folder import Marked, identity_of, list_files, mark_files, now
from kb.intake.check.kept.cache_file import Cache, Damaged
from kb.intake.check.kept.changed_files import FINAL, compare, is_unchanged, known_files, parts
from kb.intake.check.kept.checker_version import checker_version
from kb.intake.check.kept.finding_rows import from_rows
from kb.intake.check.kept.rows import Rows


class Checked(NamedTuple):
    """The result of a check: every finding, sorted by file and place, and the number of files checked."""

    findings: list[Finding]
    files: int


class CheckedFolder(NamedTuple):
    """What the cache has of a checked folder: its files, every finding, and by file what it says."""

    files: Sequence[str]
    findings: list[Finding]
    rows: Rows


def check_folder(
    folder: Path, cache: Path | None = None, jobs: int | None = None, progress: Callable[[int, int], None] | None = None
) -> list[Finding]:
    """Every finding in the YAML files below a folder, sorted by file and place.

    ``cache`` is a file that keeps results between runs; it may be deleted, shared or damaged at any time. ``jobs`` is
    the largest number of processes, by default one per core. Once the work has taken a second, ``progress`` is called
    with the number of files done and the number of all files.

    Raises:
        BookMissing: there is no such folder.
        BookError: a file in it cannot be read.
    """
    return check(folder, cache, jobs, progress).findings


def check(
    folder: Path, cache: Path | None = None, jobs: int | None = None, progress: Callable[[int, int], None] | None = None
) -> Checked:
    """The same as ``check_folder``, with the number of files checked."""
    with collector_paused():
        return _check(folder, cache, jobs, progress)


def last_check(folder: Path, cache: Path) -> CheckedFolder | None:
    """The last check of a folder, as the cache has it, or nothing; all of it is of one state of the folder.

    What the files say is read when it is asked for, and raises ``Damaged`` when another check has written meanwhile.
    """
    kept = Cache(cache, checker_version())
    with suppress(Damaged):
        known = known_files(kept)
        if known.here == identity_of(folder):
            return CheckedFolder(known.files, _last(kept), Rows(kept, known.files))
    return None


@contextmanager
def collector_paused() -> Iterator[None]:
    """Pause the garbage collector during bulk work, which makes hardly any reference cycles.

    What was made meanwhile counts as old afterwards: it is not gone through at once. What a host has frozen stays so.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on and not gc.get_freeze_count():
            gc.freeze()
            gc.unfreeze()
        if was_on:
            gc.enable()


def _check(folder: Path, cache: Path | None, jobs: int | None, progress: Callable[[int, int], None] | None) -> Checked:
    listed_at = now()
    marked = mark_files(folder, list_files(folder), listed_at)
    own = checker_version() if cache else ""
    for _ in range(2):  # another process may write between two reads
        with suppress(Damaged):
            return Checked(_findings(folder, Cache(cache, own), marked, jobs, progress), len(marked.files))
    kept = Cache(cache, own)
    kept.forget()
    return Checked(_findings(folder, kept, marked, jobs, progress), len(marked.files))


def _findings(
    folder: Path, kept: Cache, marked: Marked, jobs: int | None, progress: Callable[[int, int], None] | None
) -> list[Finding]:
    if is_unchanged(kept, marked):
        return _last(kept)
    known = known_files(kept)
    rows = Rows(kept, known.files)
    since = compare(known, rows, folder, marked)
    if since.nothing:
        findings = _last(kept)
        kept.replace(parts(marked))
        return findings
    from kb.intake.check.incremental import IncrementalCheck

    return IncrementalCheck(folder, kept, rows, marked, since).run(jobs, progress)


def _last(kept: Cache) -> list[Finding]:
    return from_rows(json.loads(kept.read((FINAL,))[FINAL]))
