"""Plain frozen records, built from documents whose scalars are text, as the reader and the compiled book keep them.

``from_document`` expects a document that the intake has typed; it checks nothing again.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any

from kb.quantity import Dimension, Value, read_value, value_keys

Document = Mapping[str, Any]

PAGED_KINDS = frozenset({"handbook", "workshop-manual", "bulletin", "parts-list"})
"""Kinds of source that have pages."""

HEARSAY_KINDS = frozenset({"common-practice", "memory"})
"""Kinds of source that are never an original beside an original."""

STATES = ("cranking", "running", "static", "at-rest")


def as_list(raw: Any) -> Sequence[Any]:
    """A list as it is; what is missing as an empty one."""
    return raw if isinstance(raw, (list, tuple)) else ()


@dataclass(frozen=True, slots=True)
class Range:
    """An inclusive range of years or serial numbers as text; an end that is not given is open."""

    first: str | None
    last: str | None

    @classmethod
    def read(cls, raw: Any) -> Range | None:
        """From ``[1978, 1981]``, ``1978`` or ``{from: .., to: ..}``; nothing gives nothing."""
        if raw is None:
            return None
        if isinstance(raw, Mapping):
            return cls(raw.get("from"), raw.get("to"))
        if isinstance(raw, (list, tuple)):
            return cls(raw[0], raw[1])
        return cls(raw, raw)

    def __str__(self) -> str:
        if self.first == self.last:
            return str(self.first)
        if self.first is None:
            return f"up to {self.last}"
        return f"{self.first} to {self.last}" if self.last else f"from {self.first}"


@dataclass(frozen=True, slots=True)
class Fit:
    """Which engines: years of make and serial numbers."""

    years: Range | None = None
    serials: Range | None = None
    note: str = ""

    @classmethod
    def read(cls, raw: Document | None) -> Fit | None:
        """From a mapping with ``years`` and ``serials``."""
        if not raw:
            return None
        return cls(Range.read(raw.get("years")), Range.read(raw.get("serials")), raw.get("note", ""))

    def __str__(self) -> str:
        words = []
        if self.years:
            words.append(str(self.years) if self.years.first and self.years.last else f"years {self.years}")
        if self.serials:
            words.append(f"serials {self.serials}")
        return ", ".join(words) or "all"


@dataclass(frozen=True)
class Statement:
    """One source's value of one figure in one state: the unit of evidence.

    ``at`` holds the further conditions as typed; ``document`` the whole statement as typed.
    """

    figure: str
    index: int
    state: str
    source: str
    page: str
    at: tuple[tuple[str, Any], ...]
    only: Fit | None
    absent: str
    document: Document = field(repr=False, compare=False)

    @classmethod
    def read(cls, figure: str, index: int, raw: Document, default_state: str = "") -> Statement:
        """From one entry under a figure."""
        at = raw.get("at")
        return cls(
            figure,
            index,
            raw.get("state") or default_state,
            raw.get("source", ""),
            raw.get("page", ""),
            frozen(at) if at else (),
            Fit.read(raw.get("only")),
            raw.get("absent", ""),
            raw,
        )

    @cached_property
    def value(self) -> Value:
        """The value as printed; not for an absent one.

        Raises:
            QuantityError: the statement is an ``absent``, or its value cannot be read.
        """
        return read_value(self.document)

    @cached_property
    def also(self) -> tuple[Value, ...]:
        """The page's further units."""
        also = self.document.get("also") or {}
        pairs = [{key: also[key]} for key in value_keys(also) if key != "from"]
        if "from" in also:
            pairs.append({"from": also["from"], "to": also.get("to")})
        return tuple(read_value(pair) for pair in pairs)

    @property
    def supersedes(self) -> tuple[str, str] | None:
        """Source and page of what it supersedes."""
        raw = self.document.get("supersedes")
        return (raw["source"], raw.get("page", "")) if raw else None

    @property
    def conditions(self) -> dict[str, Any]:
        """The further conditions by name."""
        return dict(self.at)


def frozen(value: Any) -> Any:
    """A document value as a hashable one: mappings as sorted pairs, lists as tuples."""
    if isinstance(value, Mapping):
        return tuple(sorted((key, frozen(inner)) for key, inner in value.items()))
    return tuple(map(frozen, value)) if isinstance(value, (list, tuple)) else value


@dataclass(frozen=True)
class Family:
    """Engines that are set by the same figures."""

    id: str
    document: Document = field(repr=False)
    default_states: Mapping[str, str] = field(default_factory=dict, repr=False, compare=False)

    @property
    def name(self) -> str:
        """What the maker called it."""
        return str(self.document.get("name", self.id))

    @property
    def maker(self) -> str:
        """The maker's id."""
        return str(self.document.get("maker", ""))

    @property
    def invented(self) -> bool:
        """Whether it is invented demonstration data."""
        return bool(self.document.get("invented") == "true")

    @cached_property
    def fits(self) -> tuple[Fit, ...]:
        """The engines it fits; none given means all of that name."""
        return tuple(fit for fit in map(Fit.read, as_list(self.document.get("fits"))) if fit)

    @cached_property
    def statements(self) -> Mapping[str, tuple[Statement, ...]]:
        """Every statement, by figure, in the order of the file."""
        figures: Mapping[str, Any] = self.document.get("figures") or {}
        return {
            figure: tuple(
                Statement.read(figure, index, raw, self.default_states.get(figure, ""))
                for index, raw in enumerate(as_list(entries))
            )
            for figure, entries in figures.items()
        }

    def part(self, *path: str) -> Any:
        """What stands at a path of keys, or nothing."""
        here: Any = self.document
        for key in path:
            if not isinstance(here, Mapping) or key not in here:
                return None
            here = here[key]
        return here


@dataclass(frozen=True)
class FigureKind:
    """A catalogue entry: one kind of figure."""

    id: str
    document: Document = field(repr=False)

    @property
    def label(self) -> str:
        """Its name in the trade."""
        return str(self.document["label"])

    @property
    def dimension(self) -> Dimension:
        """What it measures."""
        return Dimension(self.document["dimension"])

    @property
    def units(self) -> tuple[str, ...]:
        """The unit keys it may be stated in."""
        return tuple(self.document["units"])

    @property
    def states(self) -> tuple[str, ...]:
        """The states it may be stated in."""
        return tuple(self.document["states"])

    @property
    def conditions(self) -> tuple[str, ...]:
        """The further conditions it may be stated under."""
        return tuple(as_list(self.document.get("at")))

    @property
    def default_state(self) -> str:
        """The state when none is said: only where there is just one."""
        return self.states[0] if len(self.states) == 1 else ""

    @property
    def hazard(self) -> str:
        """Hazard tier: A, B or C."""
        return str(self.document["hazard"])

    @property
    def safest_end(self) -> str:
        """Which end of a dispute is safest: later, earlier, smaller, larger, or none."""
        return str(self.document["safest_end"])

    @property
    def aim(self) -> str:
        """Which part of the window to aim at: early-end, middle, late-end, or none."""
        return str(self.document["aim"])

    @property
    def job_order(self) -> int:
        """Its place in the order of the job."""
        return int(self.document["job_order"])


@dataclass(frozen=True)
class Source:
    """Where statements come from."""

    id: str
    document: Document = field(repr=False)

    @property
    def kind(self) -> str:
        """Its kind, such as handbook or plate; nothing while its file is being put right."""
        return str(self.document.get("kind", ""))

    @property
    def title(self) -> str:
        """Its title with edition and year, as far as known."""
        return str(self.document.get("title", self.id))

    @property
    def reprint_of(self) -> str:
        """The source it reprints, or nothing."""
        return str(self.document.get("reprint_of", ""))

    @property
    def paged(self) -> bool:
        """Whether it has pages, which a statement must then name."""
        return self.kind in PAGED_KINDS

    @property
    def hearsay(self) -> bool:
        """Whether it is memory or common practice."""
        return self.kind in HEARSAY_KINDS


@dataclass(frozen=True)
class Maker:
    """A maker of engines."""

    id: str
    document: Document = field(repr=False)

    @property
    def name(self) -> str:
        """Its name."""
        return str(self.document.get("name", self.id))

    @property
    def also_called(self) -> tuple[str, ...]:
        """Other names."""
        return tuple(as_list(self.document.get("also_called")))
