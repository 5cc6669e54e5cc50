"""The validator of HTML from npm."""

from __future__ import annotations

import json
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.npm import package_or_skip
from tests.support.node import NODE, SCRIPTS

_WAIT = 120


def faults_of(pages: Sequence[Path]) -> Iterator[tuple[Path, str, str, str]]:
    """Each fault of these pages: where, the rule, the element, what is wrong."""
    script = package_or_skip("html-validate") / "bin" / "html-validate.mjs"
    config = SCRIPTS / "html-validate.json"
    with tempfile.TemporaryDirectory() as folder:
        told = Path(folder) / "told.json"  # it ends before a pipe has taken a long answer
        command = [str(NODE), str(script), "--config", str(config), "--formatter", f"json={told}", *map(str, pages)]
        done = subprocess.run(command, capture_output=True, text=True, timeout=_WAIT, check=False)
        assert done.returncode in (0, 1), done.stderr
        for page in json.loads(told.read_bytes()):
            for one in page["messages"]:
                yield Path(page["filePath"]), one["ruleId"], one.get("selector") or "", one["message"]
