"""``python -m tests.benchmarks.one_build BOOK PLACE``: one build of a site in a process of its own, and what it took.

Prints JSON: ``seconds`` of processor time of the whole process, ``system`` of them in the system, which writes the
files, ``memory`` in bytes at its most, and ``sum``, a
checksum of every path with its bytes.
"""

from __future__ import annotations

import hashlib
import json
import resource
import sys
from pathlib import Path
from time import process_time

import kb
from kb.publish.site.build import build_site
from tests.benchmarks.memory import most_memory


def main(book: str, place: str) -> None:
    """Build, and tell."""
    with kb.open_book(Path(book)) as opened:
        built = build_site(opened, Path(place))
    seconds, memory = process_time(), most_memory()
    system = resource.getrusage(resource.RUSAGE_SELF).ru_stime
    told = {"seconds": seconds, "system": system, "memory": memory, "files": built.files}
    print(json.dumps({**told, "sum": sum_of(built.place)}))


def sum_of(place: Path) -> str:
    """One checksum of all that lies in a folder."""
    told = hashlib.sha256()
    for path in sorted(path for path in place.rglob("*") if path.is_file()):
        content = path.read_bytes()
        told.update(f"{path.relative_to(place).as_posix()}\0{len(content)}\0".encode() + content)
    return told.hexdigest()


if __name__ == "__main__":
    main(*sys.argv[1:])
