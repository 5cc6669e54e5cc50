"""Writing and opening compiled books."""

from __future__ import annotations

import gc
import os
import sqlite3
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from kb.book.store import writing
from kb.book.store.compiled import CompiledBook
from kb.book.store.file_format import FORMAT
from kb.book.store.writing import write_store
from kb.errors import BookDamaged, BookError, BookForeign, BookMissing
from tests.support.asked_book import asked_book

WRITE = (
    "from pathlib import Path; from kb.book.store.writing import write_store; "
    "from tests.support.asked_book import asked_book; "
)


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("store") / "asked.book"
    write_store(path, asked_book())
    return path


def test_it_verifies(compiled: Path) -> None:
    with CompiledBook(compiled) as store:
        store.verify()


def test_the_same_book_gives_the_same_bytes(compiled: Path, tmp_path: Path) -> None:
    """In another process too, whose texts hash otherwise."""
    command = f"{WRITE}write_store(Path({str(tmp_path / 'again.book')!r}), asked_book())"
    subprocess.run([sys.executable, "-c", command], check=True, env={**os.environ, "PYTHONHASHSEED": "47"})
    assert (tmp_path / "again.book").read_bytes() == compiled.read_bytes()


def test_nothing_is_left_beside_it(compiled: Path, tmp_path: Path) -> None:
    write_store(tmp_path / "one.book", asked_book())
    write_store(str(tmp_path / "one.book"), asked_book())
    with CompiledBook(tmp_path / "one.book") as store:
        store.look_up("skerrow/example", "trigger-gap")
        assert store.find("example")
        assert os.listdir(tmp_path) == ["one.book"]
    if os.name == "posix":
        mask = os.umask(0)
        os.umask(mask)
        assert stat.S_IMODE(compiled.stat().st_mode) == 0o666 & ~mask


@pytest.mark.parametrize("stage", ["make_index", "conclude"])
def test_a_write_that_fails_leaves_the_last_good_book(
    stage: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "one.book"
    write_store(path, asked_book())
    before = path.read_bytes()

    def fail(*_: object) -> None:
        raise OSError("no space left")

    monkeypatch.setattr(writing, stage, fail)
    with pytest.raises(OSError, match="no space left"):
        write_store(path, asked_book())
    assert path.read_bytes() == before
    assert os.listdir(tmp_path) == ["one.book"]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        write_store(tmp_path / "none" / "one.book", asked_book())


def test_a_killed_write_leaves_the_last_good_book(tmp_path: Path) -> None:
    path = tmp_path / "one.book"
    write_store(path, asked_book())
    before = path.read_bytes()
    command = (
        f"{WRITE}import os; from kb.book.store import writing; writing._to_disk = lambda path: os._exit(9)\n"
        f"write_store(Path({str(path)!r}), asked_book())"
    )
    assert subprocess.run([sys.executable, "-c", command], check=False).returncode == 9
    assert path.read_bytes() == before
    with CompiledBook(path) as store:
        store.verify()


def test_two_who_write_at_once_lose_nothing(tmp_path: Path) -> None:
    """While several write over and over, whoever opens the book finds a whole one each time."""
    path = tmp_path / "one.book"
    write_store(path, asked_book())
    command = f"{WRITE}\nfor _ in range(6): write_store(Path({str(path)!r}), asked_book())"
    writers = [subprocess.Popen([sys.executable, "-c", command]) for _ in range(2)]
    opened = 0
    while any(writer.poll() is None for writer in writers):
        with CompiledBook(path) as store:
            store.verify()
            assert store.look_up("skerrow/example", "trigger-gap").printed == "0.030 in"
        opened += 1
    assert [writer.returncode for writer in writers] == [0, 0]
    assert opened > 1
    assert os.listdir(tmp_path) == ["one.book"]


def test_whoever_has_the_old_one_open_goes_on_reading_it(tmp_path: Path) -> None:
    path = tmp_path / "one.book"
    write_store(path, asked_book())
    with CompiledBook(path) as old:
        shelf = asked_book()
        path.unlink()
        write_store(path, shelf)
        assert old.look_up("skerrow/example", "trigger-gap").printed == "0.030 in"
        old.verify()


@pytest.mark.parametrize("name", ["a b.book", "50%.book", "what?.book", "#1.book", "größe.book", "mode=rw&x.book"])
def test_any_name_will_do(name: str, tmp_path: Path) -> None:
    write_store(tmp_path / name, asked_book())
    with CompiledBook(tmp_path / name) as store:
        assert store.look_up("skerrow/example", "trigger-gap").printed == "0.030 in"


def test_a_name_relative_to_where_one_is(compiled: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(compiled.parent)
    with CompiledBook(compiled.name) as store:
        assert store.look_up("skerrow/example", "trigger-gap").printed == "0.030 in"


def _sqlite(path: Path, *statements: str) -> None:
    connection = sqlite3.connect(path)
    for statement in statements:
        connection.execute(statement)
    connection.commit()
    connection.close()


def _other_format(path: Path) -> None:
    raw = bytearray(path.read_bytes())
    raw[60:64] = (FORMAT + 1).to_bytes(4, "big")
    path.write_bytes(raw)


def _other_file(path: Path) -> None:
    path.unlink()
    _sqlite(path, "create table t (a)")


FOREIGN: list[tuple[str, Callable[[Path], object], type[BookError], str]] = [
    ("missing", lambda path: path.unlink(), BookMissing, "there is no file"),
    ("empty", lambda path: path.write_bytes(b""), BookForeign, "is not a compiled book"),
    (
        "text",
        lambda path: path.write_text("name: Ketch 47\n"),
        BookForeign,
        "is not a compiled book; stopscrew compile",
    ),
    ("header", lambda path: path.write_bytes(path.read_bytes()[:60]), BookDamaged, "is cut off"),
    ("half", lambda path: path.write_bytes(path.read_bytes()[:8192]), BookDamaged, "has 8192 bytes where"),
    ("appended", lambda path: path.write_bytes(path.read_bytes() + b"\0"), BookDamaged, "bytes where it was written"),
    ("format", _other_format, BookForeign, f"format {FORMAT + 1}; this is for format {FORMAT}"),
    ("sqlite", _other_file, BookForeign, "of something else"),
    (
        "trigger",
        lambda path: _sqlite(path, "create trigger t after insert on meta begin delete from family; end"),
        BookForeign,
        "other tables",
    ),
    ("table", lambda path: _sqlite(path, "create table other (a)"), BookForeign, "other tables"),
    (
        "view",
        lambda path: _sqlite(path, "alter table name rename to find_old", "create view name as select * from find_old"),
        BookForeign,
        "other tables",
    ),
    ("index", lambda path: _sqlite(path, "create index i on settled (figure)"), BookForeign, "other tables"),
    ("column", lambda path: _sqlite(path, "alter table settled add column more"), BookForeign, "other tables"),
    (
        "journal",
        lambda path: _sqlite(path, "pragma journal_mode=wal"),
        BookDamaged,
        "a header that no compiled book has",
    ),
]


@pytest.mark.parametrize(("what", "change", "error", "words"), FOREIGN, ids=[row[0] for row in FOREIGN])
def test_what_is_no_book_of_this_version_is_told_so(
    what: str, change: Callable[[Path], object], error: type[BookError], words: str, compiled: Path, tmp_path: Path
) -> None:
    path = tmp_path / "one.book"
    path.write_bytes(compiled.read_bytes())
    change(path)
    with pytest.raises(error, match=words):
        CompiledBook(path)


def test_a_folder_is_no_compiled_book(tmp_path: Path) -> None:
    with pytest.raises(BookError, match="cannot be read: Is a directory"):
        CompiledBook(tmp_path)


def test_a_closed_book_answers_no_more(compiled: Path) -> None:
    store = CompiledBook(compiled)
    store.close()
    store.close()
    with pytest.raises(BookError, match="cannot be asked: Cannot operate on a closed database"):
        store.look_up("skerrow/example", "trigger-gap")


def test_a_book_that_is_forgotten_is_closed(compiled: Path) -> None:
    CompiledBook(compiled)
    gc.collect()  # warns of what was left open where warnings are errors


def test_any_thread_may_ask(compiled: Path) -> None:
    shelf = asked_book()
    wanted = {family: shelf.look_up(family, "plug-gap").printed for family in ("pellwater/gale", "skerrow/example")}
    wrong: list[object] = []
    with CompiledBook(compiled) as store:
        store._connection.set_progress_handler(store._tick, 50)  # calls back while SQLite keeps its own lock

        def ask() -> None:
            for _ in range(30):
                for family, printed in wanted.items():
                    found = store.look_up(family, "plug-gap").printed
                    if found != printed or len(store.find("gale")) != 2:
                        wrong.append(found)

        threads = [threading.Thread(target=ask) for _ in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert wrong == []


def test_the_file_cannot_be_written_through_it(compiled: Path) -> None:
    with CompiledBook(compiled) as store, pytest.raises(sqlite3.OperationalError, match="readonly"):
        store._connection.execute("delete from meta")


def test_a_query_that_runs_away_is_stopped(compiled: Path) -> None:
    endless = "with recursive n(i) as (select 1 union all select i + 1 from n) select max(i) from n"
    with CompiledBook(compiled) as store, pytest.raises(BookDamaged, match="interrupted"):
        store._rows(endless)
