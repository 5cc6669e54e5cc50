"""A look-up starts quickly: nothing heavy is imported on its way, and less where less is asked."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from kb.book.store.writing import write_store
from tests.support.asked_book import asked_book
from tests.support.folders import ROOT

HEAVY = {
    "pydantic",
    "pydantic_core",
    "yaml",
    "mkdocs",
    "rich",
    "jinja2",
    "markdown",
    "jsonschema",
    "ruamel",
    "argcomplete",
    "typst",
    "segno",
}
SLOW = {"dataclasses", "inspect", "typing", "pathlib", "fractions", "decimal", "hashlib", "difflib", "urllib"}
"""Of the standard library: what takes long to import beside what a look-up does."""
LIGHT = {
    "kb",
    "kb.errors",
    "kb.frozen",
    "kb.vocabulary",
    "kb.vocabulary.words",
    "kb.vocabulary.evidence",
    "kb.book",
} | {
    f"kb.book.{name}"
    for name in (
        "book",
        "lookup",
        "lookup.answer_parts",
        "lookup.conditions",
        "lookup.look_up",
        "lookup.which_family",
        "model",
        "model.answer",
        "model.book_reader",
        "model.catalogue",
        "model.engine_kinds",
        "model.engine_on_the_stand",
        "model.engine_ranges",
        "model.family",
        "store",
        "store.compiled",
        "store.file_format",
        "store.lazy_catalogue",
        "store.opening",
    )
}
"""What of ours a look-up may import."""


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("light") / "asked.book"
    write_store(path, asked_book())
    return path


def modules(command: str, path: Path) -> set[str]:
    """What is imported when a command has run in a fresh interpreter, beyond what that imports by itself."""
    told = "; import sys; print(); print(*sys.modules)"
    bare, done = (
        subprocess.run(
            [sys.executable, "-I", "-c", f"import sys; sys.path.insert(0, {str(ROOT)!r}); {text}{told}"],
            capture_output=True,
            text=True,
            check=True,
        )
        .stdout.splitlines()[-1]
        .split()
        for text in ("pass", command.format(path=str(path)))
    )
    return set(done) - set(bare)


LOOK_UPS = [
    ("plain", "kb.open_book({path!r}).look_up('skerrow/example', 'trigger-gap').to_document()"),
    ("state", "kb.open_book({path!r}).look_up('skerrow/example', 'max-advance', 'cranking').evidence"),
    ("condition", "kb.open_book({path!r}).look_up('pellwater/squall', 'idle-speed', gear='in-gear').how_sure"),
    ("serial", "kb.open_book({path!r}).look_up('pellwater/squall', 'max-advance', 'cranking', serial=6500).printed"),
    ("heading", "kb.open_book({path!r}).get_heading('pellwater/squall').fits"),
    ("family", "kb.open_book({path!r}).family('pellwater/squall').document"),
]


@pytest.mark.parametrize(("what", "command"), LOOK_UPS, ids=[row[0] for row in LOOK_UPS])
def test_a_look_up_imports_nothing_heavy(what: str, command: str, path: Path) -> None:
    found = modules(f"import kb; {command}", path)
    assert not {name.partition(".")[0] for name in found} & (HEAVY | SLOW)
    assert {name for name in found if name.partition(".")[0] == "kb"} <= LIGHT


@pytest.mark.parametrize(
    "arguments",
    [
        ["show", "--book", "{path}", "skerrow/example", "trigger-gap"],
        ["show", "--book", "{path}", "--json", "pellwater/squall", "max-advance", "--state=cranking", "--serial=6500"],
        ["show", "--book", "{path}", "skerrow/example"],
        ["find", "--book", "{path}", "example"],
        [
            "aim",
            "--book",
            "{path}",
            "skerrow/example",
            "max-advance",
            "--state=cranking",
            "--margin=1",
            "--dead-centre-reads=2 before",
        ],
        ["aim", "--book", "{path}", "--json", "skerrow/example", "throttle-pickup"],
        ["judge", "--book", "{path}", "skerrow/example", "max-advance", "26 before", "--state=cranking"],
        ["job", "--book", "{path}", "skerrow/example"],
        ["--help"],
    ],
)
def test_a_command_imports_nothing_heavy(arguments: list[str], path: Path) -> None:
    argv = ["stopscrew", *(str(path) if argument == "{path}" else argument for argument in arguments)]
    command = f"sys.argv = {argv!r}\nfrom kb.cli import main\ntry: main()\nexcept SystemExit: pass\npass"
    found = modules(command, path)
    assert not {name.partition(".")[0] for name in found} & HEAVY
    assert not any(name.startswith(("kb.intake", "kb.publish")) for name in found)


def test_importing_the_public_list_imports_only_errors(path: Path) -> None:
    assert {name for name in modules("import kb", path) if name.startswith("kb")} == {"kb", "kb.errors"}
