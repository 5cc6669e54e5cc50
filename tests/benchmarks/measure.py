"""Measuring processor time and judging it: every figure stands beside its peer and its budget."""

from __future__ import annotations

import os
import resource
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from tests.support.folders import ROOT

HOME = ROOT / "build" / "bench"
DESIGN_BARE = 0.009
"""Seconds of processor time that bare Python took to start where the budgets in milliseconds were set."""


@dataclass(frozen=True)
class Row:
    """One figure: what was measured, its peer from the same run, and whether the budget holds."""

    what: str
    figure: str
    peer: str
    budget: str
    holds: bool | None = None

    def __str__(self) -> str:
        verdict = {True: "holds", False: "MISSED", None: ""}[self.holds]
        return f"{self.what:<46} {self.figure:>16}   {self.peer:<44} {self.budget:<30} {verdict}"


def processor_time(arguments: Sequence[str | Path], codes: tuple[int, ...] = (0,)) -> float:
    """Seconds of processor time of a process and its children, in user and system.

    Raises:
        RuntimeError: it ended with a code that was not expected.
    """
    return processor_time_and_errors(arguments, codes)[0]


def processor_time_and_errors(arguments: Sequence[str | Path], codes: tuple[int, ...] = (0,)) -> tuple[float, str]:
    """The same with what the process wrote to its standard error.

    Raises:
        RuntimeError: it ended with a code that was not expected.
    """
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    done = subprocess.run(
        [str(argument) for argument in arguments],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONHASHSEED": "0", "PYTHONDONTWRITEBYTECODE": ""},  # compiled once, as when installed
    )
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    if done.returncode not in codes:
        raise RuntimeError(f"{arguments} ended with {done.returncode}: {done.stderr[-2000:]}{done.stdout[-500:]}")
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, done.stderr


def how_often(families: int, most: int) -> int:
    """How often something is measured: once where the book is so small that all one learns is whether it works."""
    return most if families >= 1_000 else 1


def best_of(times: int, measured: Callable[[], float]) -> float:
    """The least of some rounds: what else the machine does only ever adds."""
    return min(measured() for _ in range(times))


@cache
def bare() -> float:
    """Seconds of processor time that bare Python takes to start here."""
    return best_of(9, lambda: processor_time([sys.executable, "-c", "pass"]))


def slowness() -> float:
    """How many times slower this machine is, at this hour, than the one where the budgets in seconds were set."""
    return bare() / DESIGN_BARE


def in_milliseconds(seconds: float) -> str:
    """Seconds as milliseconds.

    >>> in_milliseconds(0.1234)
    '123 ms'
    """
    return f"{seconds * 1000:.0f} ms"


def start_row(what: str, seconds: float, budget: float) -> Row:
    """A figure of a whole process, whose budget in seconds was set where bare Python takes ``DESIGN_BARE``.

    It is judged as a multiple of bare Python's start in the same run, so that a slow or busy machine does not count.
    """
    allowed = budget * slowness()
    return Row(
        what,
        in_milliseconds(seconds),
        f"bare Python {in_milliseconds(bare())}: {seconds / bare():.1f} times",
        f"{in_milliseconds(budget)}, here {in_milliseconds(allowed)}",
        seconds <= allowed,
    )
