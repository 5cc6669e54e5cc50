"""A scratch copy of the tree, to change and to run."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

from tests.support.folders import ROOT

Edit = str | tuple[tuple[str, str], ...]
"""A whole new file, or what is replaced in one, each place once."""


class Scratch:
    """A copy of the tree to change."""

    def __init__(self, place: Path) -> None:
        self.place = place
        for name in ("kb", "site", "specs", "schema"):
            shutil.copytree(ROOT / name, place / name, ignore=shutil.ignore_patterns("__pycache__", "pictures"))

    def change(self, edits: Mapping[str, Edit]) -> None:
        """Make the edits; each place that is replaced stands there once."""
        for name, edit in edits.items():
            file = self.place / name
            if isinstance(edit, str):
                assert not file.exists()
                file.write_text(edit, encoding="utf-8")
                continue
            text = file.read_text(encoding="utf-8")
            for old, new in edit:
                assert text.count(old) == 1, f"{name}: {old!r} stands there {text.count(old)} times"
                text = text.replace(old, new)
            file.write_text(text, encoding="utf-8")

    def add(self, name: str, old: str, new: str) -> None:
        """Use what was added in a file of the book."""
        self.change({f"specs/families/{name}.yaml": ((old, new),)})

    def run(self, *arguments: str, code: int = 0) -> str:
        """What a module prints, run in the copy."""
        ran = subprocess.run(
            [sys.executable, "-m", *arguments],
            cwd=self.place,
            env={**os.environ, "PYTHONPATH": str(self.place), "NO_COLOR": "1"},
            capture_output=True,
            text=True,
            timeout=100,
            check=False,
        )
        assert ran.returncode == code, ran.stdout + ran.stderr
        return ran.stdout + ran.stderr
