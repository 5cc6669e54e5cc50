"""``python -m tests.benchmarks.one_command WORD ...``: one command in a process of its own, and the memory it took.

The last line on standard error is JSON: ``memory``, the bytes of this process at its most, and ``workers``, those of
the largest process that it started.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence

import kb.cli
from tests.benchmarks.memory import most_memory, most_memory_of_workers


def main(words: Sequence[str]) -> int:
    """Run the command, print the memory, and end as the command ends."""
    code = kb.cli.main(words)
    print(json.dumps({"memory": most_memory(), "workers": most_memory_of_workers()}), file=sys.stderr)
    return code


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
