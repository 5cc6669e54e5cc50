"""The kind and id of a file, from its path in the book's folder."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from kb.intake.check.folder import list_files, read_file
from kb.intake.models import KINDS

_ID_PART = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_FOLDERS = {kind.folder: kind for kind in KINDS.values()}


def kind_and_id(file: str) -> tuple[str, str] | None:
    """The kind and id of a file, from its path relative to the book's folder; None if no kind of file belongs there.

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


def read_files(folder: Path) -> Mapping[str, bytes]:
    """Every YAML file below a folder with its bytes.

    Raises:
        BookMissing: there is no such folder.
    """
    return {file: read_file(folder, file) for file in sorted(list_files(folder))}
