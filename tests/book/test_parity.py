"""A look-up from the YAML files and one from the compiled book come to the same, for all that may be asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import pytest

from kb.book.book import Book
from kb.book.model.engine_ranges import Range
from kb.book.model.family import Family
from kb.book.store.compiled import CompiledBook
from kb.book.store.writing import write_store
from kb.errors import LookUpError, Refusal
from tests.support.asked_book import asked_book
from tests.support.frozen import frozen_book

FOLDER = frozen_book()
BOOKS = {"demonstration": FOLDER, "asked": asked_book()}
FAMILIES = [(name, family) for name, shelf in BOOKS.items() for family in shelf.family_ids()]
STATES = (None, "cranking", "running", "static", "at-rest")


@pytest.fixture(scope="module")
def stores(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, CompiledBook]]:
    folder = tmp_path_factory.mktemp("compiled")
    stores = {}
    for name, shelf in BOOKS.items():
        write_store(folder / name, shelf)
        stores[name] = CompiledBook(folder / name)
    yield stores
    for store in stores.values():
        store.close()


def outcome(book: Book, *asked: Any, **more: Any) -> object:
    try:
        return book.look_up(*asked, **more).to_document()
    except (LookUpError, Refusal) as error:
        return type(error).__name__, error.message, error.candidates


def work(book: Book, family: str) -> object:
    try:
        return book.job(family).to_document()
    except LookUpError as error:
        return type(error).__name__, error.message, error.candidates


def breaks(family: Family) -> Iterator[dict[str, Any]]:
    """Nothing known of the engine, and engines at and beside each end of each range that tells engines apart."""
    yield {}
    only = [statement.only for statements in family.statements.values() for statement in statements if statement.only]
    ends: set[Any] = set()
    for fit in (*family.fits, *only):
        for name, held in (("serial", fit.serials), ("year", fit.years)):
            ends.update((name, end) for end in _ends(held))
    for name, end in sorted(ends, key=str):
        yield {name: end}
    serials, years = ([end for name, end in sorted(ends, key=str) if name == wanted] for wanted in ("serial", "year"))
    yield from ({"serial": serial, "year": year} for serial in serials[::2] for year in years[1:2])
    yield {"serial": "QQ 1"}


def _ends(held: Range | None) -> Sequence[str | int]:
    found: list[str | int] = []
    for end in (held.first, held.last) if held else ():
        if end:
            number = int("".join(letter for letter in end if letter.isdigit()))
            letters = "".join(letter for letter in end if not letter.isdigit())
            found += [end, *(f"{letters}{beside}" for beside in (number - 1, number + 1))]
    return found if held is None or not (held.first or held.last or "").isdigit() else [int(end) for end in found]


def conditions(family: Family, figure: str) -> Iterator[dict[str, Any]]:
    yield {}
    yield {"rpm": 3000}
    for at in {statement.at: None for statement in family.statements.get(figure, ())}:
        if at:
            yield {key: _asked(value) for key, value in at}


def _asked(value: Any) -> Any:
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        return {key: _asked(inner) for key, inner in value}
    return value[0] if isinstance(value, tuple) else value


@pytest.mark.parametrize(("name", "family"), FAMILIES)
def test_both_answer_alike(name: str, family: str, stores: dict[str, CompiledBook]) -> None:
    shelf, store = BOOKS[name], stores[name]
    held = shelf.get_family(family)
    assert held is not None
    assert store.get_family(family) == held
    heading = store.get_heading(family)
    assert heading is not None
    assert (heading.name, heading.fits) == (held.name, held.fits)
    assert set(heading.document["figures"]) == set(held.statements)
    assert work(store, family) == work(shelf, family)
    for asked in questions(held):
        assert outcome(store, family, **asked) == outcome(shelf, family, **asked), asked


def questions(family: Family) -> Iterator[dict[str, Any]]:
    yield {"figure": "no-such-figure"}
    for figure in sorted({*family.statements, "cranking-correction", "compression"}):
        for state in STATES:
            yield from ({"figure": figure, "state": state, **more} for more in conditions(family, figure))
        differs = any(one.only for one in family.statements.get(figure, ()))
        for engine in breaks(family):
            yield {"figure": figure, **engine}
            if differs:
                yield from ({"figure": figure, "state": state, **engine} for state in STATES)


@pytest.mark.parametrize("name", BOOKS)
def test_both_know_the_same(name: str, stores: dict[str, CompiledBook]) -> None:
    shelf, store = BOOKS[name], stores[name]
    assert (store.date, store.invented) == (shelf.date, shelf.invented)
    assert store.family_ids() == shelf.family_ids()
    for of_shelf, of_store in (
        (shelf.figures, store.figures),
        (shelf.makers, store.makers),
        (shelf.sources, store.sources),
        (shelf.cautions, store.cautions),
        (shelf.routines, store.routines),
        (shelf.retired, store.retired),
    ):
        assert dict(of_store) == dict(of_shelf)
    for words in (*shelf.names, "no such name"):
        assert list(store.named(words)) == list(shelf.named(words))
    for family in (*shelf.family_ids(), "skerrow", "1980", "47 hp", "K47", "zzz"):
        assert store.find(family) == shelf.find(family)
        assert list(store.withdrawn(family)) == list(shelf.withdrawn(family))
    for properties in ({}, {"cylinders": 3}, {"year": 1980}, {"power": (10, 50)}, {"figure": "main-jet"}):
        assert store.families(**properties) == shelf.families(**properties)
