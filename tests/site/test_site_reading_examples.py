"""What the reading pages show is real: files pass the check, commands print what is shown, Python gives what it says.

The blocks of a page are worked through in their order, in a folder with a copy of the frozen book: a file that
the text names before it is written, a difference is applied, a command is run.
"""

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
from kb.cli.commands import DOES
from tests.support.folders import FROZEN, PAGES
from tests.support.frozen import frozen_book

WRITTEN = sorted(path.relative_to(PAGES).as_posix() for path in PAGES.rglob("*.md"))
BLOCK = re.compile(r"^```(?P<kind>[a-z]*)\n(?P<text>.*?)^```$", re.DOTALL | re.MULTILINE)
NAMED = re.compile(r"`(specs/[a-z0-9/-]+\.yaml)`")
INLINE = re.compile(r"(?<!`)`stopscrew ([^`]+)`(?!`)")
KINDS = {"yaml", "diff", "console", "python"}


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, demonstration_place: Path) -> Path:
    """Where a reader of the page would stand: in a copy of the frozen book, the site built from it beside."""
    shutil.copytree(FROZEN, tmp_path / "specs")
    (tmp_path / "build").mkdir()
    (tmp_path / "build" / "site").symlink_to(demonstration_place, target_is_directory=True)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(kb, "_open_shipped", frozen_book)
    return tmp_path


def run(command: str) -> str:
    output = io.StringIO()
    with contextlib.redirect_stdout(output), contextlib.redirect_stderr(output):
        code = main(shlex.split(command)[1:])
    return output.getvalue() + (f"(exit code {code})\n" if code else "")


def console(text: str) -> str:
    """The commands of a block, each with what it prints."""
    commands = [line for line in text.splitlines() if line.startswith("$ ")]
    assert commands, text
    return "\n".join(f"{command}\n{run(command[2:]).rstrip()}\n" for command in commands)


def write(before: str, text: str) -> None:
    """A file that the text before it names."""
    (name,) = NAMED.findall(before)[-1:]
    assert not Path(name).exists(), f"{name} is there already"
    Path(name).write_text(text, encoding="utf-8")


def apply(before: str, text: str) -> None:
    """A difference to the file that the text before it named last."""
    lines = [(line[:1] or " ", line[1:]) for line in text.splitlines()]
    old = "".join(f"{words}\n" for sign, words in lines if sign in " -")
    new = "".join(f"{words}\n" for sign, words in lines if sign in " +")
    file = Path(NAMED.findall(before)[-1])
    whole = file.read_text(encoding="utf-8")
    assert whole.count(old) == 1
    file.write_text(whole.replace(old, new), encoding="utf-8")


@pytest.mark.parametrize("page", WRITTEN)
def test_what_a_page_shows_is_real(page: str, desk: Path, pytestconfig: pytest.Config) -> None:
    text = (PAGES / page).read_text(encoding="utf-8")
    runner = doctest.DocTestRunner(optionflags=doctest.ELLIPSIS, verbose=False)
    told: list[str] = []

    def real(found: re.Match[str]) -> str:
        kind, shown = found["kind"], found["text"]
        assert kind in KINDS, f"{page}: a block of {kind or 'no'} kind is not read by any test"
        if kind == "console":
            return f"```console\n{console(shown)}```"
        if kind == "yaml":
            write(text[: found.start()], shown)
        elif kind == "diff":
            apply(text[: found.start()], shown)
        else:
            example = doctest.DocTestParser().get_doctest(shown, {"kb": kb}, page, page, 0)
            assert example.examples
            runner.run(example, out=told.append)
        return found[0]

    made = BLOCK.sub(real, text)
    assert not told, "".join(told)
    if pytestconfig.getoption("--golden"):
        (PAGES / page).write_text(made, encoding="utf-8")
    assert text == made or pytestconfig.getoption("--golden"), f"{page} is stale; run: make golden"


def test_the_worked_example_ends_with_nothing_to_say(desk: Path) -> None:
    text = (PAGES / "read" / "contribute.md").read_text(encoding="utf-8")
    for found in BLOCK.finditer(text):
        if found["kind"] == "yaml":
            write(text[: found.start()], found["text"])
        elif found["kind"] == "diff":
            apply(text[: found.start()], found["text"])
    assert run("stopscrew check --strict --no-cache").startswith("nothing found in ")
    assert kb.open_book(desk / "specs").look_up("pellwater/zephyr-9", "max-advance", "cranking").printed


@pytest.mark.parametrize("page", WRITTEN)
def test_a_command_within_a_line_is_one(page: str) -> None:
    text = BLOCK.sub("", (PAGES / page).read_text(encoding="utf-8"))
    for typed in INLINE.findall(text):
        words = shlex.split(" ".join(typed.split()))
        if words == ["--version"]:  # the command's own option; it prints what only an installed package knows
            continue
        assert words[0] in DOES, f"{page}: stopscrew {typed}"
        output = io.StringIO()
        with contextlib.redirect_stdout(output), contextlib.redirect_stderr(output), contextlib.suppress(SystemExit):
            main([*words, "--help"])
        assert output.getvalue().startswith(f"usage: stopscrew {words[0]}"), output.getvalue()
        told = output.getvalue()
        assert all(word in told for word in words if word.startswith("--")), f"{page}: stopscrew {typed}"
