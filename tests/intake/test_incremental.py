"""Checking what has changed gives what checking everything gives; and the cache may be lost, damaged or shared."""

from __future__ import annotations

import json
import os
import random
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path

import pytest

from kb.errors import BookError, BookMissing
from kb.finding import Finding
from kb.intake.check import folder, incremental, parallel, whole_folder
from kb.intake.check.kept.cache_file import Cache, Damaged
from kb.intake.check.kept.checker_version import checker_version
from kb.intake.check.one_file import FileResult, check_file
from kb.intake.check.whole_book import check_files
from kb.intake.check.whole_folder import check, check_folder
from kb.intake.facts.rule_context import RuleContext
from tests.support.edits import Book, small_book
from tests.support.samples import tries

EDITS = tries(70, 500)
LATER = 10_000_000_000  # nanoseconds


def shown(findings: list[Finding]) -> list[str]:
    return [f"{found.file}:{found.place}: {found}" for found in findings]


@pytest.fixture
def book(tmp_path: Path) -> Book:
    return Book(tmp_path / "specs", 1)


@pytest.fixture
def cache(tmp_path: Path) -> Path:
    return tmp_path / "build" / "check-cache.sqlite"


@pytest.fixture
def times_are_trusted(monkeypatch: pytest.MonkeyPatch) -> None:
    """As if every file had been written long before it is listed."""
    monkeypatch.setattr(whole_folder, "now", lambda: folder.now() + LATER)


@pytest.mark.parametrize("trusted", [True, False])
def test_after_each_edit_the_outcome_is_that_of_a_cold_run(
    trusted: bool, tmp_path: Path, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if trusted:
        monkeypatch.setattr(whole_folder, "now", lambda: folder.now() + LATER)
    book = Book(tmp_path / "specs", seed=7 if trusted else 8)
    done = []
    for number in range(EDITS // 2):
        done.append(book.edit())
        found = check_folder(book.folder, cache, jobs=1)
        assert shown(found) == shown(check_files(book.files)), done[-3:]
        if number % 50 == 0:
            assert found == check_folder(book.folder, None, jobs=1)
            assert found == check_folder(book.folder, cache, jobs=1)
    assert len({words.split()[0] for words in done}) > 12


def test_an_unchanged_folder_is_answered_without_a_model_a_rule_or_yaml(book: Book, cache: Path) -> None:
    script = (
        "import json, sys; from pathlib import Path; from kb.intake.check import whole_folder, folder;"
        "whole_folder.now = lambda: folder.now() + 10**10;"
        "found = whole_folder.check_folder(Path(sys.argv[1]), Path(sys.argv[2]));"
        "print(json.dumps([[str(one) for one in found], sorted(sys.modules)]))"
    )
    book.write("families/skerrow/other.yaml", b"name: [\n")

    def outcome() -> tuple[list[str], list[str]]:
        arguments = [sys.executable, "-c", script, str(book.folder), str(cache)]
        findings, modules = json.loads(subprocess.run(arguments, check=True, capture_output=True, text=True).stdout)
        return findings, modules

    first, heavy = outcome()
    second, light = outcome()
    assert first == second == [str(found) for found in check_files(book.files)]
    assert first
    assert {"pydantic", "yaml", "kb.intake.rules"} <= set(heavy)
    assert not [name for name in light if name.split(".")[0] in ("pydantic", "yaml", "multiprocessing")]
    assert not [name for name in light if name.startswith(("kb.intake.rules", "kb.intake.models", "kb.book"))]


@pytest.mark.usefixtures("times_are_trusted")
def test_only_what_an_edit_touches_is_examined(book: Book, cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    examined: list[str] = []

    def noting(file: str, raw: bytes, context: RuleContext) -> FileResult:
        examined.append(file)
        return check_file(file, raw, context)

    monkeypatch.setattr(parallel, "check_file", noting)
    check_folder(book.folder, cache, jobs=1)
    families = {file for file in book.files if file.startswith("families/")}
    assert families < set(examined)

    def after(file: str, raw: bytes) -> set[str]:
        examined.clear()
        book.write(file, raw)
        check_folder(book.folder, cache, jobs=1)
        return set(examined)

    family = "families/skerrow/example.yaml"
    assert after(family, book.files[family] + b"# a note\n") == {family}
    assert after("cautions/a-new-one.yaml", book.files["cautions/open-flywheel.yaml"]) == set()
    bench = book.files["sources/bench.yaml"]
    assert after("sources/bench.yaml", bench + b"year: 1990\n") == {"families/skerrow/other.yaml"}
    assert after("sources/new.yaml", bench) == set()
    assert after("catalogue/plug-gap.yaml", book.files["catalogue/plug-gap.yaml"] + b"# a note\n") == set()
    assert families <= after("catalogue/plug-gap.yaml", book.files["catalogue/plug-gap.yaml"].replace(b"1.8", b"1.7"))


def test_a_file_written_again_within_one_tick_is_read_again(
    book: Book, cache: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As a disk whose clock ticks once a second shows it: nothing in the stat tells the two writings apart."""
    listed = folder.list_files(book.folder)
    monkeypatch.setattr(whole_folder, "list_files", lambda _: listed)
    family = "families/skerrow/example.yaml"
    before = check_folder(book.folder, cache)
    book.write(family, book.files[family].replace(b"atdc: [4, 6]", b"atdc: [6, 4]"))
    after = check_folder(book.folder, cache)
    assert after != before
    assert after == check_files(book.files)


def test_marks_of_the_last_tick_are_not_trusted(book: Book) -> None:
    listed = folder.list_files(book.folder)
    fresh = folder.mark_files(book.folder, listed, folder.now())
    assert {fresh.mark(place) for place in range(len(fresh.files))} == {folder.UNSURE}
    settled = folder.mark_files(book.folder, listed, folder.now() + LATER)
    assert folder.UNSURE not in {settled.mark(place) for place in range(len(settled.files))}
    assert list(settled.files) == sorted(book.files)


@pytest.mark.usefixtures("times_are_trusted")
def test_a_cache_may_be_carried_to_another_folder(book: Book, cache: Path, tmp_path: Path) -> None:
    before = check_folder(book.folder, cache)
    elsewhere = tmp_path / "elsewhere"
    shutil.copytree(book.folder, elsewhere)
    assert check_folder(elsewhere, cache) == before
    family = elsewhere / "families/skerrow/example.yaml"
    family.write_bytes(family.read_bytes().replace(b"atdc: [4, 6]", b"atdc: [6, 4]"))
    assert check_folder(elsewhere, cache) != before
    assert check_folder(book.folder, cache) == before


def test_results_of_another_edition_are_not_used(book: Book, cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    before = check_folder(book.folder, cache)
    monkeypatch.setattr(incremental, "multi_file_rules", lambda: pytest.fail("results of this version are kept"))
    assert check_folder(book.folder, cache) == before
    monkeypatch.setattr(whole_folder, "checker_version", lambda: "another")
    with pytest.raises(pytest.fail.Exception, match="of this version"):
        check_folder(book.folder, cache)


def test_an_edition_is_told_by_source_and_versions() -> None:
    assert checker_version() == checker_version()
    assert len(checker_version()) == 32


def damage(path: Path, chance: random.Random) -> str:
    """Damage a file in one of the ways that disks, copies and people do."""
    raw = bytearray(path.read_bytes())
    kind = chance.choice(["bit", "bit", "bit", "cut", "zeroes", "noise", "page out", "grown", "empty", "none"])
    start = chance.randrange(len(raw))
    if kind == "bit":
        raw[start] ^= 1 << chance.randrange(8)
    elif kind == "cut":
        del raw[start:]
    elif kind == "zeroes":
        raw[start : start + 4096] = bytes(len(raw[start : start + 4096]))
    elif kind == "noise":
        raw[start : start + 64] = chance.randbytes(len(raw[start : start + 64]))
    elif kind == "page out":
        del raw[start // 4096 * 4096 : start // 4096 * 4096 + 4096]
    elif kind == "grown":
        raw += chance.randbytes(100)
    elif kind == "empty":
        raw.clear()
    path.write_bytes(raw)
    return f"{kind} at {start}"


@pytest.mark.usefixtures("times_are_trusted")
def test_a_damaged_cache_never_gives_a_wrong_result(book: Book, cache: Path) -> None:
    chance = random.Random(3)
    family = "families/skerrow/example.yaml"
    sound, broken = book.files[family], book.files[family].replace(b"atdc: [4, 6]", b"atdc: [6, 4]")
    wanted = {text: check_files({**book.files, family: text}) for text in (sound, broken)}
    assert wanted[sound] != wanted[broken]
    check_folder(book.folder, cache, jobs=1)
    for number in range(tries(45, 120)):
        what = damage(cache, chance)
        text = broken if number % 3 == 1 else sound
        if number % 3:
            book.write(family, text)
        assert check_folder(book.folder, cache, jobs=1) == wanted[book.files[family]], what
    assert Cache(cache, checker_version()).read(("final",))


def test_a_part_of_an_older_state_is_found_out(book: Book, cache: Path) -> None:
    """A row that is whole but stale, as a torn writing leaves it."""
    check_folder(book.folder, cache, jobs=1)
    with closing(sqlite3.connect(cache)) as connection:
        old = connection.execute("SELECT payload FROM part WHERE name = 'final'").fetchone()
    book.write("families/skerrow/other.yaml", b"name: [\n")
    found = check_folder(book.folder, cache, jobs=1)
    with closing(sqlite3.connect(cache)) as connection, connection:
        connection.execute("UPDATE part SET payload = ? WHERE name = 'final'", old)
    with pytest.raises(Damaged, match="final"):
        Cache(cache, checker_version()).read(("final",))
    assert check_folder(book.folder, cache, jobs=1) == found == check_files(book.files)


@pytest.mark.parametrize(
    "content", [b"name: not a cache\n", b"# \xc3\xa9\n" * 50, None], ids=["text", "more text", "somebody's database"]
)
def test_what_is_no_cache_is_left_alone(content: bytes | None, book: Book, tmp_path: Path) -> None:
    path = tmp_path / "precious"
    if content is None:
        with closing(sqlite3.connect(path)) as connection, connection:
            connection.execute("CREATE TABLE engines (serial TEXT)")
    else:
        path.write_bytes(content)
    before = path.read_bytes()
    assert check_folder(book.folder, path, jobs=1) == check_files(book.files)
    assert path.read_bytes() == before


def test_a_cache_that_cannot_be_written_stops_nothing(book: Book, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    assert check_folder(book.folder, tmp_path / "file" / "below", jobs=1) == check_files(book.files)
    assert check_folder(book.folder, tmp_path, jobs=1) == check_files(book.files)


def test_of_two_runs_at_once_neither_spoils_the_other(book: Book, cache: Path) -> None:
    script = (
        "import sys; from pathlib import Path; from kb.intake.check.whole_folder import check_folder\n"
        "for _ in range(12):\n"
        "    print(len(check_folder(Path(sys.argv[1]), Path(sys.argv[2]), jobs=1)), flush=True)\n"
    )
    book.write("families/skerrow/other.yaml", b"name: [\n")
    wanted = len(check_files(book.files))
    arguments = [sys.executable, "-c", script, str(book.folder), str(cache)]
    runs = [subprocess.Popen(arguments, stdout=subprocess.PIPE, text=True) for _ in range(3)]
    outputs = [process.communicate(timeout=120)[0].split() for process in runs]
    assert outputs == [[str(wanted)] * 12] * 3
    assert [process.returncode for process in runs] == [0, 0, 0]
    assert Cache(cache, checker_version()).read(("final",))
    assert [path.name for path in cache.parent.iterdir()] == [cache.name]


def test_another_process_may_write_between_two_readings(book: Book, cache: Path) -> None:
    check_folder(book.folder, cache, jobs=1)
    mine, other = Cache(cache, checker_version()), Cache(cache, checker_version())
    other.replace({"final": b"[]"})
    mine.replace({"final": b"[1]"})
    assert Cache(cache, checker_version()).read(("final",)) == {"final": b"[]"}
    with pytest.raises(Damaged, match="final"):
        mine.read(("final",))


def test_all_cores_find_what_one_finds(book: Book, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(parallel, "_FEW", 10)
    monkeypatch.setattr(parallel, "_CHUNK", 4)
    monkeypatch.setattr(parallel, "_SECONDS_TO_WAIT", 0.0)
    told: list[tuple[int, int]] = []
    book.write("families/skerrow/other.yaml", b"name: [\n")
    found = check_folder(book.folder, tmp_path / "cache", jobs=3, progress=lambda *counts: told.append(counts))
    assert found == check_files(book.files)
    assert told[-1][0] == told[-1][1]
    assert [done for done, _ in told] == sorted(done for done, _ in told)
    assert check_folder(book.folder, tmp_path / "cache", jobs=3) == found


def test_short_work_tells_no_progress(book: Book) -> None:
    check_folder(book.folder, progress=lambda *_: pytest.fail("it is done within a second"))


def test_how_many_files_were_checked(book: Book, cache: Path) -> None:
    assert check(book.folder, cache).files == len(book.files)
    assert check(book.folder, cache).files == len(book.files)


def test_an_empty_folder_has_nothing_to_find(tmp_path: Path, cache: Path) -> None:
    (tmp_path / "none").mkdir()
    for _ in range(2):
        assert check(tmp_path / "none", cache).files == 0


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(BookMissing, match="there is no folder"):
        check_folder(tmp_path / "none")


def test_a_link_that_leads_nowhere(book: Book) -> None:
    (book.folder / "sources" / "gone.yaml").symlink_to("nowhere.yaml")
    with pytest.raises(BookMissing, match=r"gone\.yaml cannot be read: no such file"):
        check_folder(book.folder)


def test_what_is_no_file(book: Book) -> None:
    os.mkfifo(book.folder / "sources" / "pipe.yaml")
    with pytest.raises(BookError, match=r"sources/pipe\.yaml is not a regular file"):
        check_folder(book.folder)


def test_hidden_files_and_other_kinds_are_passed_over(book: Book, cache: Path) -> None:
    before = check(book.folder, cache)
    for name in (".hidden.yaml", "notes.txt", ".git/config.yaml", "sources/.#handbook.yaml"):
        path = book.folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"name: [\n")
    assert check(book.folder, cache) == before


@pytest.mark.parametrize("name", ["a\tb", "a\nb", 'a"b', '"a', "é", "\udcff", "a\\b"])
def test_odd_names_of_files(name: str, book: Book, cache: Path) -> None:
    book.write(f"sources/{name}.yaml", b"title: [\n")
    first = check_folder(book.folder, cache)
    assert first == check_files(book.files)
    book.write("families/skerrow/other.yaml", b"name: [\n")
    assert check_folder(book.folder, cache) == check_files(book.files)
    assert small_book().keys() < book.files.keys()
