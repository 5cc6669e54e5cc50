"""The answer to a look-up: never a bare number; and what it says as text and as JSON."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from kb.book.records import Document, Statement
from kb.book.standing import Evidence, Standing
from kb.quantity import Quantity, Value, write_value
from kb.working import Working, working_document

ORDER_OF_TRUST = "The maker's own instructions, local rules and a licensed mechanic come first."
INVENTED_WORDS = "invented demonstration data"


@dataclass(frozen=True)
class Cited:
    """A statement as it is shown: what it says, its role, and where it stands."""

    printed: str
    also: tuple[str, ...]
    state: str
    conditions: str
    only: str
    role: str
    reason: str
    source: str
    source_kind: str
    source_title: str
    page: str
    note: str


@dataclass(frozen=True)
class Answer:
    """One figure of one family in one state.

    ``value`` is the value as printed (or as derived), ``low`` and ``high`` the ends of its window in its unit (for a
    crank angle signed, before top dead centre positive; none where open or where the value is no quantity).
    ``standing`` says how sure; ``rests_on`` what a derived one rests on; ``remarks`` are what must be said with it.
    """

    family: str
    name: str
    maker: str
    figure: str
    label: str
    state: str
    conditions: str
    value: Value
    standing: Standing
    rests_on: Standing | None
    evidence: tuple[Cited, ...]
    working: Working
    remarks: tuple[str, ...]
    hazard: str
    cautions: tuple[Document, ...]
    date: str
    invented: bool

    @property
    def printed(self) -> str:
        """The value in words, with unit and side."""
        return str(self.value)

    @property
    def unit(self) -> str:
        """The unit's symbol; empty for words."""
        return self.value.unit.symbol if isinstance(self.value, Quantity) else ""

    @property
    def low(self) -> Fraction | None:
        """The smaller (later) end."""
        return self.value.low if isinstance(self.value, Quantity) else None

    @property
    def high(self) -> Fraction | None:
        """The larger (earlier) end."""
        return self.value.high if isinstance(self.value, Quantity) else None

    @property
    def how_sure(self) -> str:
        """The standing in words."""
        if self.standing is Standing.DERIVED and self.rests_on:
            return f"derived, from figures that are {self.rests_on}"
        return str(self.standing)

    def to_document(self) -> dict[str, Any]:
        """The same as plain values for JSON; numbers as printed, as text."""
        return {
            "family": self.family,
            "name": self.name,
            "maker": self.maker,
            "figure": self.figure,
            "label": self.label,
            "state": self.state,
            "conditions": self.conditions,
            "value": write_value(self.value),
            "printed": self.printed,
            "unit": self.unit,
            "low": _decimal_text(self.low),
            "high": _decimal_text(self.high),
            "standing": str(self.standing),
            "rests_on": str(self.rests_on) if self.rests_on else None,
            "statements": [{key: _plain(value) for key, value in vars(cited).items()} for cited in self.evidence],
            "working": working_document(self.working),
            "remarks": list(self.remarks),
            "hazard": self.hazard,
            "cautions": [dict(caution) for caution in self.cautions],
            "date": self.date,
            "invented": self.invented,
            "first": ORDER_OF_TRUST,
        }


def _plain(value: Any) -> Any:
    return list(value) if isinstance(value, tuple) else value


def _decimal_text(value: Fraction | None) -> str | None:
    if value is None:
        return None
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.9g}"


def in_words(at: tuple[tuple[str, Any], ...]) -> str:
    """Conditions in words, such as ``5000 rpm, in gear``."""
    words = []
    for key, value in at:
        text = _condition_text(value)
        if key == "rpm":
            words.append(f"{text} rpm")
        elif key == "gear":
            words.append("in gear" if text == "in-gear" else "in neutral")
        elif key in ("module", "engine", "plugs"):
            words.append(f"{key} {text}")
        else:
            words.append(f"{key} {text}")
    return ", ".join(words)


def _condition_text(value: Any) -> str:
    if isinstance(value, str):
        return value
    if isinstance(value, tuple) and value and isinstance(value[0], tuple):
        return ", ".join(f"{_condition_text(inner)} {key}" for key, inner in value)
    return " to ".join(map(str, value))


def cite(found: Evidence, sources: Mapping[str, Any]) -> Cited:
    """A statement with its source's title, as it is shown."""
    statement: Statement = found.statement
    source = sources.get(statement.source)
    return Cited(
        statement.absent.replace("-", " ") if statement.absent else str(statement.value),
        tuple(str(value) for value in statement.also),
        statement.state,
        in_words(statement.at),
        str(statement.only) if statement.only else "",
        str(found.role),
        found.reason,
        statement.source,
        source.kind if source else "",
        source.title if source else statement.source,
        statement.page,
        str(statement.document.get("note", "")),
    )
