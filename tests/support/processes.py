"""A process beside the test, which never outlives it."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def running(
    command: Sequence[str], *, cwd: Path, env: Mapping[str, str] | None = None, stderr: int = subprocess.PIPE
) -> Iterator[subprocess.Popen[str]]:
    """A process whose output is read by the test; it is killed with the block, whatever became of the test."""
    with subprocess.Popen(command, cwd=cwd, env=env, stdout=subprocess.PIPE, stderr=stderr, text=True) as process:
        try:
            yield process
        finally:
            process.kill()
