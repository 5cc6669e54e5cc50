"""The README's examples are real: every command's output is what it prints, every Python line gives what it shows."""

from __future__ import annotations

import contextlib
import doctest
import io
import re
import shlex
import shutil
import struct
from functools import cache
from pathlib import Path

import pytest

import kb
from kb.cli import main
from tests.support.folders import ROOT, SITE, SPECS

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
def slipped_book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The book with one slip, where the README shows what the check says of it."""
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "build" / "slip"
    shutil.copytree(SPECS, folder)
    file, sound, slipped = SLIP
    text = (folder / file).read_text()
    assert sound in text
    (folder / file).write_text(text.replace(sound, slipped, 1))


@pytest.fixture
def shipped(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is opened without a path is the book under test, which a checkout ships."""
    monkeypatch.setattr(kb, "_open_shipped", cache(lambda: kb.open_book(SPECS)))


@pytest.mark.usefixtures("slipped_book", "shipped")
def test_the_commands_print_what_the_readme_shows(pytestconfig: pytest.Config) -> None:
    text = README.read_text()
    real = BLOCK.sub(lambda block: f"```console\n$ {block['command']}\n{run(block['command'])}```", text)
    if pytestconfig.getoption("--golden"):
        README.write_text(real)
    assert without_counts(text) == without_counts(real) or pytestconfig.getoption("--golden"), (
        "README.md is stale: make golden"
    )


def without_counts(text: str) -> str:
    """A text without the number of files and the date of the data, which any contribution may change."""
    return re.sub(r"\bin \d+ files\b|(?<=data of) +[\d-]+", "…", text)


@pytest.mark.usefixtures("shipped")
def test_the_python_lines_do_what_the_readme_shows() -> None:
    blocks = re.findall(r"```python\n(.*?)```", README.read_text(), re.DOTALL)
    assert blocks
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL)
    for number, block in enumerate(blocks):
        runner.run(doctest.DocTestParser().get_doctest(block, {"kb": kb}, f"README {number}", "README.md", 0))
    assert runner.summarize(verbose=False).failed == 0


def test_two_commands_do_for_a_fresh_machine() -> None:
    (fresh,) = re.findall(r"```sh\n(.*?)```", README.read_text(), re.DOTALL)
    assert [line.split(" #")[0].strip() for line in fresh.splitlines()] == ["make serve", "make test"]
    makefile = (ROOT / "Makefile").read_text()
    recipes = dict(re.findall(r"^(serve|test):[^\n]*\n((?:\t[^\n]*\n)+)", makefile, re.MULTILINE))
    steps = ["check --specs specs", "compile --specs specs", "site serve"]
    places = [recipes["serve"].index(f"stopscrew {step}") for step in steps]
    assert places == sorted(places), "what is served was checked"
    assert "pytest" in recipes["test"]


def test_every_picture_is_there_says_what_it_shows_and_is_small_on_the_phone() -> None:
    text = README.read_text()
    shown = re.findall(r'<img src="([^"]+)" width="\d+" alt="([^"]{30,})">', text)
    assert len(shown) == text.count("<img") == 3
    assert {Path(name).stem for name, _ in shown} == {file.stem for file in (SITE / "pictures").glob("*.png")}
    for name, _ in shown:
        picture = (ROOT / name).read_bytes()
        assert picture.startswith(b"\x89PNG\r\n\x1a\n")
        assert struct.unpack(">II", picture[16:24]) == (390, 844)
        assert len(picture) < 60_000, name


def test_the_readme_is_short_and_its_links_lead_somewhere() -> None:
    text = README.read_text()
    assert len(text.splitlines()) <= 150
    for link in re.findall(r"\]\(([^)#]+)\)", text):
        assert (ROOT / link).exists(), link
