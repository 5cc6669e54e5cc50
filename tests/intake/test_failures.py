"""A rule or a model that raises is a finding that names it, the file and the line of the program; the rest goes on."""

from __future__ import annotations

import importlib
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, NoReturn

import pytest

from kb.errors import InternalError
from kb.finding import INTERNAL_ERROR, WHOLE_FILE, Finding, Severity
from kb.intake import compiling
from kb.intake.check import one_file
from kb.intake.check.failures import failed
from kb.intake.check.whole_book import check_files
from kb.intake.check.whole_folder import check_folder
from kb.intake.compiling import book_in_memory, compile_book, open_folder
from kb.intake.models.parsing import validate_document
from kb.intake.rules import OWN_FAULTS, rules
from tests.support.edits import Book
from tests.support.example_book import example_book, lay
from tests.support.folders import ROOT

ONE_FAILS = {
    "text": "syntax",
    "typing": "window-inverted",
    "file": "memory-only",
    "maker": "serials-overlap",
    "book": "linkage-repeated",
    "exceptions": "exception-not-needed",
}
"""A rule of each kind, of which the first bad example makes it speak."""

KINDS = sorted(ONE_FAILS)
FAMILY, OTHER = FAMILIES = ["families/skerrow/example.yaml", "families/skerrow/other.yaml"]


def stop(*_: Any, **__: Any) -> NoReturn:
    raise KeyError("conditions")


def files_of(rule: str) -> dict[str, bytes]:
    """The example book with the rule's first bad example, and with a fault for another rule beside it."""
    files = lay(rules()[rule].bad[0])
    files["sources/other.yaml"] = b"name: [\n"
    return files


def others(findings: list[Finding], rule: str) -> list[Finding]:
    """The findings of other rules than this, and after a failure without exceptions that seem not to be needed."""
    return [found for found in findings if found.rule not in (rule, INTERNAL_ERROR, "exception-not-needed")]


def failures(findings: list[Finding]) -> list[Finding]:
    return [found for found in findings if found.rule == INTERNAL_ERROR]


def break_line(rule: str, monkeypatch: pytest.MonkeyPatch, name: str = "Slip") -> None:
    """Make the lines of a rule's module raise that use this name."""
    module = importlib.import_module(f"kb.intake.rules.{rule.replace('-', '_')}")
    monkeypatch.setattr(module, name, stop, raising=False)


@pytest.fixture
def replaced() -> Iterator[Any]:
    """Replace the check of a rule until the test has ended; others may hold the rule already."""
    before: dict[str, Any] = {}

    def replace(rule: str, check: Any) -> None:
        before.setdefault(rule, rules()[rule].check)
        object.__setattr__(rules()[rule], "check", check)

    yield replace
    for rule, check in before.items():
        object.__setattr__(rules()[rule], "check", check)


def on_disk(files: Mapping[str, bytes], place: Path) -> Book:
    book = Book(place, seed=1)
    for file in book.files.keys() - files.keys():
        book.remove(file)
    for file, raw in files.items():
        book.write(file, raw)
    return book


def test_every_kind_of_rule_has_a_row() -> None:
    assert {rule.reads for rule in rules().values()} == {*KINDS, OWN_FAULTS}
    assert all(rules()[rule].reads == kind for kind, rule in ONE_FAILS.items())


def test_the_rule_of_failures_alone_has_no_examples() -> None:
    """No file can be one: whatever it says, the program must not stop."""
    assert [rule.id for rule in rules().values() if not rule.bad or not rule.good] == [INTERNAL_ERROR]
    assert rules()[INTERNAL_ERROR].severity is Severity.ERROR
    assert not rules()[INTERNAL_ERROR].can_warn


@pytest.mark.parametrize("kind", KINDS)
def test_a_rule_that_raises_is_named_with_its_line(kind: str, monkeypatch: pytest.MonkeyPatch) -> None:
    rule = ONE_FAILS[kind]
    files = files_of(rule)
    sound = check_files(files)
    assert any(found.rule == rule for found in sound)
    break_line(rule, monkeypatch)
    found = check_files(files)
    failure = failures(found)[0]
    assert {one.what for one in failures(found)} == {failure.what}
    assert failure.place == WHOLE_FILE
    assert failure.severity is Severity.ERROR
    several = FAMILIES if kind == "maker" else files if kind == "book" else ()
    assert failure.file in {one.file for one in sound if one.rule == rule} | set(several)
    assert failure.what.startswith(f"the rule {rule}")
    assert "stopped with KeyError: 'conditions' (" in failure.what
    line = re.search(r"\((kb/intake/rules/\w+\.py):(\d+)\)$", failure.what)
    assert line
    assert "Slip(" in (ROOT / line[1]).read_text().splitlines()[int(line[2]) - 1]
    assert others(found, rule) == others(sound, rule) != []


@pytest.mark.parametrize("kind", KINDS)
def test_what_a_rule_found_before_it_raised_is_kept(kind: str, replaced: Any) -> None:
    rule = ONE_FAILS[kind]
    files = files_of(rule)
    sound = check_files(files)
    check = rules()[rule].check

    def half(*arguments: Any) -> Iterator[Any]:
        yield from check(*arguments)
        stop()

    replaced(rule, half)
    found = check_files(files)
    assert failures(found)
    assert others(found, rule) == others(sound, rule)
    if kind != "exceptions":  # after a failure none is said to be unneeded
        assert [one for one in found if one.rule == rule] == [one for one in sound if one.rule == rule]


def test_a_rule_that_fails_at_one_file_still_reads_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    rule = rules()["memory-only"]
    files = lay(rule.bad[0])
    files["families/skerrow/twin.yaml"] = files[FAMILY].replace(b"Example 31", b"Example 32")
    check = rule.check

    def at_the_twin(case: Any) -> Iterator[Any]:
        if case.id.endswith("twin"):
            stop()
        yield from check(case)

    before = [found.file for found in check_files(files) if found.rule == rule.id]
    assert before == [FAMILY, "families/skerrow/twin.yaml"]
    object.__setattr__(rule, "check", at_the_twin)
    try:
        found = check_files(files)
    finally:
        object.__setattr__(rule, "check", check)
    assert [one.file for one in found if one.rule == rule.id] == [FAMILY]
    assert [one.file for one in failures(found)] == ["families/skerrow/twin.yaml"]


@pytest.mark.parametrize("facts", [{}, 0, "not a pair", (FAMILY, None)], ids=str)
@pytest.mark.parametrize("kind", KINDS)
def test_what_is_no_slip_is_a_failure_of_the_rule(kind: str, facts: Any, replaced: Any) -> None:
    files = files_of(ONE_FAILS[kind])
    replaced(ONE_FAILS[kind], lambda *_: iter([facts]))
    assert failures(check_files(files))


def test_facts_that_can_not_be_extracted_are_reported_once_and_not_guessed(monkeypatch: pytest.MonkeyPatch) -> None:
    """The source that the family cites is not called unused because the family could not be asked."""
    files = dict(example_book())
    assert check_files(files) == []
    break_line("source-unused", monkeypatch, "sorted")
    found = check_files(files)
    assert [(one.file, one.rule) for one in found] == [(family, INTERNAL_ERROR) for family in FAMILIES]
    assert re.search(
        r"the rule source-unused stopped with .* \(kb/intake/rules/source_unused\.py:\d+\)$", found[0].what
    )


def test_an_exception_for_what_a_failed_rule_warns_of_is_not_called_unneeded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files = lay(rules()["source-unused"].good[2])
    assert b"rule: source-unused" in files["sources/spare.yaml"]
    assert check_files(files) == []
    break_line("source-unused", monkeypatch)
    assert [one.rule for one in check_files(files)] == [INTERNAL_ERROR]
    book = on_disk(files, tmp_path / "specs")
    assert [one.rule for one in check_folder(book.folder, jobs=1)] == [INTERNAL_ERROR]


def test_no_exception_accepts_a_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    files = lay(rules()["memory-only"].bad[0])
    accepted = b"exceptions:\n  - {rule: internal-error, because: we know}\n"
    files[FAMILY] += accepted
    assert [one.rule for one in check_files(files) if one.rule == "unknown-rule"]
    break_line("memory-only", monkeypatch)
    assert len(failures(check_files(files))) == 1


def test_a_model_that_raises_is_a_finding_of_its_file(monkeypatch: pytest.MonkeyPatch) -> None:
    def failing(kind: str, *rest: Any) -> Any:
        return stop() if kind == "family" else validate_document(kind, *rest)

    monkeypatch.setattr(one_file, "validate_document", failing)
    found = failures(check_files(example_book()))
    assert [one.file for one in found] == FAMILIES
    assert "the model of a family stopped with KeyError: 'conditions'" in found[0].what


def test_exceptions_that_can_not_be_read_are_a_finding(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(one_file, "_covered_paths", stop)
    files = lay(rules()["source-unused"].good[2])
    assert [one.file for one in failures(check_files(files))] == ["sources/spare.yaml"]


@pytest.mark.parametrize("kind", [*KINDS, "facts"])
def test_nothing_is_kept_of_a_check_that_failed(kind: str, tmp_path: Path) -> None:
    """From nothing or after a sound check: twice the same failure, and a clean result when the rule is mended."""
    rule, name = ("source-unused", "sorted") if kind == "facts" else (ONE_FAILS[kind], "Slip")
    files = files_of(rule)
    files.update({family: files[family] + b"# a note\n" for family in FAMILIES})
    sound = check_files(files)
    book = on_disk(example_book(), tmp_path / "specs")
    after = tmp_path / "after.cache"
    assert check_folder(book.folder, after, jobs=1) == []
    for file, raw in files.items():
        book.write(file, raw)
    with pytest.MonkeyPatch.context() as patch:
        break_line(rule, patch, name)
        found = check_files(files)
        assert failures(found)
        for cache in (tmp_path / "new.cache", after):
            assert check_folder(book.folder, cache, jobs=1) == found
            assert check_folder(book.folder, cache, jobs=1) == found
        assert check_folder(book.folder, None, jobs=1) == found
    for cache in (tmp_path / "new.cache", after):
        assert check_folder(book.folder, cache, jobs=1) == sound


@pytest.mark.parametrize("kind", KINDS)
def test_an_empty_folder_makes_no_rule_fail(kind: str, replaced: Any, tmp_path: Path) -> None:
    replaced(ONE_FAILS[kind], stop)
    (tmp_path / "specs").mkdir()
    assert check_folder(tmp_path / "specs", tmp_path / "cache") == check_files({}) == []


def test_a_rule_of_the_book_that_reads_names_alone_names_a_file(replaced: Any) -> None:
    (rule, *_) = [one for one in rules().values() if one.reads == "book" and one.extract_facts is None]
    replaced(rule.id, stop)
    files = example_book()
    (found,) = check_files(files)
    assert found.file == min(files)
    assert found.what.startswith(f"the rule {rule.id}, which reads {len(files)} files from this one on, stopped with")


def test_a_book_is_not_made_of_an_older_state_when_a_rule_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the cache kept of a sound check is not taken for what the folder says now."""
    book = on_disk(example_book(), tmp_path / "specs")
    out, cache = tmp_path / "out.book", tmp_path / "cache"
    compile_book(book.folder, out, cache, jobs=1)
    good = out.read_bytes()
    book.write(FAMILY, lay(rules()["memory-only"].bad[0])[FAMILY])
    break_line("memory-only", monkeypatch)
    words = (
        rf"the check itself has failed, so nothing is compiled; first at specs/{FAMILY}: the rule memory-only stopped "
        r"with KeyError: 'conditions' \(kb/intake/rules/memory_only\.py:\d+\); report it"
    )
    for make in (
        lambda: compile_book(book.folder, out, cache, jobs=1),
        lambda: compile_book(book.folder, out, None, jobs=1),
        lambda: open_folder(book.folder, cache, jobs=1),
    ):
        with pytest.raises(InternalError, match=words) as raised:
            make()
        assert len(failures([one for one in raised.value.findings if isinstance(one, Finding)])) == 1
    with pytest.raises(InternalError, match="first at families/"):
        book_in_memory(book.files)
    assert out.read_bytes() == good
    monkeypatch.undo()
    assert compile_book(book.folder, out, cache, jobs=1).warnings


@pytest.mark.parametrize("error", [ValueError("exactly one unit is needed, not none"), KeyError("rod"), TypeError()])
def test_compiling_that_raises_is_no_fault_of_the_folder(
    error: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def raising(*_: Any) -> NoReturn:
        raise error

    monkeypatch.setattr(compiling, "write_store", raising)
    book = on_disk(example_book(), tmp_path / "specs")
    with pytest.raises(InternalError, match=f"has no errors, and yet compiling stopped with {type(error).__name__}"):
        compile_book(book.folder, tmp_path / "out.book", jobs=1)
    assert not (tmp_path / "out.book").exists()


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (KeyError("conditions"), "the part stopped with KeyError: 'conditions' (no line is known)"),
        (TypeError(), "the part stopped with TypeError (no line is known)"),
        (
            ValueError("one\n  line\tof three\n"),
            "the part stopped with ValueError: one line of three (no line is known)",
        ),
        (ValueError("x" * 300), f"the part stopped with ValueError: {'x' * 200} ... (no line is known)"),
    ],
)
def test_the_words_of_a_failure_are_one_short_line(error: Exception, words: str) -> None:
    assert failed(FAMILY, "the part", error).what == words
