"""A folder compiled from what its check kept: the same book as one that is read and typed anew."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest

from kb.book.store.compiled import CompiledBook
from kb.book.store.writing import write_store
from kb.errors import BookError, BookHasFaults, BookMissing
from kb.intake import compiling
from kb.intake.check import folder, one_file, whole_folder
from kb.intake.check.kept.cache_file import Damaged
from kb.intake.check.kept.rows import Rows
from kb.intake.check.whole_folder import check_folder, last_check
from kb.intake.compiling import book_in_memory, compile_book, open_folder
from tests.support.edits import Book
from tests.support.example_book import example_book

FAMILY = "families/skerrow/example.yaml"
LATER = 10_000_000_000  # nanoseconds


@pytest.fixture
def book(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Book:
    """A small sound book, whose files were written long before they are listed."""
    monkeypatch.setattr(whole_folder, "now", lambda: folder.now() + LATER)
    made = Book(tmp_path / "specs", seed=1)
    sound = example_book()
    for file in made.files.keys() - sound.keys():
        made.remove(file)
    for file, raw in sound.items():
        made.write(file, raw)
    return made


@pytest.fixture
def cache(tmp_path: Path) -> Path:
    return tmp_path / "build" / "check.cache"


def test_what_was_checked_is_not_read_again(
    book: Book, cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    check_folder(book.folder, cache, jobs=1)
    monkeypatch.setattr(one_file, "read", lambda _: pytest.fail("it was read when it was checked"))
    made = compile_book(book.folder, tmp_path / "kept.book", cache, jobs=1)
    assert made.families == sum(file.startswith("families/") for file in book.files)
    monkeypatch.undo()
    write_store(tmp_path / "anew.book", book_in_memory(book.files))
    assert (tmp_path / "kept.book").read_bytes() == (tmp_path / "anew.book").read_bytes()


@pytest.mark.parametrize("note", ["bénéfice", 'a \\ and a " and a tab: \t', 'since, "on":"2030-01-01"', "雪 🌊"])
def test_any_text_comes_through_the_cache(note: str, book: Book, cache: Path, tmp_path: Path) -> None:
    written = note.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t")
    text = book.files[FAMILY].decode().replace("look_for:", f'also_called: ["{written}"]\nlook_for:', 1)
    book.write(FAMILY, text.encode())
    compile_book(book.folder, tmp_path / "kept.book", cache, jobs=1)
    with CompiledBook(tmp_path / "kept.book") as store, open_folder(book.folder, cache, jobs=1) as opened:
        assert store.family("skerrow/example").document == opened.family("skerrow/example").document
        assert list(store.family("skerrow/example").document["also_called"]) == [note]
        assert store.date == opened.date < "2030"
    write_store(tmp_path / "anew.book", book_in_memory(book.files))
    assert (tmp_path / "kept.book").read_bytes() == (tmp_path / "anew.book").read_bytes()


def test_without_a_cache_and_where_none_can_be_written(book: Book, tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    for number, cache in enumerate((None, tmp_path / "file" / "below", tmp_path)):
        compile_book(book.folder, tmp_path / f"{number}.book", cache, jobs=1)
    assert len({path.read_bytes() for path in tmp_path.glob("*.book")}) == 1


def test_a_cache_of_another_folder_is_not_taken_for_this_one(book: Book, cache: Path, tmp_path: Path) -> None:
    other = Book(tmp_path / "other", seed=2)
    check_folder(other.folder, cache, jobs=1)
    assert last_check(book.folder, cache) is None
    check_folder(book.folder, cache, jobs=1)
    found = last_check(book.folder, cache)
    assert found is not None
    assert set(found.files) == set(book.files)


def test_another_check_may_write_the_cache_meanwhile(
    book: Book, cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reading, asked = Rows.documents, [0]

    def torn(rows: Rows, files: Iterable[str]) -> Iterator[tuple[str, str]]:
        asked[0] += 1
        if asked[0] == 3:
            raise Damaged("written meanwhile")
        return reading(rows, files)

    monkeypatch.setattr(Rows, "documents", torn)
    compile_book(book.folder, tmp_path / "kept.book", cache, jobs=1)
    assert asked[0] > 3
    monkeypatch.setattr(Rows, "documents", lambda *_: (_ for _ in ()).throw(Damaged("over and over")))
    with pytest.raises(BookError, match="can be kept neither"):
        compile_book(book.folder, tmp_path / "none.book", cache, jobs=1)
    assert not (tmp_path / "none.book").exists()


def test_errors_and_an_empty_folder_compile_to_nothing(book: Book, cache: Path, tmp_path: Path) -> None:
    sound = book.files[FAMILY]
    book.write(FAMILY, sound.replace(b"atdc: [4, 6]", b"atdc: [6, 4]"))
    for _ in range(2):
        with pytest.raises(BookHasFaults, match=r"1 error, .*specs/families/skerrow/example\.yaml:.*window-inverted"):
            compile_book(book.folder, tmp_path / "none.book", cache, jobs=1)
    for file in [file for file in book.files if file.startswith(("families/", "reports/", "withdrawn", "retired"))]:
        book.remove(file)
    with pytest.raises(BookMissing, match="holds no families"):
        compile_book(book.folder, tmp_path / "none.book", cache, jobs=1)
    assert not list(tmp_path.glob("*.book"))


def test_documents_are_read_some_at_a_time(book: Book, cache: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(compiling, "_READ_AT_ONCE", 2)
    check_folder(book.folder, cache, jobs=1)
    checked = last_check(book.folder, cache)
    assert checked is not None
    figures = compiling._kept_documents(checked)["figure"]
    wanted = book_in_memory(book.files).figures
    assert list(figures) == sorted(wanted)
    assert {key: figures[key] for key in sorted(figures, reverse=True)} == {
        key: one.document for key, one in wanted.items()
    }
    with pytest.raises(KeyError):
        figures["none"]
