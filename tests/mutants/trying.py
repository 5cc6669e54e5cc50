"""The workers: each has a copy of the repository, in which it measures test files and tries mutants."""

from __future__ import annotations

import compileall
import os
import resource
import shutil
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from math import ceil
from multiprocessing import get_context
from pathlib import Path
from py_compile import PycInvalidationMode
from queue import Queue
from shlex import quote
from typing import NamedTuple

from cosmic_ray.mutating import mutate_and_test
from cosmic_ray.work_item import MutationSpec, TestOutcome
from coverage import CoverageData

from tests.mutants.drawing import Mutant

PYTEST = "-m pytest -q -x -n 0 -p no:cacheprovider -p tests.mutants.hypothesis_profile --hypothesis-profile mutants"
_COPIED = ("kb", "tests", "specs", "schema", "site", "pyproject.toml", "README.md", "DEVELOPERS.md", "Makefile")
_MEMORY = 4 << 30  # a mutant may gather without end
_WALL = 20  # how many seconds by the clock a CPU second may take on a busy machine


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
    numbers: Queue[Path] = context.Manager().Queue()
    for number in range(count):
        numbers.put(place / f"copy-{number}")
    return ProcessPoolExecutor(count, context, _settle, (root, numbers))


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
    os.environ["PYTHONPATH"] = str(copy)
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # what pytest rewrites is kept in the copy
    resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
    # By content: a mutant is written within the second in which the last one was, and may be as long.
    compileall.compile_dir("kb", quiet=1, invalidation_mode=PycInvalidationMode.CHECKED_HASH)


def measure(file: str) -> Measured:
    """Run one test file in this process's copy.

    Raises:
        RuntimeError: it fails on the code as it stands.
    """
    data = Path("coverage.sqlite").absolute()
    measuring = f"-m coverage run --data-file={data} --include=kb/*".split()
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    command = [sys.executable, *measuring, *PYTEST.split(), file]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise RuntimeError(f"{file} fails before anything is changed\n{done.stdout}{done.stderr}")
    found = CoverageData(str(data))
    found.read()
    rows = {
        Path(name).relative_to(Path.cwd()).as_posix(): sorted(found.lines(name) or ())
        for name in found.measured_files()
    }
    data.unlink()
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return Measured(after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, rows)


def attempt(mutant: Mutant, tests: Sequence[str], seconds: float) -> Tried:
    """Run the tests with the mutant in place, for so many CPU seconds at most: running on and on, too, is noticed.

    Raises:
        RuntimeError: the mutant could not be tried at all.
    """
    place = (mutant.row, 0), (mutant.row, 1)
    change = MutationSpec(mutant.module, mutant.operator, mutant.occurrence, *place)
    run = f"ulimit -t {ceil(seconds)} && exec {sys.executable} {PYTEST} {' '.join(tests)}"
    found = mutate_and_test([change], f"sh -c {quote(run)}", _WALL * seconds)
    if found.test_outcome not in (TestOutcome.KILLED, TestOutcome.SURVIVED):
        raise RuntimeError(f"{mutant} could not be tried\n{found.output}")
    return Tried(mutant, found.test_outcome is TestOutcome.SURVIVED, found.output in ("timeout", ""))
