"""The README's examples are real: every command's output is what it prints, every Python line gives what it shows."""

from __future__ import annotations

import contextlib
import doctest
import io
import re
import shlex
import shutil
from pathlib import Path

import pytest

import kb
from kb.cli import main

ROOT = Path(__file__).parent.parent
README = ROOT / "README.md"
BLOCK = re.compile(r"```console\n\$ (?P<command>stopscrew [^\n]*)\n(?P<output>.*?)```", re.DOTALL)
SLIP = ("families/skerrow/ketch-47.yaml", "    - atdc: [4, 6]\n", "    - atdc: [6, 4]\n")


def run(command: str) -> str:
    words = shlex.split(command)[1:]
    output = io.StringIO()
    with contextlib.redirect_stdout(output), contextlib.redirect_stderr(output):
        code = main(words)
    return output.getvalue() + (f"(exit code {code})\n" if code else "")


@pytest.fixture
def slipped_book(monkeypatch: pytest.MonkeyPatch) -> None:
    """The demonstration book with one slip, where the README shows what the check says of it."""
    monkeypatch.chdir(ROOT)
    folder = ROOT / "build" / "slip"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(ROOT / "specs", folder)
    file, sound, slipped = SLIP
    text = (folder / file).read_text()
    assert sound in text
    (folder / file).write_text(text.replace(sound, slipped, 1))


@pytest.mark.usefixtures("slipped_book")
def test_the_commands_print_what_the_readme_shows(pytestconfig: pytest.Config) -> None:
    text = README.read_text()
    real = BLOCK.sub(lambda block: f"```console\n$ {block['command']}\n{run(block['command'])}```", text)
    if pytestconfig.getoption("--golden"):
        README.write_text(real)
    assert text == real or pytestconfig.getoption("--golden"), "README.md is stale; run: make golden"


def test_the_python_lines_do_what_the_readme_shows() -> None:
    blocks = re.findall(r"```python\n(.*?)```", README.read_text(), re.DOTALL)
    assert blocks
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL)
    for number, block in enumerate(blocks):
        runner.run(doctest.DocTestParser().get_doctest(block, {"kb": kb}, f"README {number}", "README.md", 0))
    assert runner.summarize(verbose=False).failed == 0
