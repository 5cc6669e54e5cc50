"""Everything that a book answers of the figures that are set by the timing light."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from kb.book.book import Book
from kb.book.lookup.combinations import combinations_of, outcome_of
from kb.book.model.answer import Answer
from kb.book.model.engine_on_the_stand import EngineOnTheStand

FIGURES = ("max-advance", "throttle-pickup", "idle-timing")
MAXIMUM = "max-advance"

Asked = tuple[str, str, str | None, dict[str, Any]]
"""A family, a figure, a state and what else is asked."""


def every_answer(book: Book) -> list[Asked]:
    """Every figure of the timing light that is answered for every engine of a family."""
    found = []
    for family in book.family_ids():
        for figure in FIGURES:
            for serial in serials(book, family):
                for way in combinations_of(book.family(family), figure):
                    asked = {**way.conditions, "serial": serial}
                    if isinstance(outcome_of(book, book.family(family), way, EngineOnTheStand(serial)), Answer):
                        found.append((family, figure, way.state or None, asked))
    return found


def serials(book: Book, family: str) -> Iterator[str | None]:
    """No serial number, and the first and last of each range."""
    yield None
    for fit in book.family(family).fits:
        if fit.serials:
            yield from (end for end in (fit.serials.first, fit.serials.last) if end)
