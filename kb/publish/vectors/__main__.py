"""``python -m kb.publish.vectors FOLDER``: write the check vectors."""

from __future__ import annotations

import sys
from pathlib import Path

from kb.publish.vectors.writing import write


def main(arguments: list[str]) -> int:
    """Write the files into the folder named, and print which changed; exit code 2 when no folder is named."""
    if len(arguments) != 1:
        print("Name one folder: python -m kb.publish.vectors schema/vectors", file=sys.stderr)
        return 2
    changed = write(Path(arguments[0]))
    print("\n".join(f"wrote {name}" for name in changed) if changed else "the vectors are up to date")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
