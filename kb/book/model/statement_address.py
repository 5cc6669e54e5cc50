"""Which statement is meant: by figure, state, conditions, part of the family, source and page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from kb.book.model.family import Document, Fit, Statement, frozen


@dataclass(frozen=True, slots=True)
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
