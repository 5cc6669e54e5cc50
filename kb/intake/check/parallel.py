"""Checking many files: in this process if they are few, otherwise on all cores.

The result for a file is text as the cache stores it, so that it passes between processes and into the cache unchanged.
"""

from __future__ import annotations

import gc
import os
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, NamedTuple

from kb.intake.check.folder import read_file
from kb.intake.check.kept.finding_rows import digest, text, to_row
from kb.intake.check.kept.rows import Result
from kb.intake.check.one_file import FileResult, check_file
from kb.intake.check.tracked_context import TrackedContext
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import RuleContext

if TYPE_CHECKING:
    from multiprocessing.context import BaseContext

Progress = Callable[[int, int], None]
"""Called with how many files are done, of how many."""

_FEW = 200  # below this, starting processes costs more than it saves
_CHUNK = 32
_SECONDS_TO_WAIT = 1.0  # before progress is reported


class StoredResult(NamedTuple):
    """The result of checking one file, and what it says as JSON text, as the cache stores them."""

    file: str
    result: Result
    document: str


def check_and_store(file: str, raw: bytes, context: TrackedContext, keep: bool) -> StoredResult:
    """Check one file in a tracked context."""
    found = check_file(file, raw, context)
    return to_stored(file, raw, found, context, keep)


def to_stored(file: str, raw: bytes, found: FileResult, context: TrackedContext, keep: bool) -> StoredResult:
    """The result of a check that has just ended, as the cache stores it; without a cache nobody reads the document."""
    result = Result(
        digest(raw),
        text(context.take_needs()),
        text([to_row(finding) for finding in found.findings]),
        text([_exemption_row(exemption) for exemption in found.exemptions]),
        text(found.facts),
    )
    return StoredResult(file, result, text(found.document) if keep else "")


def _exemption_row(exemption: AcceptedFinding) -> list[object]:
    place = exemption.place
    return [
        exemption.rule,
        [list(path) for path in exemption.covers],
        list(exemption.path),
        [place.line, place.column, place.end_line, place.end_column],
        exemption.line_text,
    ]


def check_all(
    folder: Path,
    files: Sequence[str],
    context: TrackedContext,
    plain: RuleContext,
    jobs: int | None,
    progress: Progress | None,
    keep: bool,
) -> Iterator[StoredResult]:
    """The result of every file, in no order; ``jobs`` is the largest number of processes, by default one per core.

    ``keep`` says whether what the files say is kept too.
    """
    jobs = min(jobs or _core_count(), len(files) // _CHUNK + 1)
    if len(files) < _FEW or jobs < 2:
        found: Iterator[list[StoredResult]] = (
            [check_and_store(file, read_file(folder, file), context, keep)] for file in files
        )
        yield from _reporting_progress(found, len(files), progress)
        return
    chunks = [files[start : start + _CHUNK] for start in range(0, len(files), _CHUNK)]
    with _process_context().Pool(jobs, _start_worker, (folder, plain, keep)) as pool:
        yield from _reporting_progress(pool.imap_unordered(_check_chunk, chunks), len(files), progress)


def _reporting_progress(
    chunks: Iterator[list[StoredResult]], total: int, progress: Progress | None
) -> Iterator[StoredResult]:
    """Pass the results on, and report progress once the work has taken a second."""
    started, done = monotonic(), 0
    for chunk in chunks:
        yield from chunk
        done += len(chunk)
        if progress is not None and monotonic() - started > _SECONDS_TO_WAIT:
            progress(done, total)


_worker: list[Callable[[str], StoredResult]] = []
"""What a worker process does with a file."""


def _start_worker(folder: Path, plain: RuleContext, keep: bool) -> None:
    gc.freeze()  # the collector need not look at what exists already
    gc.disable()
    context = TrackedContext(plain)
    _worker.append(lambda file: check_and_store(file, read_file(folder, file), context, keep))


def _check_chunk(files: Sequence[str]) -> list[StoredResult]:
    return [_worker[0](file) for file in files]


def _core_count() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _process_context() -> BaseContext:
    """Forking shares everything loaded so far, but is safe only on Linux and while no other thread is running."""
    import multiprocessing  # takes as long as checking ten files

    forks = sys.platform == "linux" and threading.active_count() == 1
    return multiprocessing.get_context("fork" if forks else "spawn")
