"""What rules read: the file to check, and its context, which is everything that files refer to."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Set
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

from kb.book.model.family import Family, FigureKind, Maker, Source, as_list
from kb.finding import Path
from kb.frozen import cached_property
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.plausible_bounds import Bound, bounds_of
from kb.intake.models.parsing import Cuts
from kb.intake.models.spelling import either, write_instead

if TYPE_CHECKING:
    from kb.book.model.documents import WithdrawnDocument

REFERENCE_KINDS = ("figure", "maker", "source", "caution", "routine", "retired", "withdrawn")
"""The kinds of file in the context."""


@dataclass(frozen=True)
class RuleContext:
    """Everything that families and reports refer to, by id, and the ids and files of the book.

    Broken parts have been cut from the documents; ``figure_ids`` also has the figures whose catalogue entry is too
    broken for ``figures``. A rule's result is cached for as long as everything that it looked up here stays the same.
    For this look-ups are recorded, so a rule must not keep anything from here from one file to the next.
    """

    figures: Mapping[str, FigureKind] = field(default_factory=dict)
    figure_ids: frozenset[str] = frozenset()
    makers: Mapping[str, Maker] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    cautions: frozenset[str] = frozenset()
    routines: frozenset[str] = frozenset()
    retired: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    withdrawn: tuple[WithdrawnDocument, ...] = ()
    families: Set[str] = frozenset()
    files: Set[str] = frozenset()

    @classmethod
    def from_documents(
        cls, documents: Mapping[tuple[str, str], Mapping[str, Any]], families: Set[str], files: Set[str]
    ) -> RuleContext:
        """From typed documents by kind and id."""

        def of(kind: str) -> dict[str, Mapping[str, Any]]:
            return {key: document for (name, key), document in documents.items() if name == kind}

        retired = of("retired").get("", {}).get("retired", [])
        return cls(
            {key: FigureKind(key, document) for key, document in of("figure").items() if _whole(document)},
            frozenset(of("figure")),
            {key: Maker(key, document) for key, document in of("maker").items()},
            {key: Source(key, document) for key, document in of("source").items()},
            frozenset(of("caution")),
            frozenset(of("routine")),
            {entry["id"]: entry for entry in retired},
            tuple(of("withdrawn").get("", {}).get("withdrawn", [])),
            families,
            files,
        )

    def unknown_id(
        self, kind: str, word: str, known: Collection[str], otherwise: str, also_called: Mapping[str, str] | None = None
    ) -> tuple[str, str]:
        """What to report and what to type for an id (of a family, source, maker or figure) that does not exist."""
        entry = self.retired.get(word)
        if entry and entry["kind"] == kind:
            to = [name for name in entry.get("to") or () if name != word]
            do = f"write {either(to)}" if to else "delete it"
            return f"the {kind} {word} was retired on {entry['since']}: {entry['because']}", do
        return f"there is no {kind} {word}", write_instead(word, tuple(known), otherwise, also_called)

    @cached_property
    def bounds(self) -> Mapping[str, tuple[Bound, ...]]:
        """The plausible windows of each figure that has some."""
        return {key: bounds for key, kind in self.figures.items() if (bounds := bounds_of(kind))}

    @cached_property
    def default_states(self) -> Mapping[str, str]:
        """The state of each figure that allows just one."""
        return {key: kind.default_state for key, kind in self.figures.items() if kind.default_state}

    @cached_property
    def withdrawn_of(self) -> Mapping[str, tuple[WithdrawnDocument, ...]]:
        """The entries of withdrawn.yaml, by family."""
        grouped: dict[str, list[WithdrawnDocument]] = {}
        for entry in self.withdrawn:
            grouped.setdefault(entry["statement"]["family"], []).append(entry)
        return {key: tuple(entries) for key, entries in grouped.items()}


def _whole(document: Mapping[str, Any]) -> bool:
    """Whether a catalogue entry, of which parts may have been cut, still has everything that rules rely on."""
    wanted = ("label", "dimension", "units", "states", "hazard", "aim", "safest_end", "job_order")
    return all(key in document for key in wanted)


class StatementPlace(NamedTuple):
    """A statement of a family or a reading of a report, with its place and its figure's catalogue entry."""

    path: Path
    figure: str
    kind: FigureKind
    document: Mapping[str, Any]


@dataclass(frozen=True)
class FileCase:
    """One file to check: its document, from which broken parts have been cut, and the context."""

    file: str
    kind: str
    id: str
    document: Mapping[str, Any]
    context: RuleContext
    cuts: Cuts = field(default_factory=Cuts)

    @cached_property
    def family(self) -> Family:
        """The document as a family."""
        return Family(self.id, self.document, self.context.default_states)

    @cached_property
    def cited(self) -> Set[str]:
        """The sources that a family or a source names, also those of the pages that others supersede."""
        if self.kind == "source":
            return {reprinted} if (reprinted := self.document.get("reprint_of")) else set()
        statements = [one for several in self.family.statements.values() for one in several]
        superseded = {one.supersedes[0] for one in statements if one.supersedes}
        return {one.source for one in statements} | superseded

    @cached_property
    def stated(self) -> tuple[StatementPlace, ...]:
        """Every statement of a family, or reading of a report, whose figure is in the catalogue."""
        figures = self.context.figures
        return tuple(
            StatementPlace((key, figure, index), figure, figures[figure], document)
            for key in ("figures", "as_found", "as_left")
            for figure, entries in (self.document.get(key) or {}).items()
            if figure in figures
            for index, document in enumerate(as_list(entries))
        )

    @cached_property
    def family_facts(self) -> FamilyFacts:
        """The results of the family's statements."""
        context = self.context
        return FamilyFacts(self.family, context.figures, context.sources, context.withdrawn_of.get(self.id, ()))

    def original(self, path: Path) -> Path:
        """The path in the file as written, before anything was cut."""
        return self.cuts.original(path)
