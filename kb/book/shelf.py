"""A book in memory."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from sqlite3 import Connection

from kb.book.book import Book
from kb.book.find import Hit, index_in_memory, search
from kb.book.records import Document, Family, FigureKind, Maker, Source, Statement


@dataclass
class Shelf(Book):
    """Records in memory, as they come from a folder of files that has no errors."""

    date: str
    invented: bool
    figures: Mapping[str, FigureKind]
    makers: Mapping[str, Maker]
    sources: Mapping[str, Source]
    cautions: Mapping[str, Document]
    retired: Mapping[str, Document]
    documents: Mapping[str, Document] = field(repr=False)
    withdrawals: Sequence[Document] = ()

    @cached_property
    def _default_states(self) -> Mapping[str, str]:
        return {key: kind.default_state for key, kind in self.figures.items() if kind.default_state}

    def family_ids(self) -> Sequence[str]:
        """Every family's id, sorted."""
        return sorted(self.documents)

    def get_family(self, family: str) -> Family | None:
        """The family with that id, or nothing."""
        document = self.documents.get(family)
        return None if document is None else Family(family, document, self._default_states)

    def get_heading(self, family: str) -> Family | None:
        """The same: in memory it costs no more."""
        return self.get_family(family)

    def statements(self, family: str, figure: str) -> tuple[Statement, ...]:
        """The statements of one figure of a family."""
        found = self.get_family(family)
        return found.statements.get(figure, ()) if found else ()

    def withdrawn(self, family: str) -> Sequence[Document]:
        """The family's entries of withdrawn.yaml."""
        return [entry for entry in self.withdrawals if entry["statement"]["family"] == family]

    def named(self, name: str) -> Sequence[str]:
        """The ids of families that bear exactly that name, with or without the maker's before it; case aside."""
        return self._names.get(name.strip().casefold(), [])

    @cached_property
    def _names(self) -> Mapping[str, list[str]]:
        names: dict[str, list[str]] = {}
        for key in self.family_ids():
            document = self.documents[key]
            maker = self.makers.get(document["maker"])
            for name in {document["name"].casefold(), f"{maker.name if maker else ''} {document['name']}".strip().casefold()}:
                names.setdefault(name, []).append(key)
        return names

    def find(self, words: str, limit: int = 20) -> list[Hit]:
        """Families by what is known of them, best first."""
        return search(self._index, words, limit)

    @cached_property
    def _index(self) -> Connection:
        return index_in_memory(self)

    def _properties(self) -> Iterator[tuple[str, Document]]:
        for key in self.family_ids():
            yield key, self.documents[key]
