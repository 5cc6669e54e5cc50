"""Plain frozen records, built from documents whose scalars are text, as the reader and the compiled book keep them.

They rely on what the intake has typed and check nothing again.
"""

from __future__ import annotations

from collections.abc import Mapping

from kb.book.model.catalogue import FigureKind, Maker, Source
from kb.book.model.engine_ranges import Document, Fit, Range, as_list, frozen
from kb.frozen import cached_property, record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.quantity import Value

__all__ = ["Document", "Family", "FigureKind", "Fit", "Maker", "Range", "Source", "Statement", "as_list", "frozen"]

_NONE: Mapping[str, str] = {}


@record(aside=("document",))
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
    def value(self) -> Value:
        """The value as printed; not for an absent one.

        Raises:
            QuantityError: the statement is an ``absent``, or its value cannot be read.
        """
        from kb.quantity import read_value  # a heading and a settled figure are read without quantities

        return read_value(self.document)

    @cached_property
    def also(self) -> tuple[Value, ...]:
        """The page's further units."""
        from kb.quantity import read_value, value_keys

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


@record(hidden=("document",), aside=("default_states",))
class Family:
    """Engines that are set by the same figures."""

    id: str
    document: Document
    default_states: Mapping[str, str] = _NONE

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
            try:
                here = here[key]
            except (KeyError, TypeError):  # not there, or no mapping
                return None
        return here
