"""Tools from npm that tests and benchmarks run with the Node of the tests, each of one version, brought once.

They lie in the virtual environment, or where that cannot be written, in the temporary folder; never in the checkout.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NoReturn

import pytest

from tests.support.node import NODE, NPM

VERSIONS = {
    "@biomejs/biome": "2.6.8",
    "esbuild": "0.28.2",
    "html-validate": "11.21.1",
    "lighthouse": "13.5.0",
    "linkedom": "0.18.15",
    "typescript": "5.9.3",
}

_PLAIN = ("--no-save", "--no-package-lock", "--no-audit", "--no-fund", "--ignore-scripts")
_WAIT = 300


class NotBrought(RuntimeError):
    """npm or pip cannot bring a tool; it says why."""


def package(name: str) -> Path:
    """The folder of a tool's package.

    Raises:
        NotBrought: npm cannot bring it.
    """
    wanted = f"{name}@{VERSIONS[name]}"
    top = Path(sys.prefix) if os.access(sys.prefix, os.W_OK) else Path(tempfile.gettempdir())
    place = top / f"npm-{wanted.replace('/', '-')}"
    if not place.is_dir():
        stage = Path(tempfile.mkdtemp(prefix=".npm-", dir=top))
        (stage / "package.json").write_text('{"private": true}', encoding="utf-8")
        command = [str(NODE), str(NPM), "install", *_PLAIN, wanted]
        done = subprocess.run(command, cwd=stage, capture_output=True, text=True, timeout=_WAIT, check=False)
        if done.returncode:
            shutil.rmtree(stage)
            raise NotBrought(f"no {name}: npm says {done.stderr.strip()[-300:]} (it needs a way to its registry once)")
        try:
            stage.rename(place)
        except OSError:  # another process was first
            shutil.rmtree(stage)
    return place / "node_modules" / name


def package_or_skip(name: str) -> Path:
    """The same for a test: skipped with the reason where npm cannot bring it, failed where ``CI`` is set."""
    try:
        return package(name)
    except NotBrought as reason:
        skip(reason)


def skip(reason: NotBrought) -> NoReturn:
    """End a test that needs a tool."""
    if os.environ.get("CI"):
        pytest.fail(str(reason))
    pytest.skip(str(reason))
