"""Writing what a command made to the file that was named, or to standard output."""

from __future__ import annotations

import os
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
            _write_whole(Path(name), content)
        except OSError as error:
            print(f"stopscrew: {name} cannot be written: {error.strerror}; name a file that can", file=sys.stderr)
            return 2
        print(f"wrote {name}", file=sys.stderr if aside else sys.stdout)
    return 0


def _write_whole(path: Path, content: bytes) -> None:
    """Write beside the file, then put that in its place: what was there stays until the new one is whole.

    Raises:
        OSError: it can not be written; nothing of it is left.
    """
    if path.exists() and not path.is_file():  # a folder refuses; a device is written to, not replaced
        path.write_bytes(content)
        return
    path = path.resolve()  # through a link, to what it names
    beside = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
