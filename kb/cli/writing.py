"""Writing what a command made to the file that was named, or to standard output."""

from __future__ import annotations

import sys
from pathlib import Path


def require_suffix(out: str | None, *suffixes: str) -> None:
    """Do nothing when the file's name ends in one of the suffixes.

    Raises:
        QuantityError: it does not; the message says what to type.
    """
    from kb.errors import QuantityError

    if out is not None and Path(out).suffix.lower() not in suffixes:
        wanted = " or ".join(f"{Path(out).stem or 'drawing'}{suffix}" for suffix in suffixes)
        raise QuantityError(f"--out {out!r}: the file's ending says what is written; write --out {wanted}")


def write_files(files: dict[str, bytes], *, aside: bool = False) -> int:
    """Write each file and say so, on standard error where the output is something else; the exit code."""
    for name, content in files.items():
        try:
            Path(name).write_bytes(content)
        except OSError as error:
            print(f"stopscrew: {name} cannot be written: {error.strerror}; name a file that can", file=sys.stderr)
            return 2
        print(f"wrote {name}", file=sys.stderr if aside else sys.stdout)
    return 0
