"""A rule, a reporter or compiling that fails: exit code 6, whatever else was found, and no finding is lost."""

from __future__ import annotations

import json
import re
import shutil
from importlib import import_module
from pathlib import Path
from typing import Any, NoReturn

import pytest

from kb.cli import FAILED, main
from kb.errors import QuantityError
from kb.intake import compiling
from tests.support.folders import FROZEN
from tests.support.scratch import Scratch

KETCH = Path("families", "skerrow", "ketch-47.yaml")
FAULT = ("atdc: [4, 6]", "atdc: [6, 4]")
LOOK_UP = ("show", "skerrow/ketch-47", "max-advance", "--state", "cranking")


def stop(*_: Any, **__: Any) -> NoReturn:
    raise QuantityError("exactly one unit is needed, not none")


@pytest.fixture
def specs(tmp_path: Path) -> Path:
    """A sound book."""
    place = tmp_path / "specs"
    shutil.copytree(FROZEN, place)
    return place


def spoil(specs: Path) -> None:
    """A fault that a rule reports."""
    family = specs / KETCH
    family.write_text(family.read_text().replace(*FAULT, 1))


def break_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    """A rule that raises at every family."""
    monkeypatch.setattr(import_module("kb.intake.rules.memory_only"), "one_per_place", stop)


@pytest.mark.parametrize("faulty", [False, True], ids=["sound", "faulty"])
@pytest.mark.parametrize("form", ["text", "json", "sarif", "github"])
@pytest.mark.parametrize("strict", [[], ["--strict"]], ids=["", "strict"])
def test_a_rule_that_fails_makes_the_check_exit_with_6(
    specs: Path,
    faulty: bool,
    form: str,
    strict: list[str],
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    break_rule(monkeypatch)
    if faulty:
        spoil(specs)
    assert main(["check", "--specs", str(specs), "--format", form, *strict]) == FAILED == 6
    printed = capsys.readouterr()
    assert not printed.err
    if form in ("json", "sarif"):
        json.loads(printed.out)
    assert re.search(r"memory-only stopped with QuantityError.*kb/intake/rules/memory_only\.py.*\d+", printed.out)
    assert "ketch-47.yaml" in printed.out
    assert ("window-inverted" in printed.out) == faulty


@pytest.mark.parametrize("words", [("compile",), LOOK_UP, ("site", "build")], ids=["compile", "show", "site"])
def test_every_command_that_checks_exits_with_6(
    words: tuple[str, ...],
    specs: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    break_rule(monkeypatch)
    spoil(specs)
    out = tmp_path / "out"
    where = [] if words == LOOK_UP else ["--out", str(out)]
    assert main([*words, "--specs", str(specs), *where]) == FAILED
    printed = capsys.readouterr()
    assert "stopscrew: the check itself has failed, so nothing is compiled; first at specs/" in printed.err
    assert "memory-only stopped with QuantityError: exactly one unit is needed, not none (kb/intake/" in printed.err
    assert not out.exists()
    assert main([*words, "--specs", str(specs), *where, "--json"]) == FAILED
    assert json.loads(capsys.readouterr().out)["error"] == "InternalError"


@pytest.mark.parametrize(
    ("form", "module", "breaks"),
    [
        ("text", "text", "_block"),
        ("json", "json", "as_json"),
        ("sarif", "sarif", "_result"),
        ("github", "github", "_command"),
        ("text", "text", "summary"),
        ("github", "wording", "counted"),
    ],
)
@pytest.mark.parametrize("faulty", [False, True], ids=["sound", "faulty"])
def test_a_reporter_that_fails_loses_no_finding(
    form: str,
    module: str,
    breaks: str,
    faulty: bool,
    specs: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(import_module(f"kb.intake.reporters.{module}"), breaks, stop)
    if faulty:
        spoil(specs)
        (specs / "sources" / "a\x1bb.yaml").write_bytes(b"title: [\n")
    code = main(["check", "--specs", str(specs), "--format", form])
    printed = capsys.readouterr()
    if not faulty and breaks not in ("summary", "counted"):  # nothing to print, and nothing fails
        assert (code, printed.err) == (0, "")
        return
    assert code == FAILED
    assert printed.out == ""
    assert "\x1b" not in printed.err
    *findings, failure = printed.err.splitlines()
    assert re.search(
        rf"error: the reporter {form} stopped with QuantityError: exactly one unit is needed, not none "
        rf"\(kb/intake/reporters/\w+\.py:\d+\); .* \(internal-error\)$",
        failure,
    )
    assert bool(findings) == faulty
    if faulty:
        assert any(re.search(r"ketch-47\.yaml:\d+:\d+: error: .*; .* \(window-inverted\)$", line) for line in findings)
        assert any("\\x1b" in line for line in findings)


def test_the_finding_that_a_reporter_can_not_print_is_named(
    specs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    module = import_module("kb.intake.reporters.json")
    as_json = module.as_json
    monkeypatch.setattr(module, "as_json", lambda one, *rest: stop() if "z.yaml" in one.file else as_json(one, *rest))
    spoil(specs)
    (specs / "sources" / "z.yaml").write_bytes(b"title: [\n")
    assert main(["check", "--specs", str(specs), "--json"]) == FAILED
    failure = capsys.readouterr().err.splitlines()[-1]
    assert failure.startswith(f"{specs}/sources/z.yaml:1:1: error: the reporter json stopped")


def test_a_reporter_that_fails_for_the_site_loses_no_finding(
    specs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(import_module("kb.intake.reporters.text"), "_block", stop)
    spoil(specs)
    assert main(["site", "build", "--specs", str(specs), "--out", str(tmp_path / "site")]) == FAILED
    printed = capsys.readouterr().err
    assert "(window-inverted)" in printed
    assert "the reporter text stopped with QuantityError" in printed


def test_compiling_that_raises_is_no_wrong_usage(
    specs: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(compiling, "write_store", stop)
    assert main(["compile", "--specs", str(specs), "--out", str(tmp_path / "out.book")]) == FAILED
    said = capsys.readouterr().err
    assert "has no errors, and yet compiling stopped with QuantityError: exactly one unit is needed, not none" in said
    assert not (tmp_path / "out.book").exists()


def test_the_help_says_what_6_means(capsys: pytest.CaptureFixture[str]) -> None:
    for words in (["--help"], ["check", "--help"]):
        with pytest.raises(SystemExit):
            main(words)
        assert re.search(r"\b6 a rule or a reporter\b.* failed", capsys.readouterr().out)


RULES = "kb/intake/rules/{}.py"
BROKEN = {
    RULES.format("memory_only"): ("return one_per_place(", 'raise KeyError("conditions")\n    return one_per_place('),
    RULES.format("source_unused"): ("used: set[str] = set()\n    for fact", "used: set[str] = None\n    for fact"),
}
ON_ALL_CORES = (("_FEW = 200", "_FEW = 10"), ("_CHUNK = 32", "_CHUNK = 4"))


@pytest.fixture(scope="module")
def tree(tmp_path_factory: pytest.TempPathFactory) -> Scratch:
    """A copy of the program in which even a small book is checked on several cores, of which two rules are broken."""
    scratch = Scratch(tmp_path_factory.mktemp("failures") / "tree")
    shutil.rmtree(scratch.place / "specs")
    shutil.copytree(FROZEN, scratch.place / "specs")
    scratch.change({"kb/intake/check/parallel.py": ON_ALL_CORES})
    scratch.change({file: (edit,) for file, edit in BROKEN.items()})
    return scratch


def test_rules_broken_in_the_program_fail_on_every_core_until_they_are_mended(tree: Scratch) -> None:
    families = sorted(file.relative_to(tree.place) for file in tree.place.glob("specs/families/*/*.yaml"))
    first = tree.run("kb.cli", "check", "--jobs", "3", code=FAILED)
    for family in families:
        assert re.search(rf"{family}:1:1: error: the rule memory-only stopped with KeyError: 'conditions' ", first)
    for file, (_, new) in BROKEN.items():
        number = (tree.place / file).read_text().partition(new)[0].count("\n") + 1
        assert re.search(rf"\({file}:{number + (2 if 'unused' in file else 0)}\)", first), first
    assert tree.run("kb.cli", "check", "--jobs", "3", code=FAILED) == first
    assert tree.run("kb.cli", "check", "--jobs", "1", "--no-cache", code=FAILED) == first
    assert "nothing is compiled" in tree.run("kb.cli", "compile", code=FAILED)
    assert not (tree.place / "build" / "stopscrew.book").exists()
    tree.change({file: ((new, old),) for file, (old, new) in BROKEN.items()})
    assert tree.run("kb.cli", "check", "--jobs", "3").startswith("nothing found in ")
