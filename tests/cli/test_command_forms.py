"""One way to choose a form in every command: ``--format``, else the ending of ``--out``; what contradicts ends it."""

from __future__ import annotations

import argparse
import io
import json
import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from kb.cli import main, parser
from kb.cli.commands import DOES
from kb.cli.output_files import ENDINGS

KETCH = "skerrow/ketch-47"
STARTS = {"html": b"<!doctype html>", "markdown": b"# ", "pdf": b"%PDF", "svg": b"<svg", "json": b"{"}
WRITERS = {
    "sheet": ([KETCH], ("html", "markdown", "pdf", "json")),
    "draw": ([KETCH, "rim"], ("svg", "json")),
    "tape": ([KETCH], ("svg", "pdf", "json")),
}
"""Commands that write files: what each is asked, and its forms, of which the first is the usual one."""
ANSWERING = [command for command in DOES if command != "completion"]  # that prints a script and nothing else
ANSWERS = (["text", "json"], ["text", "json", "sarif", "github"])


def leaves(command: str) -> list[argparse.ArgumentParser]:
    """The parsers of a command: one, or one for each of its parts."""
    (top,) = (action for action in parser(command)._actions if isinstance(action, argparse._SubParsersAction))
    found: argparse.ArgumentParser = top.choices[command]
    parts = [action for action in found._actions if isinstance(action, argparse._SubParsersAction)]
    return list(parts[0].choices.values()) if parts else [found]


def option(command: argparse.ArgumentParser, name: str) -> argparse.Action | None:
    return next((action for action in command._actions if name in action.option_strings), None)


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command says that ends as wrongly typed, with nothing written to standard output."""
    assert exit_code(words) == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err


def exit_code(words: Sequence[str]) -> object:
    """What the shell would see."""
    try:
        return main(words)
    except SystemExit as stopped:
        return stopped.code


@pytest.mark.parametrize("command", ANSWERING)
def test_every_command_has_a_format_and_json_is_short_for_one(command: str) -> None:
    for leaf in leaves(command):
        form, short = option(leaf, "--format"), option(leaf, "--json")
        assert form
        assert short
        assert (short.dest, short.const) == ("format", "json")
        if command in WRITERS:
            assert list(form.choices or ()) == list(WRITERS[command][1])
        else:
            assert list(form.choices or ()) in ANSWERS
            assert leaf._defaults["format"] == "text"


@pytest.mark.parametrize("command", ANSWERING)
def test_two_forms_at_once_are_refused(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    for leaf in leaves(command):
        form = option(leaf, "--format")
        assert form
        first, *_ = form.choices or ()
        words = leaf.prog.split()[1:]
        assert exit_code([*words, "--json", "--format", first]) == 2
        assert "not allowed with argument --json" in json.loads(capsys.readouterr().out)["message"]


WITH_BOOK = [leaf.prog.split()[1:] for command in DOES for leaf in leaves(command) if option(leaf, "--book")]


def test_most_commands_read_a_book() -> None:
    assert len(WITH_BOOK) >= 17


@pytest.mark.parametrize("words", WITH_BOOK, ids=" ".join)
@pytest.mark.parametrize("given", [("--specs", "a", "--book", "b"), ("--book=b", "--specs=a")])
def test_a_folder_and_a_compiled_book_at_once_are_refused(
    words: list[str], given: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    assert "not allowed with argument --" in refused(capsys, *words, *given)


WRITTEN = [(command, form) for command, (_, forms) in WRITERS.items() for form in forms]


@pytest.mark.parametrize(("command", "form"), WRITTEN)
def test_the_ending_says_the_form(command: str, form: str, tmp_path: Path) -> None:
    for ending in ENDINGS[form]:
        for named in ([], ["--format", form]):
            file = tmp_path / f"file{ending.upper()}"
            assert main([command, *WRITERS[command][0], *named, "--out", str(file)]) == 0
            assert file.read_bytes().startswith(STARTS[form])
            file.unlink()


@pytest.mark.parametrize(("command", "form"), WRITTEN)
def test_a_named_form_goes_to_a_file_of_any_other_name(command: str, form: str, tmp_path: Path) -> None:
    for name in ("file", "file.txt"):
        assert main([command, *WRITERS[command][0], "--format", form, "--out", str(tmp_path / name)]) == 0
        assert (tmp_path / name).read_bytes().startswith(STARTS[form])


@pytest.mark.parametrize(("command", "form"), WRITTEN)
def test_an_ending_that_means_another_form_is_refused(
    command: str, form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for meant, (ending, *_) in ENDINGS.items():
        if meant != form:
            words = [command, *WRITERS[command][0], "--format", form, "--out", str(tmp_path / f"file{ending}")]
            assert exit_code(words) == 2
            said = "".join(capsys.readouterr())
            assert f"its ending means {meant}, not {form}; write --out file{ENDINGS[form][0]}" in said
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("command", WRITERS)
@pytest.mark.parametrize("name", ["file", "file.txt", "html", ""])
def test_an_ending_that_says_nothing_is_refused(command: str, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    words, forms = WRITERS[command]
    said = refused(capsys, command, *words, "--out", name)
    for form in forms:
        assert f"{Path(name).stem}{ENDINGS[form][0]}" in said


@pytest.mark.parametrize(("command", "form"), WRITTEN)
def test_without_a_file_it_goes_to_standard_output(
    command: str, form: str, capfdbinary: pytest.CaptureFixture[bytes], tmp_path: Path
) -> None:
    words = [command, *WRITERS[command][0]]
    file = tmp_path / "file"
    assert main([*words, "--format", form, "--out", str(file)]) == 0
    capfdbinary.readouterr()
    assert main([*words, "--format", form]) == 0
    shown = capfdbinary.readouterr().out
    assert shown == file.read_bytes()
    if form == WRITERS[command][1][0]:
        assert main(words) == 0
        assert capfdbinary.readouterr().out == shown


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize("command", ["sheet", "tape"])
def test_a_pdf_does_not_go_to_a_terminal(
    command: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    terminal = Terminal()
    monkeypatch.setattr(sys, "stdout", terminal)
    assert exit_code([command, *WRITERS[command][0], "--format", "pdf"]) == 2
    assert terminal.getvalue() == ""
    assert "name a file" in capsys.readouterr().err


@pytest.mark.parametrize("asked", [["--json"], ["--format", "json"], ["--format=json"]])
@pytest.mark.parametrize(
    ("words", "code", "error"),
    [
        (["show", "skerrow/ketch-48"], 3, "FamilyNotFound"),
        (["show", KETCH, "--year", "soon"], 2, "Usage"),
        (["rule", "window-invertd"], 3, "LookUpError"),
        (["check", "--specs", "nowhere"], 5, "BookMissing"),
        (["draw", KETCH, "rim", "--margin", "40"], 4, "MarginTooWide"),
        (["sheet", KETCH, "--out", "sheet.pdf"], 2, "Usage"),
    ],
)
def test_errors_are_json_where_json_is_asked_for(
    words: list[str], code: int, error: str, asked: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code([*words, *asked]) == code
    assert json.loads(capsys.readouterr().out)["error"] == error
