"""Browser modules run under Node, which comes with a package of Python."""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from tests.language_server import NODE, ROOT

ASSETS = ROOT / "site" / "assets"


def run_module(source: str, *arguments: str | Path) -> str:
    """What a module prints. ``ASSETS/name.js`` in its imports stands for a file of ``site/assets``.

    Raises:
        AssertionError: it ended with an error, which is told.
    """
    import re

    source = re.sub(r"ASSETS/([\w./-]+)", lambda found: f'"{(ASSETS / found[1]).as_uri()}"', source)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "run.mjs"
        file.write_text(source, encoding="utf-8")
        command = [str(NODE), str(file), *map(str, arguments)]
        done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", timeout=300)
    assert done.returncode == 0, done.stderr[-3000:]
    return done.stdout
