"""The memory that a process took at its most."""

from __future__ import annotations

import resource
from pathlib import Path


def most_memory() -> int:
    """Bytes of this process alone: what rusage reports is at least what the process that started it held then."""
    try:
        status = Path("/proc/self/status").read_text(encoding="ascii")
        return 1024 * next(int(line.split()[1]) for line in status.splitlines() if line.startswith("VmHWM"))
    except OSError:
        return 1024 * resource.getrusage(resource.RUSAGE_SELF).ru_maxrss


def most_memory_of_workers() -> int:
    """Bytes of the largest process that this one started and that has ended; 0 where there was none."""
    return 1024 * resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
