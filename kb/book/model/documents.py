"""The shapes of the plain documents that the book keeps and gives: for type checkers; nothing that runs imports it.

A list in JSON of one length with a meaning for each place stands here as a tuple.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NotRequired, TypedDict, final

if TYPE_CHECKING:
    from kb.book.model.engine_ranges import Document
    from kb.working import StepDocument


@final
class RefusedDocument(TypedDict):
    """Why there is no answer: the error by name. ``live`` says to settle it again with the speed that is asked for."""

    error: str
    message: str
    candidates: list[str]
    live: NotRequired[bool]


@final
class RefusedEntry(TypedDict):
    """Conditions under which sources disagree and no end is the safe one."""

    at: Document
    conditions: str
    error: str
    message: str
    candidates: list[str]


@final
class ValueEntry(TypedDict):
    """What a figure is in one state under some conditions.

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


class SettledKind(TypedDict):
    """What a figure comes to for one kind of engine: its parts by number, the states stated, what is asked for each."""

    parts: list[int]
    states: list[str]
    asked: dict[str, Outcome]


CitedRow = tuple[str, list[str], str, str, str, str, str, str]
"""A statement: printed, also, state, conditions, only, source, page, note."""


class SettledDocument(TypedDict):
    """What a figure of a family comes to; see ``kb.book.evidence.conclusions``."""

    cited: list[CitedRow]
    kinds: list[SettledKind]
    parts: NotRequired[list[Document]]


class NamedDocument(TypedDict):
    """What an answer says of its family."""

    name: str
    maker: str
    invented: NotRequired[str]
    cautions: NotRequired[list[str]]


class CautionDocument(TypedDict):
    """A caution: how grave, what it is, what to do, and the rule or practice behind it."""

    title: str
    text: str
    severity: str
    behind: str


class CitedDocument(TypedDict):
    """A statement as an answer shows it."""

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
    """What is ticked at a gate, and for which engines."""

    tick: str
    when: NotRequired[Document]


class RoutineStepDocument(TypedDict):
    """A step of a routine."""

    id: str
    do: str
    why: NotRequired[str]
    figure: NotRequired[str]
    when: NotRequired[Document]
    cautions: NotRequired[list[str]]
    records: NotRequired[list[str]]
    makes_stale: NotRequired[list[str]]
    gate: NotRequired[list[TickDocument]]
    module: NotRequired[str]


class RoutineDocument(TypedDict):
    """An order of work for a linkage."""

    name: str
    about: NotRequired[str]
    linkage: str
    steps: list[RoutineStepDocument]


class RetiredDocument(TypedDict):
    """An id that was given up: of what kind, where it went, since when and why."""

    id: str
    kind: str
    to: NotRequired[list[str]]
    since: str
    because: str


class WithdrawnDocument(TypedDict):
    """A statement that was found wrong, by its address; since when, why and how bad."""

    statement: Document
    since: str
    because: str
    severity: str
