"""Shells as a person has them: one at a terminal of its own, that keys are typed at."""

from __future__ import annotations

import os
import re
import select
import subprocess
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from time import monotonic

PATIENCE = 60
"""Seconds for a shell to show what it was asked for, on a machine with much else to do."""


class Terminal:
    """A running program at a terminal: keys go in, what is shown comes out."""

    def __init__(self, keyboard: int) -> None:
        self.keyboard, self.shown = keyboard, ""

    def type(self, keys: str) -> None:
        """Type keys."""
        os.write(self.keyboard, keys.encode())

    def wait_for(self, pattern: str) -> re.Match[str]:
        """What is shown that matches the pattern; it is shown once and counts once.

        Raises:
            TimeoutError: nothing does; the message has all that is shown.
        """
        end = monotonic() + PATIENCE
        while not (found := re.search(pattern, self.shown)):
            ready, _, _ = select.select([self.keyboard], [], [], max(0, end - monotonic()))
            if not ready:
                raise TimeoutError(f"{pattern} is not shown: {self.shown!r}")
            self.shown += os.read(self.keyboard, 65536).decode(errors="replace")
        self.shown = self.shown[found.end() :]
        return found


@contextmanager
def terminal(command: Sequence[str], environment: Mapping[str, str]) -> Iterator[Terminal]:
    """A program at a terminal of its own, ended with the block."""
    keyboard, screen = os.openpty()
    try:
        with subprocess.Popen(
            command, stdin=screen, stdout=screen, stderr=screen, env=environment, start_new_session=True
        ) as program:
            try:
                yield Terminal(keyboard)
            finally:
                program.kill()
    finally:
        os.close(keyboard)
        os.close(screen)
