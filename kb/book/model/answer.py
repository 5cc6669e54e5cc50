"""The answer to a look-up, never a bare number; as text and as JSON. Light to import."""

from __future__ import annotations

from functools import cached_property

from kb.frozen import record

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fractions import Fraction
    from typing import Any

    from kb.book.model.documents import AnswerDocument, CautionDocument, CitedDocument
    from kb.book.model.standing import Standing
    from kb.quantity import Value
    from kb.working import Working

ORDER_OF_TRUST = "The maker's own instructions, local rules and a licensed mechanic come first."
WORKED_OUT = "worked out, not printed; see the working"
INVENTED_WORDS = "invented demonstration data"

COUNTS = "counts"
"""The role of a statement on which an answer rests."""

_BOUNDS = ("at_least", "at_most")


@record()
class Cited:
    """A cited statement: its value, its source, and its role."""

    printed: str
    also: tuple[str, ...]
    state: str
    conditions: str
    only: str
    source: str
    source_kind: str
    source_title: str
    page: str
    note: str
    role: str
    reason: str

    @classmethod
    def read(cls, raw: CitedDocument) -> Cited:
        """From an answer's document."""
        return cls(
            raw["printed"],
            tuple(raw["also"]),
            raw["state"],
            raw["conditions"],
            raw["only"],
            raw["source"],
            raw["source_kind"],
            raw["source_title"],
            raw["page"],
            raw["note"],
            raw["role"],
            raw["reason"],
        )

    @property
    def where(self) -> str:
        """The source's id and the page, where it has pages."""
        return f"{self.source} page {self.page}" if self.page else self.source


@record()
class Answer:
    """One figure of one family in one state: typed access to the document that ``to_document`` gives."""

    document: AnswerDocument

    def __hash__(self) -> int:
        return hash((self.family, self.figure, self.state, self.conditions, self.printed))

    def __repr__(self) -> str:
        state = ", ".join(part for part in (self.state, self.conditions) if part)
        return f"<{self.family} {self.figure} {state}: {self.printed} ({self.how_sure})>"

    @property
    def family(self) -> str:
        """The family's id."""
        return self.document["family"]

    @property
    def name(self) -> str:
        """The family's name."""
        return self.document["name"]

    @property
    def maker(self) -> str:
        """The maker's name."""
        return self.document["maker"]

    @property
    def figure(self) -> str:
        """The figure's id."""
        return self.document["figure"]

    @property
    def label(self) -> str:
        """The figure's name in the trade."""
        return self.document["label"]

    @property
    def state(self) -> str:
        """The state in which the value holds."""
        return self.document["state"]

    @property
    def conditions(self) -> str:
        """The further conditions under which it holds, in words; empty when there are none."""
        return self.document["conditions"]

    @cached_property
    def value(self) -> Value:
        """The value as printed, or as derived."""
        from kb.quantity import read_value  # what only prints an answer does without quantities

        return read_value(self.document["value"])

    @property
    def printed(self) -> str:
        """The value in words, with unit and side."""
        return self.document["printed"]

    @property
    def unit(self) -> str:
        """The unit's symbol; empty for words."""
        return self.document["unit"]

    @property
    def low(self) -> Fraction | None:
        """The smaller end of the value, in its unit; for a crank angle the later one, before top dead centre positive.

        None where the end is open or the value is not a quantity.
        """
        return getattr(self.value, "low", None)

    @property
    def high(self) -> Fraction | None:
        """The larger end of the value, in its unit; for a crank angle the earlier one. None as for ``low``."""
        return getattr(self.value, "high", None)

    @property
    def standing(self) -> Standing:
        """How well it is supported."""
        from kb.book.model.standing import Standing

        return Standing(self.document["standing"])

    @property
    def rests_on(self) -> Standing | None:
        """The standing of the figures from which a derived one was worked out."""
        from kb.book.model.standing import Standing

        return Standing(self.document["rests_on"]) if self.document["rests_on"] else None

    @property
    def how_sure(self) -> str:
        """The standing in words."""
        rests_on = self.document["rests_on"]
        return f"derived, from figures that are {rests_on}" if rests_on else str(self.document["standing"])

    @cached_property
    def evidence(self) -> tuple[Cited, ...]:
        """Every statement that the book holds on it, also those that no longer count."""
        return tuple(map(Cited.read, self.document["statements"]))

    @property
    def where(self) -> str:
        """Where the value stands: the first statement that counts and prints it, or all on which sources agreed; of a
        value that was worked out, the first of what it came from."""
        counting = [cited for cited in self.evidence if cited.role == COUNTS]
        printing = [cited for cited in counting if cited.printed == self.printed or self.document["working"]]
        return " and ".join(cited.where for cited in printing[:1] or counting)

    @cached_property
    def working(self) -> Working:
        """The steps by which a derived value was worked out; empty for a printed one."""
        from kb.working import read_working

        return read_working(self.document["working"])

    @property
    def remarks(self) -> tuple[str, ...]:
        """The remarks to show with it."""
        return tuple(self.document["remarks"])

    @property
    def hazard(self) -> str:
        """What a wrong value does."""
        return self.document["hazard"]

    @property
    def cautions(self) -> tuple[CautionDocument, ...]:
        """The family's cautions, each with title, text, severity and its source."""
        return tuple(self.document["cautions"])

    @property
    def date(self) -> str:
        """The day that the book's data is from."""
        return self.document["date"]

    @property
    def invented(self) -> bool:
        """Whether it is invented demonstration data."""
        return self.document["invented"]

    def to_document(self) -> dict[str, Any]:
        """The answer as plain values for JSON, a copy; numbers as printed, as text."""
        copy: dict[str, Any] = _copied(self.document)
        return copy


def _copied(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _copied(inner) for key, inner in value.items()}
    return [_copied(inner) for inner in value] if isinstance(value, (list, tuple)) else value


def in_words(at: tuple[tuple[str, Any], ...]) -> str:
    """Conditions in words, such as ``5000 rpm, in gear``."""
    if not at:  # as nearly always
        return ""
    from kb.vocabulary.conditions import Condition, Gear  # what only prints an answer has the words already

    words = []
    for key, value in at:
        text = _condition_text(value)
        if key == Condition.RPM:
            words.append(f"{text} rpm")
        elif key == Condition.GEAR:
            words.append(text.replace("-", " ") if text == Gear.IN_GEAR else f"in {text}")
        else:
            words.append(f"{key} {text}")
    return ", ".join(words)


def _condition_text(value: Any) -> str:
    if not isinstance(value, tuple):
        return str(value)
    if value and isinstance(value[0], tuple):
        return ", ".join(
            f"{key.replace('_', ' ')} {_condition_text(inner)}" if key in _BOUNDS else f"{_condition_text(inner)} {key}"
            for key, inner in value
        )
    return " to ".join(map(str, value))
