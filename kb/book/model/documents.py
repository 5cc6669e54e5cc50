"""The types of the plain documents that a book keeps and returns: for type checkers only, never imported at run time.

A JSON list of fixed length with a meaning for each place is a tuple here.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NotRequired, TypedDict, final

if TYPE_CHECKING:
    from kb.book.model.engine_ranges import Document
    from kb.working import StepDocument


@final
class RefusedDocument(TypedDict):
    """Why there is no answer: the error by name. ``live``: to be worked out again with the speed that is asked for."""

    error: str
    message: str
    candidates: list[str]
    live: NotRequired[bool]


@final
class RefusedEntry(TypedDict):
    """An entry for conditions under which sources disagree and no end is the safe one."""

    at: Document
    conditions: str
    error: str
    message: str
    candidates: list[str]


@final
class ValueEntry(TypedDict):
    """An entry for a figure in one state under some conditions.

    ``value`` is as typed in the files; ``statements`` are numbers in ``cited``, each with its role and the reason.
    """

    at: Document
    state: str
    conditions: str
    value: Document
    printed: str
    unit: str
    low: str | None
    high: str | None
    standing: str
    rests_on: str | None
    statements: list[tuple[int, str, str]]
    working: list[StepDocument]
    remarks: list[str]


Entry = ValueEntry | RefusedEntry


@final
class EntriesDocument(TypedDict):
    """The answers in one state, one for each set of conditions."""

    entries: list[Entry]


Outcome = EntriesDocument | RefusedDocument


class KindConclusions(TypedDict):
    """The conclusions for one kind of engine: its parts by number, the stated states, the outcome for each state."""

    parts: list[int]
    states: list[str]
    asked: dict[str, Outcome]


CitedRow = tuple[str, list[str], str, str, str, str, str, str]
"""A statement: printed, also, state, conditions, only, source, page, note."""


class FigureConclusions(TypedDict):
    """The conclusions on a figure of a family; see ``kb.book.evidence.conclusions``."""

    cited: list[CitedRow]
    kinds: list[KindConclusions]
    parts: NotRequired[list[Document]]


class NamedDocument(TypedDict):
    """The facts of a family that an answer shows."""

    name: str
    maker: str
    invented: NotRequired[str]
    cautions: NotRequired[list[str]]


class CautionDocument(TypedDict):
    """A caution: its severity, title and text, and the rule or practice behind it."""

    title: str
    text: str
    severity: str
    behind: str


class CitedDocument(TypedDict):
    """A cited statement in an answer."""

    printed: str
    also: list[str]
    state: str
    conditions: str
    only: str
    source: str
    page: str
    note: str
    source_kind: str
    source_title: str
    role: str
    reason: str


class AnswerDocument(TypedDict):
    """An answer as plain values for JSON; numbers as printed, as text."""

    family: str
    name: str
    maker: str
    figure: str
    label: str
    state: str
    conditions: str
    value: Document
    printed: str
    unit: str
    low: str | None
    high: str | None
    standing: str
    rests_on: str | None
    statements: list[CitedDocument]
    working: list[StepDocument]
    remarks: list[str]
    hazard: str
    cautions: list[CautionDocument]
    date: str
    invented: bool
    first: str


class TickDocument(TypedDict):
    """A check to tick at a gate, and the engines that it is for."""

    tick: str
    when: NotRequired[Document]


class FigureDocument(TypedDict):
    """One of the figures of a step, and the engines on which it is read."""

    figure: str
    when: NotRequired[Document]


class RoutineStepDocument(TypedDict):
    """A step of a routine."""

    id: str
    do: str
    more: NotRequired[str]
    why: NotRequired[str]
    figure: NotRequired[str]
    figures: NotRequired[list[FigureDocument]]
    when: NotRequired[Document]
    cautions: NotRequired[list[str]]
    records: NotRequired[list[str]]
    makes_stale: NotRequired[list[str]]
    gate: NotRequired[list[TickDocument]]
    module: NotRequired[str]
    turned: NotRequired[str]
    ignition: NotRequired[str]
    puts_in: NotRequired[list[str]]
    takes_out: NotRequired[list[str]]
    state: NotRequired[str]
    leads_back: NotRequired[str]


class RoutineDocument(TypedDict):
    """An order of work for a linkage."""

    name: str
    about: NotRequired[str]
    linkage: str
    steps: list[RoutineStepDocument]


class RetiredDocument(TypedDict):
    """A retired id: its kind, its successors, since when and why."""

    id: str
    kind: str
    to: NotRequired[list[str]]
    since: str
    because: str


class WithdrawnDocument(TypedDict):
    """A statement that was found wrong, by its address; since when, why, and the severity."""

    statement: Document
    since: str
    because: str
    severity: str
