"""Families and their statements as frozen records, built from documents whose scalars are text.

They rely on the intake's checks and check nothing again.
"""

from __future__ import annotations

from collections.abc import Mapping

from kb.book.model.catalogue import FigureKind, Maker, Source
from kb.book.model.engine_ranges import Document, Fit, Range, as_list, frozen, part
from kb.frozen import cached_property, record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable
    from typing import Any

    from kb.quantity import Value

__all__ = [
    "Absent",
    "Address",
    "Document",
    "Family",
    "FigureKind",
    "Fit",
    "Heading",
    "Maker",
    "Range",
    "Source",
    "Statement",
    "as_list",
    "frozen",
    "stated_values",
]

_NONE: Mapping[str, str] = {}


@record()
class Absent:
    """What stands instead of a value: the source does not state it, or it does not apply; ``word`` is which."""

    word: str

    def __str__(self) -> str:
        return self.word.replace("-", " ")


@record(aside=("document",))
class Statement:
    """One source's value of one figure in one state: the unit of evidence.

    ``at`` holds the further conditions as typed; ``absent`` the word that stands instead of a value, if one does;
    ``document`` the whole statement as typed.
    """

    figure: str
    index: int
    state: str
    source: str
    page: str
    at: tuple[tuple[str, Any], ...]
    only: Fit | None
    absent: str
    document: Document

    def __init__(  # written out: of all records by far the most are statements, and this takes half the time
        self,
        figure: str,
        index: int,
        state: str,
        source: str,
        page: str,
        at: tuple[tuple[str, Any], ...],
        only: Fit | None,
        absent: str,
        document: Document,
    ) -> None:
        held = self.__dict__
        held["figure"], held["index"], held["state"] = figure, index, state
        held["source"], held["page"] = source, page
        held["at"], held["only"], held["absent"] = at, only, absent
        held["document"] = document

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
    def value(self) -> Value | Absent:
        """The value as printed, or what stands instead."""
        if self.absent:
            return Absent(self.absent)
        from kb.quantity import read_value  # a heading and a settled figure are read without quantities

        return read_value(self.document)

    @cached_property
    def also(self) -> tuple[Value, ...]:
        """The page's further units."""
        also = self.document.get("also")
        if not also:
            return ()
        from kb.quantity import read_value, value_keys

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


def stated_values(statements: Iterable[Statement]) -> list[Value]:
    """The values of statements, but for those that have none."""
    return [value for one in statements if not isinstance(value := one.value, Absent)]


@record()
class Address:
    """The address of one or more statements of a family; what is empty is not asked for."""

    figure: str = ""
    state: str = ""
    at: tuple[tuple[str, Any], ...] | None = None
    only: Fit | None = None
    source: str = ""
    page: str = ""

    @classmethod
    def read(cls, raw: Document) -> Address:
        """From a mapping as it is typed in exceptions and withdrawals."""
        at = raw.get("at")
        return cls(
            raw.get("figure", ""),
            raw.get("state", ""),
            frozen(at) if at else None,
            Fit.read(raw.get("only")),
            raw.get("source", ""),
            raw.get("page", ""),
        )

    def matches(self, statement: Statement) -> bool:
        """Whether the statement has all that the address names."""
        return (
            self.figure in ("", statement.figure)
            and self.state in ("", statement.state)
            and self.at in (None, statement.at)
            and self.only in (None, statement.only)
            and self.source in ("", statement.source)
            and self.page in ("", statement.page)
        )


@record(hidden=("document",))
class Heading:
    """A family without its figures: what it is called, and which engines it fits.

    ``document`` is what its file holds; under ``figures`` perhaps only their ids.
    """

    id: str
    document: Document

    @property
    def name(self) -> str:
        """The maker's name for it."""
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

    def part(self, *path: str) -> Any:
        """The value at a path of keys, or None."""
        return part(self.document, *path)


@record(hidden=("document",), aside=("default_states",))
class Family(Heading):
    """Engines that are set by the same figures."""

    default_states: Mapping[str, str] = _NONE

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
