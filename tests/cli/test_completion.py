"""Families, figures, states and options complete, in real shells: what is offered, and what Tab makes of a line."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from kb.book.store.writing import write_store
from kb.cli import main
from kb.cli.commands import DOES
from tests.support.asked_book import asked_book, asked_files
from tests.support.folders import ROOT
from tests.support.shells import terminal

FAMILIES = ["skerrow/example", "skerrow/other"]
STATES = ["cranking", "running", "static", "at-rest"]
OFFERED = [
    # the line up to the cursor, with BOOK for a compiled book; what is offered
    ("", list(DOES)),
    ("s", ["sheet", "show", "site"]),
    ("--v", ["--version "]),
    ("show BOOK ", ["pellwater/", "skerrow/"]),
    ("show BOOK sk", FAMILIES),
    ("show BOOK skerrow/o", ["skerrow/other "]),
    ("show BOOK pellwater/g", ["pellwater/gale", "pellwater/gale-late", "pellwater/gust"]),
    ("show BOOK nobody/", []),
    ("sheet BOOK sk", FAMILIES),
    ("piston BOOK sk", FAMILIES),
    ("piston BOOK skerrow/example ", []),
    ("cylinders BOOK sk", FAMILIES),
    ("premix BOOK --family sk", FAMILIES),
    ("find BOOK sk", []),
    ("plates ", []),
    ("show BOOK skerrow/example t", ["throttle-pickup", "trigger-gap"]),
    ("show BOOK skerrow/example max-advance ", []),
    ("show BOOK nobody/at-all ", []),
    ("aim BOOK skerrow/example ", ["idle-timing", "max-advance", "throttle-pickup"]),
    ("judge BOOK skerrow/example ", ["idle-timing", "max-advance", "throttle-pickup"]),
    ("turn BOOK skerrow/example m", ["max-advance "]),
    ("turn BOOK skerrow/example max-advance ", []),
    ("show BOOK pellwater/squall max-advance --state ", ["cranking", "running"]),
    ("show BOOK pellwater/squall max-advance --state=r", ["running "]),
    ("turn BOOK pellwater/squall max-advance --state ", ["cranking", "running"]),
    ("show BOOK pellwater/squall throttle-pickup --state ", ["cranking", "running"]),
    ("show BOOK pellwater/squall --state ", STATES),
    ("show BOOK pellwater/squall idle-speed --gear ", ["in-gear", "neutral"]),
    ("show BOOK pellwater/squall idle-speed --engine ", ["cold "]),
    ("show BOOK pellwater/squall idle-speed --serial ", []),
    ("sheet BOOK skerrow/example --state ", ["cranking", "running", "static"]),
    ("aim BOOK skerrow/example max-advance --m", ["--margin", "--module"]),
    ("show --s", ["--serial", "--specs", "--state"]),
    ("draw BOOK skerrow/example ", ["rim", "running"]),
    ("sheet --lo", ["--long "]),
    ("sheet --format ", ["html", "json", "markdown", "pdf"]),
    ("check --format=s", ["sarif "]),
    ("check --json --f", []),
    ("rule window-i", ["window-inverted "]),
    ("site ", ["build", "serve"]),
    ("site build --a", ["--address "]),
    ("completion ", ["bash", "fish", "zsh"]),
    ("show --specs specs sk", FAMILIES),
    ("show --specs specs skerrow/example max", ["max-advance "]),
    ("show --specs specs skerrow/example max-advance --state ", STATES),
    ("show --specs nowhere sk", []),
    ("check --specs sp", ["specs/"]),
    ("show --book as", ["asked.book "]),
    ("show --book nowhere sk", []),
    ("show --book specs/retired.yaml sk", []),
]
IN_BASH = """
source <(stopscrew completion bash)
completer=$(complete -p stopscrew | sed 's/.*-F \\([^ ]*\\) .*/\\1/')
while IFS= read -r COMP_LINE; do
    COMP_POINT=${#COMP_LINE} COMPREPLY=()
    $completer stopscrew
    (IFS=$'\\t'; echo "${COMPREPLY[*]}")
done
"""
TYPED = [
    ("show BOOK skerrow/oth", "show BOOK skerrow/other "),
    ("show BOOK skerrow/example trig", "show BOOK skerrow/example trigger-gap "),
    ("aim BOOK pellwater/squall max", "aim BOOK pellwater/squall max-advance "),
    ("show BOOK pellwater/squall max-advance --state c", "show BOOK pellwater/squall max-advance --state cranking "),
    ("show BOOK pellwater/squall max-advance --dead", "show BOOK pellwater/squall max-advance --dead"),
    ("sheet BOOK skerrow/example --dead", "sheet BOOK skerrow/example --dead-centre-reads "),
    ("check --form", "check --format "),
]
"""What is typed up to Tab, and the line that the shell makes of it."""
SWITCH_ON = {
    "bash": (
        ["bash", "--norc", "--noprofile", "-i"],
        "source <(stopscrew completion bash)\n"
        """bind -x '"\\C-x\\C-b": printf "<""<%s>""> " "$READLINE_LINE"; READLINE_LINE='\n""",
    ),
    "zsh": (
        ["zsh", "-f", "-i"],
        "autoload -U compinit; compinit -u -D\nsource <(stopscrew completion zsh)\n"
        """show() { print -rn -- "<""<$BUFFER>"">"; BUFFER= }; zle -N show; bindkey '^X^B' show\n""",
    ),
}
"""How each is started with nothing of a person's own, and what it reads: then a key shows the line and clears it."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where the shells stand: a compiled book, its folder, and the command on their path."""
    folder = tmp_path_factory.mktemp("completion")
    write_store(folder / "asked.book", asked_book())
    for file, raw in {**asked_files(), "retired.yaml": b""}.items():
        (folder / "specs" / file).parent.mkdir(parents=True, exist_ok=True)
        (folder / "specs" / file).write_bytes(raw)
    (folder / "bin").mkdir()
    command = folder / "bin" / "stopscrew"
    command.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m kb.cli "$@"\n')
    command.chmod(0o755)
    return folder


@pytest.fixture(scope="module")
def environment(folder: Path) -> Mapping[str, str]:
    path = f"{folder / 'bin'}{os.pathsep}{os.environ['PATH']}"
    return {"PATH": path, "PYTHONPATH": str(ROOT), "HOME": str(folder), "TERM": "xterm", "LC_ALL": "C.UTF-8"}


def require(shell: str) -> None:
    """Do nothing where there is such a shell; else skip, and say so."""
    if not shutil.which(shell):
        pytest.skip(f"there is no {shell} on this machine (on Debian: apt install {shell})")


def line(words: str) -> str:
    """A whole line of the table's words."""
    return f"stopscrew {words.replace('BOOK', '--book asked.book')}"


@pytest.fixture(scope="module")
def offered(folder: Path, environment: Mapping[str, str]) -> Mapping[str, list[str]]:
    """What bash is offered, by line."""
    require("bash")
    lines = [line(words) for words, _ in OFFERED]
    command = ["bash", "--norc", "--noprofile", "-c", IN_BASH]
    typed = "".join(f"{one}\n" for one in lines)
    ran = subprocess.run(command, input=typed, capture_output=True, text=True, check=True, cwd=folder, env=environment)
    assert ran.stderr == ""
    answers = ran.stdout.split("\n")
    assert len(answers) == len(lines) + 1
    return {one: answer.split("\t") if answer else [] for one, answer in zip(lines, answers, strict=False)}


@pytest.mark.parametrize(("words", "wanted"), OFFERED, ids=[words or "nothing" for words, _ in OFFERED])
def test_what_bash_is_offered(words: str, wanted: list[str], offered: Mapping[str, list[str]]) -> None:
    assert sorted(offered[line(words)]) == sorted(wanted)


@pytest.mark.parametrize("shell", SWITCH_ON)
def test_tab_completes_the_line(shell: str, folder: Path, environment: Mapping[str, str]) -> None:
    require(shell)
    command, switch_on = SWITCH_ON[shell]
    with terminal(["env", "-C", str(folder), *command], environment) as screen:
        screen.type(f"{switch_on}echo RE''ADY\n")
        screen.wait_for("READY")
        for typed, wanted in TYPED:
            screen.type(f"{line(typed)}\t\x18\x02")
            assert screen.wait_for("<<(.*?)>>")[1] == line(wanted)


@pytest.mark.parametrize(("typed", "wanted"), TYPED)
def test_fish_is_offered_the_same(typed: str, wanted: str, folder: Path, environment: Mapping[str, str]) -> None:
    require("fish")
    script = f"stopscrew completion fish | source; complete -C {shlex.quote(line(typed))}"
    ran = subprocess.run(
        ["fish", "--no-config", "-c", script], capture_output=True, text=True, check=True, cwd=folder, env=environment
    )
    offered = [candidate.split("\t")[0] for candidate in ran.stdout.splitlines()]
    assert offered == ([] if typed == wanted else [wanted.split()[-1]])


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_help_says_how_to_switch_it_on(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["completion", "--help"])
    assert stopped.value.code == 0
    assert f"stopscrew completion {shell}" in capsys.readouterr().out
    assert main(["completion", shell]) == 0
    assert "_ARGCOMPLETE" in capsys.readouterr().out
