"""The workers: each has a copy of the repository, in which it measures test files and tries mutants.

Tests run in a fork of a worker that has imported pytest and what the tests need of others, but nothing of ours:
starting anew takes several times as long as the tests that notice a mutant.
"""

from __future__ import annotations

import compileall
import os
import resource
import shutil
import signal
import sys
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import nullcontext
from importlib import import_module
from math import ceil
from multiprocessing import get_context
from pathlib import Path
from py_compile import PycInvalidationMode
from queue import Queue
from typing import NamedTuple

import pytest
from coverage import Coverage, CoverageData

from tests.mutants.drawing import Mutant

_PROFILE = ("-p", "tests.mutants.hypothesis_profile", "--hypothesis-profile", "mutants")
_WARMED = ("-W", "ignore:Module already imported:pytest.PytestAssertRewriteWarning")
_PYTEST = ("-q", "-x", "-n", "0", "--timeout", "0", "-p", "no:cacheprovider", *_PROFILE, *_WARMED)
_COPIED = ("kb", "tests", "specs", "schema", "site", "pyproject.toml", "README.md", "DEVELOPERS.md", "Makefile")
_WARM = ("hypothesis.strategies", "jsonschema", "mpmath", "pint", "pydantic", "scipy.integrate", "scipy.stats", "yaml")
_MEMORY = 4 << 30  # a mutant may gather without end
_WALL = 20  # how many seconds by the clock a CPU second may take on a busy machine
_STOPPED = (-signal.SIGXCPU, -signal.SIGALRM, -signal.SIGKILL)
_LONG = 3600


class Measured(NamedTuple):
    """What a test file costs in CPU seconds, and the rows of each module that it runs."""

    seconds: float
    rows: dict[str, list[int]]


class Tried(NamedTuple):
    """What came of a mutant."""

    mutant: Mutant
    survived: bool
    timed_out: bool = False


def workers(root: Path, place: Path, count: int) -> ProcessPoolExecutor:
    """Processes that each work in a copy of their own below ``place``."""
    context = get_context("spawn")
    copies: Queue[Path] = context.Manager().Queue()
    for number in range(count):
        copies.put(place / f"copy-{number}")
    return ProcessPoolExecutor(count, context, _settle, (root, copies))


def _settle(root: Path, copies: Queue[Path]) -> None:
    """Make this process's copy, and stay in it."""
    copy = copies.get()
    shutil.rmtree(copy, ignore_errors=True)
    for name in _COPIED:
        if (root / name).is_dir():
            shutil.copytree(root / name, copy / name, ignore=shutil.ignore_patterns("__pycache__", "node_modules"))
        else:
            shutil.copy(root / name, copy / name)
    os.chdir(copy)
    os.environ.update(PYTHONPATH=str(copy), OPENBLAS_NUM_THREADS="1")  # a fork has no threads but its own
    sys.dont_write_bytecode = False  # what pytest rewrites is kept in the copy
    resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
    # By content: a mutant is written within the second in which the last one was, and may be as long.
    compileall.compile_dir("kb", quiet=1, invalidation_mode=PycInvalidationMode.CHECKED_HASH)
    for name in _WARM:
        import_module(name)


def measure(file: str) -> Measured:
    """Run one test file in this process's copy.

    Raises:
        RuntimeError: it fails on the code as it stands.
    """
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    data = Path("coverage.sqlite").absolute()
    status, printed = _run([file], _LONG, Coverage(str(data), include=["kb/*"]))
    if status != pytest.ExitCode.OK:
        raise RuntimeError(f"{file} fails before anything is changed\n{printed}")
    found = CoverageData(str(data))
    found.read()
    names = {Path(name).relative_to(Path.cwd()).as_posix(): name for name in found.measured_files()}
    rows = {module: sorted(found.lines(name) or ()) for module, name in names.items()}
    data.unlink()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return Measured(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, rows)


def attempt(mutant: Mutant, tests: Sequence[str], seconds: float) -> Tried:
    """Run the tests with the mutant in place, for so many CPU seconds at most: running on and on, too, is noticed."""
    file = Path(mutant.module)
    source = file.read_text(encoding="utf-8")
    file.write_text(mutant.applied_to(source), encoding="utf-8")
    try:
        status, _ = _run(tests, ceil(seconds))
    finally:
        file.write_text(source, encoding="utf-8")
    survived = status in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED)
    return Tried(mutant, survived, status in _STOPPED)


def _run(tests: Sequence[str], seconds: int, coverage: Coverage | None = None) -> tuple[int, str]:
    """Pytest's exit code (or the signal that ended it, below zero), and what it printed, from a fork."""
    printed = Path("printed.txt")
    child = os.fork()
    if not child:
        _be_pytest(tests, seconds, printed, coverage)
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    return status, printed.read_text(encoding="utf-8")


def _be_pytest(tests: Sequence[str], seconds: int, printed: Path, coverage: Coverage | None) -> None:
    """Run pytest in a process that knows nothing of ours but its copy, and end."""
    status = int(pytest.ExitCode.INTERNAL_ERROR)
    try:
        with printed.open("w", encoding="utf-8") as page:
            os.dup2(page.fileno(), 1)
            os.dup2(page.fileno(), 2)
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))
        signal.alarm(_WALL * seconds)
        for name in [name for name in sys.modules if name.partition(".")[0] in ("kb", "tests")]:
            del sys.modules[name]
        sys.path.insert(0, str(Path.cwd()))
        with coverage.collect() if coverage else nullcontext():
            status = int(pytest.main([*_PYTEST, *tests]))
        if coverage:
            coverage.save()
    finally:
        sys.stdout.flush()
        os._exit(status)
