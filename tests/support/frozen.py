"""The frozen book, opened once."""

from __future__ import annotations

from functools import cache

from kb.book.store.in_memory import MemoryBook
from kb.intake.compiling import open_folder
from tests.support.folders import FROZEN


@cache
def frozen_book() -> MemoryBook:
    """It is every test's: one that changes a book opens its own."""
    return open_folder(FROZEN)
