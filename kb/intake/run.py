"""Checking a folder: at once where nothing has changed since the last run, else by renewing the last results.

Light: the rules, the models and the reader of YAML are imported only when a file has to be examined.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from kb.finding import Finding
from kb.intake.cache import Cache, Damaged
from kb.intake.edition import edition
from kb.intake.folder import identity, list_files, marks, now
from kb.intake.known import FINAL, compare, is_unchanged, parts
from kb.intake.rows import from_rows


class Checked(NamedTuple):
    """What a check came to: every finding, sorted by file and place, and how many files were checked."""

    findings: list[Finding]
    files: int


def check_folder(
    folder: Path,
    cache: Path | None = None,
    jobs: int | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> list[Finding]:
    """Every finding of the YAML files below a folder, sorted by file and place.

    ``cache`` is a file that keeps results between runs; it may be deleted, shared or damaged at any time. ``jobs``
    is how many processes to use at most, all cores by default. ``progress`` is called with how many files are done, of
    how many, once the work has taken a second.

    Raises:
        BookMissing: there is no such folder.
        BookError: a file in it cannot be read.
    """
    return check(folder, cache, jobs, progress).findings


def check(
    folder: Path,
    cache: Path | None = None,
    jobs: int | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> Checked:
    """The same, with how many files were checked."""
    listed_at = now()
    listed = list_files(folder)
    marked = marks(listed, listed_at)
    here = identity(folder)
    kept = Cache(cache, edition() if cache else "")
    for attempt in range(2):  # another process may write between two readings
        if attempt:
            kept = Cache(cache, edition())
        try:
            return Checked(_findings(folder, kept, here, marked, jobs, progress), len(marked))
        except Damaged:
            continue
    kept.forget()
    return Checked(_findings(folder, kept, here, marked, jobs, progress), len(marked))


def _findings(
    folder: Path,
    kept: Cache,
    here: str,
    marked: dict[str, str],
    jobs: int | None,
    progress: Callable[[int, int], None] | None,
) -> list[Finding]:
    if is_unchanged(kept, here, marked):
        return _last(kept)
    since = compare(kept, folder, here, marked)
    if since.nothing:
        findings = _last(kept)
        kept.replace(parts(here, marked, since.digests))
        return findings
    from kb.intake.renew import Renewal

    return Renewal(folder, kept, here, marked, since).run(jobs, progress)


def _last(kept: Cache) -> list[Finding]:
    return from_rows(json.loads(kept.read((FINAL,))[FINAL]))
