"""A book in memory."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from sqlite3 import Connection
from typing import TYPE_CHECKING, Any

from kb.book.book import Book
from kb.book.evidence.conclusions import conclude
from kb.book.find import Hit, index_in_memory, search
from kb.book.model.family import Document, Family, FigureKind, Heading, Maker, Source

if TYPE_CHECKING:
    from kb.book.model.documents import (
        CautionDocument,
        FigureConclusions,
        NamedDocument,
        RetiredDocument,
        RoutineDocument,
        WithdrawnDocument,
    )


@dataclass
class MemoryBook(Book):
    """Records in memory, as they come from a folder of files that has no errors.

    ``said`` is a digest of all that families say, where that is known already.
    """

    date: str
    invented: bool
    figures: Mapping[str, FigureKind] = field(repr=False)
    makers: Mapping[str, Maker] = field(repr=False)
    sources: Mapping[str, Source] = field(repr=False)
    cautions: Mapping[str, CautionDocument] = field(repr=False)
    routines: Mapping[str, RoutineDocument] = field(repr=False)
    retired: Mapping[str, RetiredDocument] = field(repr=False)
    documents: Mapping[str, Document] = field(repr=False)
    withdrawals: Sequence[WithdrawnDocument] = field(default=(), repr=False)
    reported: Mapping[str, Document] = field(default_factory=dict, repr=False)
    said: str = field(default="", repr=False)

    def __post_init__(self) -> None:
        self._settled: dict[tuple[str, str], FigureConclusions | None] = {}

    @cached_property
    def default_states(self) -> Mapping[str, str]:
        """The state of each figure that has only one."""
        return {key: kind.default_state for key, kind in self.figures.items() if kind.default_state}

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""
        return sorted(self.documents)

    def get_family(self, family: str) -> Family | None:
        """The family with that id, or None."""
        document = self.documents.get(family)
        return None if document is None else Family(family, document, self.default_states)

    def get_heading(self, family: str) -> Heading | None:
        """The whole family: in memory it costs no more."""
        return self.get_family(family)

    def conclusions(self, family: str, figure: str) -> tuple[NamedDocument, FigureConclusions] | None:
        """The facts of a family that an answer shows, and the conclusions on a figure, drawn on first use."""
        key = family, figure
        if key not in self._settled:
            found = self.get_family(family)
            self._settled[key] = conclude(self, found, figure) if found else None
        conclusions = self._settled[key]
        if conclusions is None:
            return None
        named: Any = self.documents[family]
        return named, conclusions

    def withdrawn(self, family: str) -> Sequence[WithdrawnDocument]:
        """The family's entries of withdrawn.yaml."""
        return self._withdrawn.get(family, ())

    @cached_property
    def _withdrawn(self) -> Mapping[str, list[WithdrawnDocument]]:
        found: dict[str, list[WithdrawnDocument]] = {}
        for entry in self.withdrawals:
            found.setdefault(entry["statement"]["family"], []).append(entry)
        return found

    def reports(self, family: str) -> Mapping[str, Document]:
        """The reports of jobs on engines of the family, by the last part of their id."""
        return self.reports_by_family.get(family, {})

    @cached_property
    def reports_by_family(self) -> Mapping[str, Mapping[str, Document]]:
        """The reports of each family that has any; their names begin with the day."""
        found: dict[str, dict[str, Document]] = {}
        for key in sorted(self.reported):
            family, _, name = key.rpartition("/")
            found.setdefault(family, {})[name] = self.reported[key]
        return found

    def named(self, name: str) -> Sequence[str]:
        """The ids of families with exactly that name, with or without the maker's before it, in any case."""
        return self.names.get(" ".join(name.split()).casefold(), [])

    @cached_property
    def names(self) -> Mapping[str, list[str]]:
        """The ids of families by each of their names, in lower case."""
        names: dict[str, list[str]] = {}
        for key in self.family_ids():
            for name in self.names_of(self.documents[key]):
                names.setdefault(name, []).append(key)
        return names

    def names_of(self, document: Document) -> Iterable[str]:
        """A family's name, and the same with the maker's before it, in lower case."""
        maker = self.makers.get(document["maker"])
        name = " ".join(document["name"].split()).casefold()
        return dict.fromkeys((name, f"{maker.name} {name}".casefold() if maker else name))

    def find(self, words: str, limit: int = 20) -> list[Hit]:
        """Families by what is known of them, best first."""
        return search(self._index, words, limit)

    @cached_property
    def _index(self) -> Connection:
        return index_in_memory(self)

    def close(self) -> None:
        """Release the search index."""
        if "_index" in vars(self):
            self._index.close()
            del self._index

    def _properties(self) -> Iterator[tuple[str, Document]]:
        for key in self.family_ids():
            yield key, self.documents[key]
