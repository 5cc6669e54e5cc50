"""The version of the checker: results that another version cached are not valid.

It is a digest of every module that a check may use and of the versions of its dependencies, so that neither a changed
rule nor a new release of a library gets results from before.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from hashlib import blake2b
from io import FileIO
from pathlib import Path

_HOME = Path(__file__).parents[3]
_FLOORS_ABOVE = ("cli", "publish")
"""What stands above the check, which never imports it."""
_DEPENDENCIES = ("pydantic-", "pydantic_core-", "pyyaml-", "stopscrew-")


def checker_version() -> str:
    """A digest of the source text of a check, Python's version and the installed versions of the dependencies."""
    whole = blake2b(f"{sys.version} {sys.platform}".encode(), digest_size=16)
    for name in _versions():
        whole.update(name.encode() + b"\0")
    for path in _sources(str(_HOME)):
        with FileIO(path) as stream:
            text = stream.readall()
        whole.update(f"{path.removeprefix(str(_HOME))} {len(text)}\0".encode())
        whole.update(text)
    return whole.hexdigest()


def _sources(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        found = sorted((entry.name, entry.is_dir(), entry.path) for entry in entries)
    for name, is_folder, path in found:
        if is_folder and name not in _FLOORS_ABOVE:
            yield from _sources(path)
        elif name.endswith(".py"):
            yield path


def _versions() -> list[str]:
    """The names of the installed dependencies, which include their versions."""
    found: set[str] = set()
    for place in sys.path:
        with suppress(OSError):  # an archive, or a folder that does not exist
            found.update(name.lower() for name in os.listdir(place or ".") if name.endswith(".dist-info"))
    return sorted(name for name in found if name.startswith(_DEPENDENCIES))
