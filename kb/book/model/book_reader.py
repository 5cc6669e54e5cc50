"""The interface for reading a book: the least that a book in memory and a compiled one share."""

from __future__ import annotations

from abc import ABC, abstractmethod

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kb.book.model.catalogue import FigureKind, Maker, Source
    from kb.book.model.documents import (
        CautionDocument,
        FigureConclusions,
        NamedDocument,
        RetiredDocument,
        RoutineDocument,
        WithdrawnDocument,
    )
    from kb.book.model.engine_ranges import Document
    from kb.book.model.family import Family, Heading
    from kb.book.model.hit import Hit


class BookReader(ABC):
    """A book's families, and what they refer to.

    ``date`` is the day that the data is from; ``invented`` says that all of it is invented demonstration data.
    ``retired`` holds what was retired, by its old id, of any kind.
    """

    date: str
    invented: bool
    figures: Mapping[str, FigureKind]
    makers: Mapping[str, Maker]
    sources: Mapping[str, Source]
    cautions: Mapping[str, CautionDocument]
    routines: Mapping[str, RoutineDocument]
    retired: Mapping[str, RetiredDocument]

    @abstractmethod
    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""

    @abstractmethod
    def get_family(self, family: str) -> Family | None:
        """The family with that id, or None."""

    @abstractmethod
    def get_heading(self, family: str) -> Heading | None:
        """The heading of the family with that id, or None; cheaper than all of it."""

    @abstractmethod
    def conclusions(self, family: str, figure: str) -> tuple[NamedDocument, FigureConclusions] | None:
        """The facts of a family that an answer shows, and the conclusions on a figure; see ``evidence.conclusions``.

        The facts are its name, maker, cautions and whether it is invented. None when there is no such family or figure,
        or no statement bears on it.
        """

    @abstractmethod
    def withdrawn(self, family: str) -> Sequence[WithdrawnDocument]:
        """The family's entries of withdrawn.yaml."""

    @abstractmethod
    def reports(self, family: str) -> Mapping[str, Document]:
        """The reports of jobs on engines of the family, as typed, by the last part of their id: the earliest first."""

    @abstractmethod
    def named(self, name: str) -> Sequence[str]:
        """The ids of families with exactly that name, with or without the maker's before it, in any case."""

    @abstractmethod
    def find(self, words: str, limit: int = 20) -> list[Hit]:
        """Families by what is known of them, best first; forgiving. See ``kb.book.find``."""
