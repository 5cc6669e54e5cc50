"""The results of a family's statements, worked out once for all rules, and the statements that rules compare."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence, Set
from itertools import product
from typing import TYPE_CHECKING

from kb.book.evidence.roles import all_count
from kb.book.evidence.standing import Judgement, Role, Standing, judgements, original_of, roles_of
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


def has_too_many(statements: Sequence[Statement]) -> bool:
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
        return {figure: one for figure, one in self._family.statements.items() if not has_too_many(one)}

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

    def judgements_of(self, figure: str) -> list[tuple[tuple[Statement, ...], Judgement]]:
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

    def is_uniform(self, figure: str) -> bool:
        """Whether all statements of a figure under the same conditions print the same value, for the same engines.

        Then they are agreed or single in any case, and on paper or metal. The values need not be parsed to see it.
        """
        if figure not in self._same:
            self._same[figure] = not self._withdrawn and self._plainly_same(figure)
        return self._same[figure]

    def _plainly_same(self, figure: str) -> bool:
        hearsay = self.hearsay
        for like in self._groups_by_condition(figure):
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
    def judgements(self) -> Sequence[tuple[FigureKind, Judgement]]:
        """Every judgement of every figure in the catalogue, apart from uniform figures."""
        return [
            (kind, judgement)
            for figure in self.statements
            if (kind := self._figures.get(figure)) and not self.is_uniform(figure)
            for _, judgement in self.judgements_of(figure)
        ]

    @cached_property
    def tier_a_evidence(self) -> Sequence[tuple[FigureKind, Sequence[Statement], bool]]:
        """For every figure that can wreck an engine or hurt someone: the statements that count together.

        With them comes whether all of them are from one original source.
        """
        found: list[tuple[FigureKind, Sequence[Statement], bool]] = []
        for figure in self.statements:
            kind = self._figures.get(figure)
            if kind is None or kind.document["hazard"] != HazardTier.A:
                continue
            if self.is_uniform(figure):
                groups = self._groups_by_condition(figure)
                found += [(kind, like, len({self.original(one) for one in like}) == 1) for like in groups]
            else:
                judgements = [one for _, one in self.judgements_of(figure)]
                found += [(kind, one.counting, one.standing is Standing.SINGLE and one.judged) for one in judgements]
        return found

    def _groups_by_condition(self, figure: str) -> Sequence[Sequence[Statement]]:
        """The statements of a figure, grouped by state and conditions."""
        if figure not in self._groups:
            groups: dict[object, list[Statement]] = {}
            for one in self.statements[figure]:
                groups.setdefault((one.state, one.at), []).append(one)
            self._groups[figure] = list(groups.values())
        return self._groups[figure]

    def first_statements(self, figure: str) -> Sequence[Statement]:
        """The first statement that counts, for each state, set of conditions and kind of engine."""
        if not self.is_uniform(figure):
            return [one for _, judgement in self.judgements_of(figure) for one in judgement.counting[:1]]
        return [like[0] for like in self._groups_by_condition(figure)]

    def has_statements(self, figure: str) -> bool:
        """Whether the family has statements of a figure."""
        return figure in self.statements

    def original(self, statement: Statement) -> str:
        """The original source of a statement: its source, or the one that this reprints."""
        source = statement.source
        if source not in self._roots:
            self._roots[source] = original_of(source, self.sources)
        return self._roots[source]

    @cached_property
    def _has_parts(self) -> bool:
        return any(one.only is not None for statements in self.statements.values() for one in statements)

    def engine_kinds(self, *figures: str) -> list[frozenset[Fit]]:
        """The kinds of engine that the statements of these figures distinguish."""
        if not self._has_parts:
            return [frozenset()]
        statements = self.statements
        parts = [one.only for figure in figures for one in statements.get(figure, ()) if one.only]
        return engine_kinds(self._family.fits, parts)

    def in_force(self, figure: str, parts: frozenset[Fit] = frozenset()) -> list[Statement]:
        """The statements of a figure that count for engines in ``parts``."""
        key = (figure, parts)
        if key not in self._in_force:
            figures = self.statements.get(figure, ())
            stated = [one for one in figures if not one.absent and (one.only is None or one.only in parts)]
            if not all_count(figures, self._withdrawn):
                evidence = roles_of(stated, figures, self.sources, parts, self._withdrawn)
                stated = [found.statement for found in evidence if found.role is Role.COUNTS]
            self._in_force[key] = stated
        return self._in_force[key]

    def superseded(self, figure: str, parts: frozenset[Fit] = frozenset()) -> list[Statement]:
        """The statements of a figure that another one supersedes for engines in ``parts``."""
        figures = self.statements.get(figure, ())
        if all_count(figures, self._withdrawn):
            return []
        stated = [one for one in figures if not one.absent and (one.only is None or one.only in parts)]
        evidence = roles_of(stated, figures, self.sources, parts, self._withdrawn)
        return [found.statement for found in evidence if found.role is Role.SUPERSEDED]

    def pairs(self, first: str, second: str, comparable: Comparable) -> Iterator[tuple[Statement, Statement, bool]]:
        """Comparable statements of two figures (or of one), and whether both are from one original source.

        Statements from different originals are paired only if they have no partner from their own. Only statements that
        count for the same kind of engine are paired.
        """
        if not (self.has_statements(first) and self.has_statements(second)):
            return
        seen: set[tuple[int, int]] = set()
        for parts in self.engine_kinds(first, second):
            for one, other, same in self._pairs(self.in_force(first, parts), self.in_force(second, parts), comparable):
                if (one.index, other.index) not in seen:
                    seen.add((one.index, other.index))
                    yield one, other, same

    def clashes(
        self, first: str, second: str, comparable: Comparable, wrong: Callable[[Ends, Ends], bool]
    ) -> Iterator[tuple[Statement, Statement, bool]]:
        """The pairs of which ``wrong``, given the ends of the first and of the second, is true."""
        if not any(wrong(*ends) for ends in self._ends_of_both(first, second, comparable)):  # as nearly always
            return
        for one, other, same in self.pairs(first, second, comparable):
            ends, others = self.ends(one), self.ends(other)
            if ends and others and wrong(ends, others):
                yield one, other, same

    def _ends_of_both(self, first: str, second: str, comparable: Comparable) -> Iterator[tuple[Ends, Ends]]:
        """The ends of all possible pairs, each once, regardless of sources and kinds of engine."""
        if first != second:
            return product(self._all_ends(first), self._all_ends(second))
        stated = [one for one in self.statements.get(first, ()) if not one.absent]
        pairs = [(self.ends(one), self.ends(other)) for one, other in product(stated, stated) if comparable(one, other)]
        return ((ends, others) for ends, others in pairs if ends and others)

    def _all_ends(self, figure: str) -> Set[Ends]:
        """The ends of all values of a figure, for all conditions and engines."""
        if figure not in self._ends_of_figure:
            found = (self.ends(one) for one in self.statements.get(figure, ()) if not one.absent)
            self._ends_of_figure[figure] = {ends for ends in found if ends}
        return self._ends_of_figure[figure]

    def _pairs(
        self, ones: Sequence[Statement], others: Sequence[Statement], comparable: Comparable
    ) -> Iterator[tuple[Statement, Statement, bool]]:
        originals = {other.source: self.original(other) for other in others}
        partnered: set[int] = set()
        for one in ones:
            original = self.original(one)
            for other in others:
                if originals[other.source] == original and comparable(one, other):
                    partnered.update((id(one), id(other)))
                    yield one, other, True
        alone, also_alone = ([one for one in several if id(one) not in partnered] for several in (ones, others))
        for one in alone:
            for other in also_alone:
                if self.original(one) != originals[other.source] and comparable(one, other):
                    yield one, other, False

    def ends(self, statement: Statement) -> Ends | None:
        """The ends of a statement's value, comparable within its dimension; a piston position is converted to degrees.

        None if the value is not a quantity, or if stroke and rod are unknown.
        """
        value = statement.value
        key = id(value)  # equal texts are read once, and the family keeps its values
        try:
            return self._ends[key]
        except KeyError:
            found = comparable_ends(value, self.crank) if isinstance(value, Quantity) else None
            self._ends[key] = found
            return found
