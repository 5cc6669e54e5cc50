"""The book that people add to, checked and opened once for all tests of it."""

from __future__ import annotations

from functools import cache

from kb.book.store.in_memory import MemoryBook
from kb.intake.compiling import open_folder
from tests.support.folders import SPECS


@cache
def specs_book() -> MemoryBook:
    """It is every test's: one that changes it takes a copy."""
    return open_folder(SPECS)
