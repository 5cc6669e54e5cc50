"""A folder of files: which are whose, by where they lie."""

from __future__ import annotations

import os
import re
from collections.abc import Mapping
from pathlib import Path

from kb.errors import BookMissing
from kb.intake.documents import KINDS

_ID_PART = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_FOLDERS = {kind.folder: kind for kind in KINDS.values()}


def kind_and_id(file: str) -> tuple[str, str] | None:
    """The kind and id of a file by its path below the book's folder, or nothing if no kind of file lies there.

    >>> kind_and_id("families/skerrow/ketch-47.yaml")
    ('family', 'skerrow/ketch-47')
    >>> kind_and_id("families/ketch-47.yaml")
    """
    if kind := _FOLDERS.get(file):
        return kind.name, ""
    folder, _, rest = file.partition("/")
    kind = _FOLDERS.get(folder)
    if kind is None or not rest.endswith(".yaml"):
        return None
    parts = rest.removesuffix(".yaml").split("/")
    if len(parts) != kind.depth or not all(_ID_PART.fullmatch(part) for part in parts):
        return None
    return kind.name, "/".join(parts)


def list_files(folder: Path) -> dict[str, os.stat_result]:
    """Every YAML file below a folder, by its path relative to it with forward slashes, with its stat.

    Hidden files and folders are passed over; so is what is no YAML file. Links to folders are not followed.

    Raises:
        BookMissing: there is no such folder.
    """
    found: dict[str, os.stat_result] = {}
    if not folder.is_dir():
        raise BookMissing(f"there is no folder {folder}; give the folder that holds catalogue/ and families/")
    _list(str(folder), "", found)
    return found


def _list(folder: str, prefix: str, found: dict[str, os.stat_result]) -> None:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                _list(entry.path, f"{prefix}{entry.name}/", found)
            elif entry.name.endswith((".yaml", ".yml")):
                found[prefix + entry.name] = entry.stat()


def read_files(folder: Path) -> Mapping[str, bytes]:
    """Every YAML file below a folder with its bytes.

    Raises:
        BookMissing: there is no such folder.
    """
    return {file: (folder / file).read_bytes() for file in sorted(list_files(folder))}
