"""The results of a family's statements, worked out once for all rules, and the statements that rules compare."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from itertools import product
from typing import TYPE_CHECKING

from kb.book.evidence.roles import all_count
from kb.book.evidence.standing import Judgement, Role, Standing, judgements, root, weigh
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_kinds import engine_kinds
from kb.book.model.family import Family, FigureKind, Fit, Source, Statement
from kb.frozen import cached_property
from kb.intake.facts.float_values import Ends, comparable_ends
from kb.quantity import Quantity, value_key
from kb.vocabulary.catalogue import HazardTier, SafestEnd

if TYPE_CHECKING:
    from kb.book.model.documents import WithdrawnDocument

Comparable = Callable[[Statement, Statement], bool]


MOST_STATEMENTS, MOST_PARTS, MOST_FITS = 150, 12, 60
"""Limits of one figure and of one family. A rule reports what exceeds them; it is not compared, which could take
minutes."""


def overfull(statements: Sequence[Statement]) -> bool:
    """Whether a figure has far more statements, or parts of the family, than any real figure."""
    if len(statements) > MOST_STATEMENTS:
        return True
    return len(statements) > MOST_PARTS and len({one.only for one in statements if one.only}) > MOST_PARTS


class FamilyFacts:
    """The judgements of one family's figures, and the pairs of statements that may be compared."""

    def __init__(
        self,
        family: Family,
        figures: Mapping[str, FigureKind],
        sources: Mapping[str, Source],
        withdrawn: Sequence[WithdrawnDocument],
    ) -> None:
        self._family, self._figures, self._withdrawn = family, figures, withdrawn
        self._all_sources = sources
        self._roots: dict[str, str] = {}
        self._by_figure: dict[str, list[tuple[tuple[Statement, ...], Judgement]]] = {}
        self._groups: dict[str, Sequence[Sequence[Statement]]] = {}
        self._same: dict[str, bool] = {}
        self._ends: dict[int, Ends | None] = {}
        self._ends_of_figure: dict[str, Set[Ends]] = {}
        self._in_force: dict[tuple[str, frozenset[Fit]], list[Statement]] = {}

    @cached_property
    def statements(self) -> Mapping[str, Sequence[Statement]]:
        """The statements of each figure, apart from figures with far too many."""
        if len(self._family.fits) > MOST_FITS:
            return {}
        return {figure: one for figure, one in self._family.statements.items() if not overfull(one)}

    @cached_property
    def sources(self) -> Mapping[str, Source]:
        """The existing sources that the family names, and the sources that these reprint."""
        found: dict[str, Source] = {}
        for name in dict.fromkeys(one.source for statements in self._family.statements.values() for one in statements):
            while name and name not in found and (source := self._all_sources.get(name)):
                found[name] = source
                name = source.reprint_of
        return found

    @cached_property
    def hearsay(self) -> frozenset[str]:
        """The sources of the family that are memory or common practice."""
        return frozenset(name for name, source in self.sources.items() if source.hearsay)

    @cached_property
    def crank(self) -> Crank | None:
        """The family's crank, if stroke and rod are given."""
        return Crank.of(self._family)

    @cached_property
    def angles(self) -> Sequence[Statement]:
        """Every statement of a crank angle, apart from those marked ``absent``."""
        statements = self.statements
        return [one for figure in statements if self._is_angle(figure) for one in statements[figure] if not one.absent]

    def _is_angle(self, figure: str) -> bool:
        kind = self._figures.get(figure)
        return kind is not None and kind.document["dimension"] == "crank-angle"

    def of(self, figure: str) -> list[tuple[tuple[Statement, ...], Judgement]]:
        """The judgements of one figure, for each state, set of conditions and kind of engine."""
        if figure not in self._by_figure:
            statements, kind = self.statements[figure], self._figures.get(figure)
            self._by_figure[figure] = judgements(
                statements,
                self.sources,
                self._family.fits,
                withdrawn=self._withdrawn,
                crank=self.crank if self._is_angle(figure) else None,
                safest_end=kind.safest_end if kind else SafestEnd.NONE,
            )
        return self._by_figure[figure]

    def same(self, figure: str) -> bool:
        """Whether all statements of a figure are plainly the same under the same conditions, for the same engines.

        They are then agreed or single on paper or metal, whichever way one looks at them; no value is read for it.
        """
        if figure not in self._same:
            self._same[figure] = not self._withdrawn and self._plainly_same(figure)
        return self._same[figure]

    def _plainly_same(self, figure: str) -> bool:
        hearsay = self.hearsay
        for like in self._alike(figure):
            first = like[0].document
            key = value_key(first)
            if not key or key == "from" or key == "to":
                return False
            raw = first[key]
            for one in like:
                document = one.document
                if document.get(key) != raw or one.only is not None or one.source in hearsay:
                    return False
                if "supersedes" in document:
                    return False
        return True

    @cached_property
    def all(self) -> Sequence[tuple[FigureKind, Judgement]]:
        """Every judgement of every figure of the catalogue, but for those of which all statements are the same."""
        return [
            (kind, judgement)
            for figure in self.statements
            if (kind := self._figures.get(figure)) and not self.same(figure)
            for _, judgement in self.of(figure)
        ]

    @cached_property
    def of_tier_a(self) -> Sequence[tuple[FigureKind, Sequence[Statement], bool]]:
        """Of every figure that can wreck an engine or hurt someone the statements that count together.

        With them comes whether they are one original's.
        """
        found: list[tuple[FigureKind, Sequence[Statement], bool]] = []
        for figure in self.statements:
            kind = self._figures.get(figure)
            if kind is None or kind.document["hazard"] != HazardTier.A:
                continue
            if self.same(figure):
                groups = self._alike(figure)
                found += [(kind, like, len({self.original(one) for one in like}) == 1) for like in groups]
            else:
                judgements = [one for _, one in self.of(figure)]
                found += [(kind, one.counting, one.standing is Standing.SINGLE and one.judged) for one in judgements]
        return found

    def _alike(self, figure: str) -> Sequence[Sequence[Statement]]:
        """The statements of a figure in groups of one state and the same conditions."""
        if figure not in self._groups:
            groups: dict[object, list[Statement]] = {}
            for one in self.statements[figure]:
                groups.setdefault((one.state, one.at), []).append(one)
            self._groups[figure] = list(groups.values())
        return self._groups[figure]

    def leading(self, figure: str) -> Sequence[Statement]:
        """The first statement that counts for each state and set of conditions, and each kind of engine."""
        if not self.same(figure):
            return [one for _, judgement in self.of(figure) for one in judgement.counting[:1]]
        return [like[0] for like in self._alike(figure)]

    def states(self, figure: str) -> bool:
        """Whether the family has statements of a figure."""
        return figure in self.statements

    def original(self, statement: Statement) -> str:
        """The original that a statement is from: its source, or what that reprints."""
        source = statement.source
        if source not in self._roots:
            self._roots[source] = root(source, self.sources)
        return self._roots[source]

    @cached_property
    def _has_parts(self) -> bool:
        return any(one.only is not None for statements in self.statements.values() for one in statements)

    def kinds(self, *figures: str) -> list[frozenset[Fit]]:
        """The kinds of engine that the statements of these figures tell apart."""
        if not self._has_parts:
            return [frozenset()]
        statements = self.statements
        parts = [one.only for figure in figures for one in statements.get(figure, ()) if one.only]
        return engine_kinds(self._family.fits, parts)

    def in_force(self, figure: str, parts: frozenset[Fit] = frozenset()) -> list[Statement]:
        """The statements of a figure that count for engines that lie in ``parts``."""
        key = (figure, parts)
        if key not in self._in_force:
            figures = self.statements.get(figure, ())
            stated = [one for one in figures if not one.absent and (one.only is None or one.only in parts)]
            if not all_count(figures, self._withdrawn):
                evidence = weigh(stated, figures, self.sources, parts, self._withdrawn)
                stated = [found.statement for found in evidence if found.role is Role.COUNTS]
            self._in_force[key] = stated
        return self._in_force[key]

    def pairs(self, first: str, second: str, alike: Comparable) -> Iterator[tuple[Statement, Statement, bool]]:
        """Statements of two figures (or of one) that are alike, and whether they are of one original.

        Across originals only those that have no partner of their own; for each kind of engine what holds there.
        """
        if not (self.states(first) and self.states(second)):
            return
        seen: set[tuple[int, int]] = set()
        for parts in self.kinds(first, second):
            for one, other, same in self._pairs(self.in_force(first, parts), self.in_force(second, parts), alike):
                if (one.index, other.index) not in seen:
                    seen.add((one.index, other.index))
                    yield one, other, same

    def clashes(
        self, first: str, second: str, alike: Comparable, wrong: Callable[[Ends, Ends], bool]
    ) -> Iterator[tuple[Statement, Statement, bool]]:
        """The pairs whose ends, the first's beside the second's, are what they should not be."""
        if not any(wrong(*ends) for ends in self._ends_of_both(first, second, alike)):  # as nearly always
            return
        for one, other, same in self.pairs(first, second, alike):
            ends, others = self.ends(one), self.ends(other)
            if ends and others and wrong(ends, others):
                yield one, other, same

    def _ends_of_both(self, first: str, second: str, alike: Comparable) -> Iterator[tuple[Ends, Ends]]:
        """The ends of whatever may be a pair, each once and without a look at sources or kinds of engine."""
        if first != second:
            return product(self._all_ends(first), self._all_ends(second))
        stated = [one for one in self.statements.get(first, ()) if not one.absent]
        pairs = [(self.ends(one), self.ends(other)) for one, other in product(stated, stated) if alike(one, other)]
        return ((ends, others) for ends, others in pairs if ends and others)

    def _all_ends(self, figure: str) -> Set[Ends]:
        """The ends of all values of a figure, whenever and of whichever engine they hold."""
        if figure not in self._ends_of_figure:
            found = (self.ends(one) for one in self.statements.get(figure, ()) if not one.absent)
            self._ends_of_figure[figure] = {ends for ends in found if ends}
        return self._ends_of_figure[figure]

    def _pairs(
        self, ones: Sequence[Statement], others: Sequence[Statement], alike: Comparable
    ) -> Iterator[tuple[Statement, Statement, bool]]:
        originals = {other.source: self.original(other) for other in others}
        partnered: set[int] = set()
        for one in ones:
            original = self.original(one)
            for other in others:
                if originals[other.source] == original and alike(one, other):
                    partnered.update((id(one), id(other)))
                    yield one, other, True
        alone, also_alone = ([one for one in several if id(one) not in partnered] for several in (ones, others))
        for one in alone:
            for other in also_alone:
                if self.original(one) != originals[other.source] and alike(one, other):
                    yield one, other, False

    def ends(self, statement: Statement) -> Ends | None:
        """The ends of a statement's value, comparable within its dimension, a piston position as degrees.

        Nothing for what is no quantity, and where no crank leads to degrees.
        """
        value = statement.value
        key = id(value)  # equal texts are read once, and the family keeps its values
        if key not in self._ends:
            self._ends[key] = comparable_ends(value, self.crank) if isinstance(value, Quantity) else None
        return self._ends[key]
