"""The standing of each figure in each family, counted while the families' pages are made."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from kb.book.model.catalogue import FigureKind, in_job_order
from kb.book.model.engine_ranges import Document
from kb.vocabulary.catalogue import HazardTier
from kb.vocabulary.evidence import HowSure

STANDINGS = (
    *("worked out" if word == HowSure.DERIVED else word for word in HowSure.words),
    "not stated",
    "does not apply",
    "unknown",
)
"""The standings in words, from the surest to the least; of several states or kinds of engine the least sure counts."""

AGREED, SINGLE, DERIVED, DISPUTED, NOT_STATED, NOT_APPLICABLE, UNKNOWN = range(len(STANDINGS))
_PROBLEMS = {
    "FigureNotStated": NOT_STATED,
    "FigureDoesNotApply": NOT_APPLICABLE,
    "FigureUnknown": UNKNOWN,
    "FigureWithdrawn": UNKNOWN,
    "NoCorrectionKnown": UNKNOWN,
}


class HeldFigures(NamedTuple):
    """A family with a standing, by its place in STANDINGS, for each kind of figure in the order of the job."""

    id: str
    name: str
    years: str
    standings: bytes

    @property
    def called(self) -> str:
        """Its name with its years, to distinguish families to which a maker gave the same name."""
        return f"{self.name}, {self.years}" if self.years else self.name


class Tally:
    """The count; ``kinds`` are the kinds of figure in the order of the job, ``families`` those that were added."""

    def __init__(self, figures: Iterable[FigureKind]) -> None:
        self.kinds: Sequence[FigureKind] = in_job_order(figures)
        self.families: list[HeldFigures] = []
        self._places = {kind.id: place for place, kind in enumerate(self.kinds)}

    def add(self, page: Document) -> None:
        """Count a family by its page document."""
        standings = bytearray([UNKNOWN]) * len(self.kinds)
        for figure in page["figures"]:
            standings[self._places[figure["id"]]] = _standing(figure)
        years = next((_years(fit["years"]) for fit in page["fits"] if "years" in fit), "")
        self.families.append(HeldFigures(page["id"], page["name"], years, bytes(standings)))

    def of_figure(self, figure: str) -> Iterator[tuple[HeldFigures, int]]:
        """Every family with the figure's standing in it."""
        place = self._places[figure]
        return ((family, family.standings[place]) for family in self.families)

    def counted(self) -> Mapping[str, Counter[int]]:
        """The number of families by standing, for each kind of figure."""
        return {
            kind.id: Counter(family.standings[place] for family in self.families)
            for place, kind in enumerate(self.kinds)
        }

    def by_maker(self) -> Mapping[str, Sequence[HeldFigures]]:
        """The families of each maker, sorted by id."""
        found: dict[str, list[HeldFigures]] = {}
        for family in sorted(self.families):
            found.setdefault(family.id.partition("/")[0], []).append(family)
        return found

    def wanted(self) -> Sequence[tuple[FigureKind, Sequence[HeldFigures], Sequence[HeldFigures]]]:
        """Each figure that does harm when wrong, with the families where it is unknown, and those where it has one
        source; the most wanted first."""
        rows = []
        for kind in self.kinds:
            if kind.hazard == HazardTier.A:
                held = list(self.of_figure(kind.id))
                none = [family for family, standing in held if standing in (UNKNOWN, NOT_STATED)]
                rows.append((kind, none, [family for family, standing in held if standing == SINGLE]))
        rows = [row for row in rows if row[1] or row[2]]
        return sorted(rows, key=lambda row: (-len(row[1]), -len(row[2]), row[0].job_order))


def _years(typed: Mapping[str, Any] | Sequence[Any]) -> str:
    """A range of years, as typed, in short."""
    if isinstance(typed, Mapping):
        return " ".join(f"{end} {typed[end]}" for end in ("from", "to") if end in typed)
    return "–".join(map(str, typed))


def _standing(figure: Mapping[str, Any]) -> int:
    """The standing of a figure: the least sure of its kinds of engine."""
    rows, kinds = figure["rows"], len(figure.get("kinds", "1"))
    return max(_of_kind([row for row in rows if kind in row.get("in", (kind,))]) for kind in range(kinds))


def _of_kind(rows: Sequence[Mapping[str, Any]]) -> int:
    """The least sure of the answers for one kind of engine; rows without an answer count only where all are without."""
    answered = [HowSure.words.index(row["standing"]) for row in rows if "standing" in row]
    return max(answered or [_PROBLEMS.get(row["problem"], DISPUTED) for row in rows] or [UNKNOWN])
