"""What is needed of a book to index it for finding."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Protocol

from kb.book.model.catalogue import Maker
from kb.book.model.engine_ranges import Document
from kb.book.model.family import Family


class HeadingReader(Protocol):
    """What is needed of a book to index it."""

    @property
    def makers(self) -> Mapping[str, Maker]:
        """The makers by id."""

    @property
    def retired(self) -> Mapping[str, Document]:
        """What was given up, by its old id."""

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""

    def get_heading(self, family: str) -> Family | None:
        """The family with that id, perhaps without its figures, or nothing; cheaper than all of it."""
