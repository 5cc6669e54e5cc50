"""Building the wheel: the demonstration book is compiled into it, so that it answers without any other file.

Hatchling loads this file by itself, outside the package, so it puts the source tree on the path.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class WheelHook(BuildHookInterface[Any]):
    """Compiles ``specs/`` into ``kb/shipped.book``; an editable install reads ``specs/`` itself."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile the book before the wheel is built."""
        if version == "editable":
            return
        root = Path(self.root)
        sys.path.insert(0, str(root))
        try:
            from kb.intake.compiling import compile_book

            book = root / "build" / "wheel" / "shipped.book"
            compile_book(root / "specs", book)
        finally:
            sys.path.remove(str(root))
        build_data["force_include"][str(book)] = "kb/shipped.book"
