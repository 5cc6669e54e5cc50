"""Examining many files: in this process when they are few, else on every core.

What comes back for a file is text ready to be kept, so that it crosses between processes and into the cache without
being taken apart.
"""

from __future__ import annotations

import gc
import os
import sys
import threading
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, NamedTuple

from kb.intake.check.folder import read_file
from kb.intake.check.kept.finding_rows import digest, to_row
from kb.intake.check.kept.tables import text
from kb.intake.check.one_file import Examined, examine
from kb.intake.check.tracked_context import TrackedContext
from kb.intake.facts.accepted import AcceptedFinding
from kb.intake.facts.rule_context import RuleContext

if TYPE_CHECKING:
    from multiprocessing.context import BaseContext

Progress = Callable[[int, int], None]
"""Called with how many files are done, of how many."""

_FEW = 200  # below this, starting processes costs more than it saves
_CHUNK = 32
_PATIENCE = 1.0  # seconds until progress is told


class Outcome(NamedTuple):
    """What examining one file came to: JSON columns, and its facts as JSON by rule."""

    file: str
    digest: str
    needs: str
    findings: str
    exemptions: str
    facts: Mapping[str, str]


def outcome(file: str, raw: bytes, desk: TrackedContext) -> Outcome:
    """Examine one file on a watched desk."""
    found = examine(file, raw, desk)
    return as_outcome(file, raw, found, desk)


def as_outcome(file: str, raw: bytes, found: Examined, desk: TrackedContext) -> Outcome:
    """What an examination that has just ended came to."""
    return Outcome(
        file,
        digest(raw),
        text(desk.take_needs()),
        text([to_row(finding) for finding in found.findings]),
        text([_exemption_row(exemption) for exemption in found.exemptions]),
        {rule: text(fact) for rule, fact in found.facts.items()},
    )


def _exemption_row(exemption: AcceptedFinding) -> list[object]:
    place = exemption.place
    return [
        exemption.rule,
        [list(path) for path in exemption.covers],
        list(exemption.path),
        [place.line, place.column, place.end_line, place.end_column],
        exemption.line_text,
    ]


def examine_all(
    folder: Path,
    files: Sequence[str],
    desk: TrackedContext,
    plain: RuleContext,
    jobs: int | None,
    progress: Progress | None,
) -> Iterator[Outcome]:
    """The outcome of every file, in no order; ``jobs`` processes at most, by default one for each core."""
    jobs = min(jobs or _cores(), len(files) // _CHUNK + 1)
    if len(files) < _FEW or jobs < 2:
        found: Iterator[list[Outcome]] = ([outcome(file, read_file(folder, file), desk)] for file in files)
        yield from _told(found, len(files), progress)
        return
    chunks = [files[start : start + _CHUNK] for start in range(0, len(files), _CHUNK)]
    with _context().Pool(jobs, _begin, (folder, plain)) as pool:
        yield from _told(pool.imap_unordered(_examine_chunk, chunks), len(files), progress)


def _told(chunks: Iterator[list[Outcome]], total: int, progress: Progress | None) -> Iterator[Outcome]:
    """The outcomes; progress is told of once the work has taken a second."""
    started, done = monotonic(), 0
    for chunk in chunks:
        yield from chunk
        done += len(chunk)
        if progress is not None and monotonic() - started > _PATIENCE:
            progress(done, total)


_at_hand: dict[str, object] = {}
"""What a worker process works with."""


def _begin(folder: Path, plain: RuleContext) -> None:
    gc.freeze()  # what was there before never needs to be gone through
    gc.disable()
    _at_hand.update(folder=folder, desk=TrackedContext(plain))


def _examine_chunk(files: Sequence[str]) -> list[Outcome]:
    folder, desk = _at_hand["folder"], _at_hand["desk"]
    assert isinstance(folder, Path)
    assert isinstance(desk, TrackedContext)
    return [outcome(file, read_file(folder, file), desk) for file in files]


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _context() -> BaseContext:
    """Forking shares all that is loaded, but is safe only on Linux and while no other thread holds a lock."""
    import multiprocessing  # costs as much as examining ten files

    forks = sys.platform == "linux" and threading.active_count() == 1
    return multiprocessing.get_context("fork" if forks else "spawn")
