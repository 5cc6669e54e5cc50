"""The interface that indexing for search needs of a book."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Protocol

from kb.book.model.catalogue import Maker
from kb.book.model.family import Heading

if TYPE_CHECKING:
    from kb.book.model.documents import RetiredDocument


class HeadingReader(Protocol):
    """A book as the search index reads it."""

    @property
    def makers(self) -> Mapping[str, Maker]:
        """The makers by id."""

    @property
    def retired(self) -> Mapping[str, RetiredDocument]:
        """What was retired, by its old id."""

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""

    def get_heading(self, family: str) -> Heading | None:
        """The heading of the family with that id, or None; cheaper than all of it."""
