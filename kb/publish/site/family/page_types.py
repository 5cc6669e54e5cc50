"""The types of the documents that families' pages are drawn from: for type checkers only, never imported at run time.

What a file gives as typed stays a ``Document``: its shape is that of the file's model. Lists of the same few places,
shortened at their end, are ``Cited`` and ``Shown``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NotRequired, TypedDict

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from kb.book.model.documents import CautionDocument
    from kb.book.model.engine_ranges import Document
    from kb.working import StepDocument

Cited = list[Any]
"""A cited statement: printed, also (a list), state, conditions, only, source number, page, note; without empty ends."""

Shown = list[Any]
"""A statement of a row: its number among those cited, its role, the reason; role "counts" and no reason left out."""

Step = tuple[str, "list[str]", "Document"]
"""A step of a routine: its figure, its cautions, and when it is needed."""


class FitDocument(TypedDict):
    """One range of engines, in words and as typed."""

    words: str
    years: NotRequired[Sequence[str] | Document]
    serials: NotRequired[Document]
    note: NotRequired[str]


_In = TypedDict("_In", {"in": NotRequired[list[int]]})


class PageRow(_In):
    """A figure in one state under some conditions: an answer, or a ``problem`` with its ``words``."""

    state: str
    statements: NotRequired[Sequence[Shown]]
    at: NotRequired[Document]
    conditions: NotRequired[str]
    printed: NotRequired[str]
    value: NotRequired[Document]
    standing: NotRequired[str]
    rests_on: NotRequired[str]
    working: NotRequired[Sequence[StepDocument]]
    remarks: NotRequired[Sequence[str]]
    problem: NotRequired[str]
    words: NotRequired[str]
    candidates: NotRequired[Sequence[str]]


class PageFigure(TypedDict):
    """What the book holds on one figure."""

    id: str
    cited: list[Cited]
    rows: list[PageRow]
    parts: NotRequired[list[Document]]
    kinds: NotRequired[list[list[int]]]


class PageReading(TypedDict):
    """A reading in the report of a job; ``how`` an angle was read, and the ``doubt`` whether it is true, in words."""

    printed: str
    state: str
    conditions: NotRequired[str]
    value: NotRequired[Document]
    how: NotRequired[str]
    doubt: NotRequired[str]


class PageReport(TypedDict):
    """A job reported on such an engine."""

    on: str
    found: dict[str, list[PageReading]]
    left: dict[str, list[PageReading]]
    serial: NotRequired[str]
    year: NotRequired[str]
    override: NotRequired[str]
    ran: NotRequired[str]
    note: NotRequired[str]


class TypedParts(TypedDict):
    """What a page document has as typed in the family's file: what a target needs."""

    engine: NotRequired[Document]
    ignition: NotRequired[Document]
    flywheel: NotRequired[Document]
    adjusters: NotRequired[Document]


class TwinRow(TypedDict):
    """A figure of a twin in one state under some conditions."""

    state: str
    printed: str
    conditions: NotRequired[str]
    value: NotRequired[Document]


class TwinDocument(TypedDict):
    """A family of the same maker and name, and how it differs."""

    id: str
    made: str
    look_for: str
    fits: list[FitDocument]
    linkage: str
    unlike: list[list[str]]
    figures: dict[str, list[TwinRow]]


class TwinsDocument(TypedDict):
    """The years and serial numbers of a family that has twins, in words, and its twins."""

    made: str
    others: list[TwinDocument]


class TwinParts(TypedDict):
    """What only a family with twins has."""

    twins: NotRequired[TwinsDocument]


class PageDocument(TypedParts, TwinParts):
    """A family's page document; ``kb.publish.site.family.document`` says what each part is."""

    id: str
    name: str
    maker: str
    invented: bool
    fits: list[FitDocument]
    look_for: str
    also_called: list[str]
    linkage: str
    routine: str
    cautions: list[str]
    figures: list[PageFigure]
    never_said: list[str]
    reports: list[PageReport]
    sources: list[str]


class SharedKind(TypedDict):
    """A kind of figure, as its catalogue file has it."""

    label: str
    hazard: str
    units: Sequence[str]
    states: Sequence[str]
    about: NotRequired[str]
    dimension: NotRequired[str]
    hazard_because: NotRequired[str]
    aim: NotRequired[str]
    margin_limit: NotRequired[Document]
    safest_end: NotRequired[str]
    if_early: NotRequired[str]
    if_late: NotRequired[str]
    at: NotRequired[Sequence[str]]
    job_order: NotRequired[str]
    also_called: NotRequired[Sequence[str]]


class SharedSource(TypedDict):
    """A source: what a statement's page belongs to."""

    title: str
    kind: NotRequired[str]
    edition: NotRequired[str]
    year: NotRequired[str]
    publisher: NotRequired[str]
    reprint_of: NotRequired[str]
    note: NotRequired[str]


class SharedDocument(TypedDict):
    """What all families' pages share; ``kb.publish.site.family.shared`` says what each part is."""

    date: str
    invented: bool
    first: str
    figures: Mapping[str, SharedKind]
    makers: Mapping[str, str]
    sources: Mapping[str, SharedSource]
    cautions: Mapping[str, CautionDocument]
    routines: Mapping[str, str]
    careful: Mapping[str, Sequence[Step]]
