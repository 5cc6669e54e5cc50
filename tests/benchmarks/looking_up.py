"""Looking up in a compiled book within one process: a family's document, and one figure."""

from __future__ import annotations

import json
import random
import shutil
import sqlite3
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from functools import cache
from pathlib import Path
from time import process_time

import kb
from kb.book.book import Book
from tests.benchmarks.generate import write_book
from tests.benchmarks.measure import HOME, Row, processor_time, slowness

_ASKED = 2_000
_ROUNDS = 5


def rows(families: int) -> Iterator[Row]:
    """Every figure, as it is measured."""
    with kb.open_book(compiled(families)) as book:
        chance = random.Random(3)
        ids = chance.sample(list(book.family_ids()), min(_ASKED, families))
        with closing(_plain(book)) as plain:
            document = _each(lambda family: book.family(family).document, ids)
            yield _row("id to document", document, "a plain SQLite row of JSON", _each(_fetch(plain), ids), 60)
            figure = _each(lambda family: book.look_up(family, "max-advance", "cranking").printed, ids)
            yield _row("one figure", figure, "a plain SQLite row of JSON", _each(_fetch(plain), ids), 50)


@cache
def compiled(families: int) -> Path:
    """A compiled book of so many families, made afresh in each run."""
    folder, path = HOME / f"compiled-{families}", HOME / f"compiled-{families}.book"
    shutil.rmtree(folder, ignore_errors=True)
    write_book(folder, families)
    processor_time([sys.executable, "-m", "kb.cli", "compile", "--specs", folder, "--out", path])
    return path


def _row(what: str, seconds: float, peer: str, peer_seconds: float, budget: int) -> Row:
    taken, other = f"{seconds * 1e6:.0f} us", f"{peer}: {peer_seconds * 1e6:.0f} us"
    allowed = budget * slowness()
    return Row(what, taken, other, f"{budget} us, here {allowed:.0f}", seconds * 1e6 <= allowed)


def _each(ask: Callable[[str], object], questions: Sequence[str]) -> float:
    """Seconds of processor time for one question: the best of some rounds over all."""
    best = float("inf")
    for _ in range(_ROUNDS):
        start = process_time()
        for question in questions:
            ask(question)
        best = min(best, process_time() - start)
    return best / len(questions)


def _plain(book: Book) -> sqlite3.Connection:
    """The same documents in a table of one's own, without compression, checksums or anything that is worked out."""
    connection = sqlite3.connect(":memory:")
    connection.execute("CREATE TABLE family (id TEXT PRIMARY KEY, document TEXT)")
    documents = ((family, json.dumps(book.family(family).document)) for family in book.family_ids())
    connection.executemany("INSERT INTO family VALUES (?, ?)", documents)
    return connection


def _fetch(connection: sqlite3.Connection) -> Callable[[str], object]:
    def fetch(family: str) -> object:
        (text,) = connection.execute("SELECT document FROM family WHERE id = ?", (family,)).fetchone()
        return json.loads(text)

    return fetch
