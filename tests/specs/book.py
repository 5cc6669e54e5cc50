"""The book that people add to, checked and opened once for all tests of it."""

from __future__ import annotations

import os
from functools import cache

from kb.book.store.in_memory import MemoryBook
from kb.intake.compiling import open_folder
from tests.support.folders import SPECS

TRIED = os.environ.get("STOPSCREW_TESTED_FAMILIES", "").split()


@cache
def specs_book() -> MemoryBook:
    """It is every test's: one that changes it takes a copy."""
    return open_folder(SPECS)


def families() -> list[str]:
    """The families that are tried one by one: all, or those alone that a contribution adds, for what is true of the
    others stays true."""
    return TRIED or sorted(specs_book().family_ids())
