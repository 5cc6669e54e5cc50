"""What a rule may look at: the file in hand, and on the desk beside it all that files refer to."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Set
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple

from kb.book.model.family import Family, FigureKind, Maker, Source, as_list
from kb.finding import Path
from kb.intake.facts.family_facts import FamilyFacts
from kb.intake.facts.plausible_bounds import Bound, bounds_of
from kb.intake.models.parsing import Cuts
from kb.intake.models.spelling import either, write_instead

REFERENCE_KINDS = ("figure", "maker", "source", "caution", "routine", "retired", "withdrawn")
"""The kinds of file that lie on the desk."""


@dataclass(frozen=True)
class RuleContext:
    """All that families and reports refer to, by id, and the ids and files that there are.

    A document here may lack what was cut from it; ``figure_ids`` also holds the figures whose catalogue entry is
    too broken to lie in ``figures``. What a rule finds is kept for as long as all that it looked up here stays the
    same; what is looked up is noted, so nothing taken from here may be kept from one file to the next.
    """

    figures: Mapping[str, FigureKind] = field(default_factory=dict)
    figure_ids: frozenset[str] = frozenset()
    makers: Mapping[str, Maker] = field(default_factory=dict)
    sources: Mapping[str, Source] = field(default_factory=dict)
    cautions: frozenset[str] = frozenset()
    routines: frozenset[str] = frozenset()
    retired: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    withdrawn: tuple[Mapping[str, Any], ...] = ()
    families: Set[str] = frozenset()
    files: Set[str] = frozenset()

    @classmethod
    def lay(
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

    def instead(
        self, kind: str, word: str, known: Collection[str], otherwise: str, also_called: Mapping[str, str] | None = None
    ) -> tuple[str, str]:
        """What was found and what to type, for an id of a kind (family, source, maker, figure) that there is not."""
        entry = self.retired.get(word)
        if entry and entry["kind"] == kind:
            to = [name for name in entry.get("to") or () if name != word]
            do = f"write {either(to)}" if to else "take it out"
            return f"the {kind} {word} was given up on {entry['since']}: {entry['because']}", do
        return f"there is no {kind} {word}", write_instead(word, tuple(known), otherwise, also_called)

    @cached_property
    def bounds(self) -> Mapping[str, tuple[Bound, ...]]:
        """The plausible windows of each figure that has any."""
        return {key: bounds for key, kind in self.figures.items() if (bounds := bounds_of(kind))}

    @cached_property
    def default_states(self) -> Mapping[str, str]:
        """The state of each figure that can stand in just one."""
        return {key: kind.default_state for key, kind in self.figures.items() if kind.default_state}

    @cached_property
    def withdrawn_of(self) -> Mapping[str, tuple[Mapping[str, Any], ...]]:
        """The withdrawn statements' addresses, by family."""
        grouped: dict[str, list[Mapping[str, Any]]] = {}
        for entry in self.withdrawn:
            grouped.setdefault(entry["statement"]["family"], []).append(entry)
        return {key: tuple(entries) for key, entries in grouped.items()}


def _whole(document: Mapping[str, Any]) -> bool:
    """Whether a catalogue entry, of which parts may have been cut, still has all that rules rely on."""
    wanted = ("label", "dimension", "units", "states", "hazard", "aim", "safest_end", "job_order")
    return all(key in document for key in wanted)


class StatementPlace(NamedTuple):
    """A statement of a family or a reading of a report, with its place and the catalogue's entry of its figure."""

    path: Path
    figure: str
    kind: FigureKind
    document: Mapping[str, Any]


@dataclass(frozen=True)
class StatementCase:
    """One file in hand: its typed document, of which broken parts have been cut, and the desk."""

    file: str
    kind: str
    id: str
    document: Mapping[str, Any]
    desk: RuleContext
    cuts: Cuts = field(default_factory=Cuts)

    @cached_property
    def family(self) -> Family:
        """The document as a family."""
        return Family(self.id, self.document, self.desk.default_states)

    @cached_property
    def stated(self) -> tuple[StatementPlace, ...]:
        """Every statement of a family, or reading of a report, whose figure is in the catalogue."""
        figures = self.desk.figures
        return tuple(
            StatementPlace((key, figure, index), figure, figures[figure], document)
            for key in ("figures", "as_found", "as_left")
            for figure, entries in (self.document.get(key) or {}).items()
            if figure in figures
            for index, document in enumerate(as_list(entries))
        )

    @cached_property
    def judged(self) -> FamilyFacts:
        """What the family's statements come to."""
        desk = self.desk
        return FamilyFacts(self.family, desk.figures, desk.sources, desk.withdrawn_of.get(self.id, ()))

    def original(self, path: Path) -> Path:
        """The path in the file as it stands, before anything was cut."""
        return self.cuts.original(path)
