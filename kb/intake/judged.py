"""What a family's statements come to, worked out once for all the rules that ask; and which of them are compared."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import cached_property
from math import inf

from kb.book.engines import engine_kinds
from kb.book.geometry import Crank, in_degrees
from kb.book.records import Document, Family, FigureKind, Fit, Source, Statement
from kb.book.standing import Judgement, Role, applies, judgements, root, weigh
from kb.finding import Path, Slip
from kb.quantity import Dimension, Quantity, value_keys

Alike = Callable[[Statement, Statement], bool]


class Judged:
    """The judgements of one family's figures, and the pairs of statements that may be compared."""

    def __init__(
        self,
        family: Family,
        figures: Mapping[str, FigureKind],
        sources: Mapping[str, Source],
        withdrawn: Sequence[Document],
    ) -> None:
        self._family, self._figures, self._sources, self._withdrawn = family, figures, sources, withdrawn
        self._roots: dict[str, str] = {}
        self._by_figure: dict[str, list[tuple[tuple[Statement, ...], Judgement]]] = {}

    @cached_property
    def crank(self) -> Crank | None:
        """The family's crank, where stroke and rod are told."""
        return Crank.of(self._family)

    def of(self, figure: str) -> list[tuple[tuple[Statement, ...], Judgement]]:
        """The judgements of one figure: for each state and set of conditions, each kind of engine."""
        if figure not in self._by_figure:
            statements = self._family.statements[figure]
            kind = self._figures.get(figure)
            angles = kind is not None and len(statements) > 1 and kind.dimension is Dimension.CRANK_ANGLE
            self._by_figure[figure] = judgements(
                statements,
                self._sources,
                self._family.fits,
                withdrawn=self._withdrawn,
                crank=self.crank if angles else None,
                safest_end=kind.safest_end if kind else "none",
            )
        return self._by_figure[figure]

    def __iter__(self) -> Iterator[tuple[FigureKind, tuple[Statement, ...], Judgement]]:
        """Every judgement of every figure that is in the catalogue."""
        for figure in self._family.statements:
            if kind := self._figures.get(figure):
                for like, judgement in self.of(figure):
                    yield kind, like, judgement

    def states(self, figure: str) -> bool:
        """Whether the family has statements of a figure."""
        return figure in self._family.statements

    def original(self, statement: Statement) -> str:
        """The original that a statement is from: its source, or what that reprints."""
        source = statement.source
        if source not in self._roots:
            self._roots[source] = root(source, self._sources)
        return self._roots[source]

    def kinds(self, *figures: str) -> list[frozenset[Fit]]:
        """The kinds of engine that the statements of these figures tell apart."""
        statements = self._family.statements
        parts = [one.only for figure in figures for one in statements.get(figure, ()) if one.only]
        return engine_kinds(self._family.fits, parts)

    def in_force(self, figure: str, parts: frozenset[Fit] = frozenset()) -> list[Statement]:
        """The statements of a figure that count for engines that lie in ``parts``."""
        figures = self._family.statements.get(figure, ())
        stated = [one for one in figures if not one.absent and applies(one, parts)]
        evidence = weigh(stated, figures, self._sources, parts, self._withdrawn)
        return [found.statement for found in evidence if found.role is Role.COUNTS]

    def pairs(self, first: str, second: str, alike: Alike) -> Iterator[tuple[Statement, Statement, bool]]:
        """Statements of two figures (or of one) that are alike, and whether they are of one original.

        Across originals only those that have no partner of their own; for each kind of engine what holds there.
        """
        if not (self.states(first) and self.states(second)):
            return
        seen: set[tuple[int, int]] = set()
        for parts in self.kinds(first, second):
            ones, others = self.in_force(first, parts), self.in_force(second, parts)
            both = [(one, other) for one in ones for other in others if alike(one, other)]
            own = [(one, other) for one, other in both if self.original(one) == self.original(other)]
            partnered = {id(one) for pair in own for one in pair}
            for one, other in both:
                same = self.original(one) == self.original(other)
                if not same and (id(one) in partnered or id(other) in partnered):
                    continue
                if (one.index, other.index) not in seen:
                    seen.add((one.index, other.index))
                    yield one, other, same

    def angle(self, statement: Statement) -> Quantity | None:
        """A statement's crank angle in degrees, a piston position through the crank; nothing if it is none."""
        value = statement.value
        return in_degrees(value, self.crank) if isinstance(value, Quantity) else None


def once(slips: Iterable[Slip]) -> Iterator[Slip]:
    """Only the first slip of each place, so that one wrong digit is told once."""
    seen: set[Path] = set()
    for slip in slips:
        if slip.path not in seen:
            seen.add(slip.path)
            yield slip


def value_path(statement: Statement) -> Path:
    """Where a statement's value stands."""
    keys = value_keys(statement.document)
    return ("figures", statement.figure, statement.index, *keys[:1])


def cite(statement: Statement) -> str:
    """Where a statement is from, in words: its source and page."""
    return f"page {statement.page} of {statement.source}" if statement.page else statement.source


def says(statement: Statement) -> str:
    """What a statement says and where, in words."""
    return f"{statement.value} ({cite(statement)})"


def agree_where_both_say(one: Statement, other: Statement, but: frozenset[str] = frozenset()) -> bool:
    """Whether no condition that both state differs, but for those named."""
    if not one.at or not other.at:
        return True
    conditions = other.conditions
    return all(key in but or conditions.get(key, value) == value for key, value in one.at)


def lies_above(one: Quantity, other: Quantity) -> bool:
    """Whether a value lies above another, for crank angles earlier, at both its ends.

    A value that reaches further at one end and less far at the other is not above; neither is one open below.
    """
    low, other_low = _closed(one, other, -inf, lambda quantity: quantity.low)
    high, other_high = _closed(one, other, inf, lambda quantity: quantity.high)
    return low > other_low and high > other_high


def _closed(
    one: Quantity, other: Quantity, open_end: float, end: Callable[[Quantity], Fraction | None]
) -> tuple[Fraction | float, Fraction | float]:
    """One end of both in the unit of the first; an open end is without bound."""
    mine, its = end(one), end(other)
    return (open_end if mine is None else mine), (open_end if its is None else other.unit.convert(its, one.unit))


def earliest(angle: Quantity | None) -> Fraction | None:
    """The earliest end of a crank angle that is printed."""
    return None if angle is None else angle.low if angle.high is None else angle.high


def latest(angle: Quantity | None) -> Fraction | None:
    """The latest end of a crank angle that is printed."""
    return None if angle is None else angle.high if angle.low is None else angle.low
