"""Compiling a book: what a family costs after a check whose results are kept, and cold with the check in it; and the
memory that checking and compiling take."""

from __future__ import annotations

import json
import shutil
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.generate import write_book
from tests.benchmarks.measure import HOME, Row, processor_time_and_errors, slowness

AFTER_CHECK, COLD = 0.0025, 0.0045
"""Seconds of processor time a family, where bare Python starts in ``DESIGN_BARE``."""
MEMORY = 250_000_000
"""Bytes of the largest process, whatever the size of the book."""
ALONE = ("--jobs", "1")
"""In one process, as the peers run: two at once on the two threads of one core each take longer than one alone."""
UNTIL_TRUSTED = 2.1
"""Seconds after which a check trusts the time of a file that was written before it."""


class Taken(NamedTuple):
    """What one command took: seconds of processor time in all its processes, and at their most the bytes of the process
    itself and of the largest one that it started."""

    seconds: float
    memory: int
    workers: int

    @property
    def largest(self) -> int:
        """Bytes of the largest of its processes."""
        return max(self.memory, self.workers)


class Costs(NamedTuple):
    """What the commands took for a book of so many families: a check that keeps its results, compiling after it, and
    compiling where nothing is kept."""

    families: int
    check: Taken
    after_check: Taken
    cold: Taken


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    yield from cost_rows(measured(families))


def cost_rows(costs: Costs) -> Iterator[Row]:
    """The figures of a family, and of memory."""
    each = costs.check.seconds / costs.families
    yield Row(f"check of {costs.families}, results kept", _in_words(each), "each family", "")
    for what, taken, budget in (("after a kept check", costs.after_check, AFTER_CHECK), ("cold", costs.cold, COLD)):
        allowed = budget * slowness()
        yield Row(
            f"compile of {costs.families}, {what}",
            _in_words(taken.seconds / costs.families),
            f"each family; the check alone {_in_words(each)}",
            f"{_in_words(budget)}, here {_in_words(allowed)}",
            taken.seconds / costs.families <= allowed,
        )
    for what, taken in (("check", costs.check), ("compile, kept", costs.after_check), ("compile, cold", costs.cold)):
        yield Row(
            f"{what}, {costs.families}: memory at its most",
            f"{taken.memory / 1e6:.0f} MB",
            f"a worker at most {taken.workers / 1e6:.0f} MB" if taken.workers else "no workers",
            f"{MEMORY // 10**6} MB",
            taken.largest <= MEMORY,
        )


def measured(families: int) -> Costs:
    """Write a book, check and compile it."""
    place = HOME / f"compiling-{families}"
    shutil.rmtree(place, ignore_errors=True)
    write_book(place / "specs", families)
    time.sleep(UNTIL_TRUSTED)
    check, after_check = _taken("check", place), _taken("compile", place)
    shutil.rmtree(place / "build")
    cold = _taken("compile", place)
    shutil.rmtree(place)  # a hundred thousand families take room
    return Costs(families, check, after_check, cold)


def _taken(command: str, place: Path) -> Taken:
    """One command; where its results are kept lies beside the folder of files."""
    words: list[str | Path] = [command, "--specs", place / "specs", "--format", "json"]
    words += ["--out", place / "a.book", *ALONE] if command == "compile" else []
    seconds, errors = processor_time_and_errors([sys.executable, "-m", "tests.benchmarks.one_command", *words])
    return Taken(seconds, **json.loads(errors.splitlines()[-1]))


def _in_words(seconds: float) -> str:
    return f"{seconds * 1000:.2f} ms"
