"""Write the schemas of a book: ``python -m kb.intake.json_schema specs schema``."""

from __future__ import annotations

import sys
from pathlib import Path

from kb.intake.check.file_kinds import read_files
from kb.intake.check.whole_book import make_context
from kb.intake.json_schema import write


def main(arguments: list[str]) -> int:
    """Write the schemas of the book in one folder into another and return the exit code."""
    if len(arguments) != 2:
        print("usage: python -m kb.intake.json_schema SPECS SCHEMA", file=sys.stderr)
        return 2
    files = read_files(Path(arguments[0]))
    for changed in write(Path(arguments[1]), make_context(files, files.__getitem__).figures):
        print(f"written {changed}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
