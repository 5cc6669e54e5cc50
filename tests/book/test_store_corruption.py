"""A compiled book that is spoilt never gives a wrong answer, nor none where there is one, without saying so."""

from __future__ import annotations

import sqlite3
import tracemalloc
import zlib
from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import pytest

from kb.book.book import Book
from kb.book.store.compiled import CompiledBook
from kb.book.store.file_format import LARGEST, seal, unpack
from kb.book.store.writing import write_store
from kb.errors import BookDamaged, BookError, LookUpError, Refusal
from kb.intake.compiling import book_in_memory
from tests.support.asked_book import asked_book, asked_files
from tests.support.corrupting import OF_BYTES, OF_ROWS, Material, through_sqlite
from tests.support.samples import tries

SEED, ASKED = 47, 40
Ask = Callable[[Book], object]


def _look_up(family: str, figure: str, **more: Any) -> Ask:
    return lambda book: book.look_up(family, figure, **more).to_document()


def _holding(family: str) -> Ask:
    return lambda book: (book.get_family(family), getattr(book.get_heading(family), "name", None))


def _find(words: str) -> Ask:
    return lambda book: book.find(words)


@cache
def questions() -> dict[str, Ask]:
    """By name, everything that is asked of a spoilt book."""
    shelf = asked_book()
    asked: dict[str, Ask] = {}
    for family in (*shelf.family_ids(), "pellwater/none"):
        asked[f"{family} as it stands"] = _holding(family)
        for figure in ("max-advance", "plug-gap", "trigger-gap", "cranking-correction", "idle-speed", "float-level"):
            asked[f"{figure} of {family}"] = _look_up(family, figure)
            asked[f"{figure} of {family} cranking"] = _look_up(family, figure, state="cranking", serial=6500)
    asked["by name"] = _look_up("Gale 31", "plug-gap", year=1982)
    asked["retired"] = _look_up("skerrow/example-30", "plug-gap")
    asked["no such figure"] = _look_up("skerrow/example", "points-gap")
    asked["all ids"] = lambda book: list(book.family_ids())
    asked["by property"] = lambda book: book.families(cylinders=2, year=1982)
    asked["all sources"] = lambda book: {key: source.title for key, source in book.sources.items()}
    asked["withdrawn"] = lambda book: [list(book.withdrawn(family)) for family in shelf.family_ids()]
    asked["named"] = lambda book: [list(book.named(name)) for name in ("gale 31", "skerrow other 17", "none")]
    asked["what it is"] = lambda book: (book.date, book.invented)
    for words in ("gale 31", "E31", "1979 pellwater", "P6000", "exampel"):
        asked[f"find {words}"] = _find(words)
    return asked


def outcome(ask: Ask, book: Book) -> object:
    """What a book says, or the error by which it does not; anything but our own errors goes up."""
    try:
        return ask(book)
    except (LookUpError, Refusal) as error:
        return type(error), error.message, error.candidates


@cache
def truth() -> dict[str, object]:
    return {name: outcome(ask, asked_book()) for name, ask in questions().items()}


@pytest.fixture(scope="module")
def material(tmp_path_factory: pytest.TempPathFactory) -> Material:
    """The book, and what it was before some figures were put right."""
    other = {file: raw.replace(b"mm: 0.8,", b"mm: 0.9,") for file, raw in asked_files().items()}
    folder = tmp_path_factory.mktemp("material")
    write_store(folder / "book", asked_book())
    write_store(folder / "other", book_in_memory(other))
    return Material((folder / "book").read_bytes(), (folder / "other").read_bytes())


def tell(path: Path, chance: Random) -> str:
    """What a spoilt book comes to: not opened, noticed when asked, or right in all that was asked."""
    asked = questions()
    try:
        with CompiledBook(path) as store:
            noticed = 0
            for name in chance.sample(sorted(asked), ASKED):
                try:
                    found = outcome(asked[name], store)
                except BookError:
                    noticed += 1
                    continue
                assert found == truth()[name], name
            return "noticed" if noticed else "right"
    except BookError:
        return "not opened"


@pytest.mark.parametrize("spoil", OF_BYTES, ids=lambda spoil: spoil.__name__)
def test_spoilt_bytes(spoil: Callable[[Material, Random], bytes], material: Material, tmp_path: Path) -> None:
    told: Counter[str] = Counter()
    for number in range(tries(8 + OF_BYTES[spoil] // 4, OF_BYTES[spoil])):
        chance = Random(f"{SEED} {spoil.__name__} {number}")
        path = tmp_path / f"{number}.book"
        path.write_bytes(spoil(material, chance))
        told[tell(path, chance)] += 1
        path.unlink()
    assert told["not opened"] + told["noticed"] > 0, told


@pytest.mark.parametrize("spoil", OF_ROWS, ids=lambda spoil: spoil.__name__)
def test_spoilt_rows(spoil: Callable[[sqlite3.Connection, Random], None], material: Material, tmp_path: Path) -> None:
    told: Counter[str] = Counter()
    for number in range(tries(8 + OF_ROWS[spoil] // 4, OF_ROWS[spoil])):
        chance = Random(f"{SEED} {spoil.__name__} {number}")
        path = tmp_path / f"{number}.book"
        path.write_bytes(material.book)
        through_sqlite(spoil, path, chance)
        told[tell(path, chance)] += 1
        path.unlink()
    assert told["not opened"] + told["noticed"] > 0, told


def test_so_many_are_tried() -> None:
    assert sum(OF_BYTES.values()) + sum(OF_ROWS.values()) >= 1500


def test_the_sound_book_answers_all(material: Material, tmp_path: Path) -> None:
    path = tmp_path / "sound.book"
    path.write_bytes(material.book)
    with CompiledBook(path) as store:
        for name, ask in questions().items():
            assert outcome(ask, store) == truth()[name], name
        store.verify()


@pytest.mark.parametrize("spoil", [*OF_ROWS, *OF_BYTES], ids=lambda spoil: spoil.__name__)
def test_verifying_notices(spoil: Any, material: Material, tmp_path: Path) -> None:
    """Whatever changes a row is noticed, and what is not noticed answers everything rightly."""
    for number in range(12):
        chance = Random(f"{SEED} verify {spoil.__name__} {number}")
        path = tmp_path / f"{number}.book"
        path.write_bytes(material.book)
        if spoil in OF_ROWS:
            through_sqlite(spoil, path, chance)
        else:
            path.write_bytes(spoil(material, chance))
        try:
            with CompiledBook(path) as store:
                store.verify()
        except BookError:
            continue
        with CompiledBook(path) as store:
            for name, ask in questions().items():
                assert outcome(ask, store) == truth()[name], name


def _with_row(material: Material, path: Path, payload: bytes) -> Path:
    """The book with another row for one figure, rightly sealed: as one would make it who knows how."""
    path.write_bytes(material.book)
    with CompiledBook(path) as store:
        salt = store._salt
    connection = sqlite3.connect(path)
    stamp = seal(salt, "settled\0skerrow/example\0plug-gap", payload)
    statement = "update settled set payload = ?, seal = ? where family = 'skerrow/example' and figure = 'plug-gap'"
    connection.execute(statement, (payload, stamp))
    connection.commit()
    connection.close()
    return path


def _deflated(raw: bytes, times: int = 1) -> bytes:
    packer = zlib.compressobj(9, wbits=-15)
    return (packer.compress(raw) + packer.flush(zlib.Z_FULL_FLUSH)) * times + packer.flush()


HOSTILE: dict[str, tuple[Callable[[], bytes], str]] = {
    "a gigabyte": (lambda: _deflated(bytes(1 << 20), 1024), "too large"),
    "just too large": (lambda: _deflated(b" " * (LARGEST + 1)), "too large"),
    "deep": (lambda: _deflated(b"[" * 200_000), "cannot be read"),
    "not JSON": (lambda: _deflated(b"__import__('os')"), "cannot be read"),
    "two documents": (lambda: _deflated(b'{"a": 1} {"a": 2}'), "something behind it"),
    "not UTF-8": (lambda: _deflated(b'{"a": "\xff"}'), "cannot be read"),
    "not deflated": (lambda: b"\xff" * 50, "cannot be read"),
    "cut off": (lambda: _deflated(b'{"a": "some more of it"}')[:-4], "cut off"),
    "with a tail": (lambda: _deflated(b'{"a": 1}') + b"tail", "cut off"),
    "empty": (lambda: b"", "cut off"),
    "a large row": (lambda: bytes(LARGEST + 1), "too big"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_row_is_refused_within_bounds(name: str, material: Material, tmp_path: Path) -> None:
    make, words = HOSTILE[name]
    path = _with_row(material, tmp_path / "hostile.book", make())
    with CompiledBook(path) as store, pytest.raises(BookDamaged, match=words):
        store.look_up("skerrow/example", "plug-gap")


def test_a_bomb_is_not_unpacked() -> None:
    """No more is unpacked than a document may hold, whatever is packed."""
    bomb = _deflated(bytes(1 << 20), 64)
    tracemalloc.start()
    with pytest.raises(BookDamaged, match="too large"):
        unpack(bomb, b"")
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 4 * LARGEST
