"""The types of what a family's template shows: texts and lists only. For type checkers only, never imported at run
time."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypedDict

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kb.publish.site.family.page_types import PageDocument


class Piece(TypedDict):
    """A part of a value: digits, the unit beside them, a small note."""

    number: str
    unit: str
    more: str


class Side(TypedDict):
    """One of several values of a figure, with who says so or whose it is, and how sure it is."""

    digits: Sequence[Piece]
    who: str
    sure: str


class StatementView(TypedDict):
    """A statement, as it is listed under its figure."""

    printed: str
    also: str
    when: str
    title: str
    kind: str
    page: str
    role: str
    note: str
    where: str
    withdrawn: bool


class StepView(TypedDict):
    """A step of a working."""

    name: str
    formula: str
    inputs: list[str]
    result: str


class CautionView(TypedDict):
    """A caution; ``word`` is its severity as the page says it."""

    title: str
    text: str
    behind: str
    severity: str
    word: str


class LeftAt(TypedDict):
    """A reading that an engine was left at, in words, and how it ran."""

    words: str
    ran: str


class Dot(TypedDict):
    """Where a reading stands on a strip."""

    x: int


_Place = TypedDict("_Place", {"from": int})


class StripView(_Place):
    """Readings that engines were left at, on a strip with the printed window; without a window ``wide`` is 0."""

    engines: str
    printed: str
    ran_at: str
    said: list[LeftAt]
    wide: int
    points: list[Dot]


class LinkView(TypedDict):
    """A link, from the site's root."""

    href: str
    words: str


class _Marked(TypedDict, total=False):
    warned: list[CautionView]
    again: list[CautionView]


class RowView(_Marked):
    """A figure in one state. ``warned`` and ``again`` are marked when all rows of the page are known."""

    id: str
    label: str
    state: str
    is_maximum: bool
    sets: bool
    heading: str
    when: str
    words: bool
    digits: Sequence[Piece]
    problem_words: str
    candidates: list[str]
    sides: Sequence[Side]
    sure: str
    other: str
    how: list[str]
    remarks: list[str]
    statements: list[StatementView]
    withdrawn: list[str]
    working: list[StepView]
    hazard: str
    cautions: Sequence[CautionView]
    links: list[LinkView]
    dots: list[StripView]
    look_first: bool


class PartView(TypedDict):
    """The rows above or below the link to the job."""

    name: str
    rows: list[RowView]
    job: bool


class FitView(TypedDict):
    """A range of engines."""

    words: str
    note: str


class ReadingView(TypedDict):
    """A reading in the report of a job."""

    label: str
    when: str
    printed: str
    state: str
    how: str


class ReportView(TypedDict):
    """A report of a job."""

    on: str
    engine: str
    override: str
    ran: str
    note: str
    readings: list[ReadingView]


class TwinView(TypedDict):
    """What tells a family from its twins, and links to them."""

    made: str
    look_for: str
    others: list[LinkView]


class FamilyView(TypedDict):
    """What a family's template shows."""

    id: str
    name: str
    maker: str
    root: str
    twins: list[TwinView]
    invented: bool
    date: str
    first: str
    serial: str
    state: str
    no_maximum: str
    top: list[RowView]
    rest: list[RowView]
    parts: list[PartView]
    fits: list[FitView]
    before: Sequence[CautionView]
    grave: Sequence[CautionView]
    page: PageDocument
    also_called: str
    unknown: str
    reports: list[ReportView]
    file: str
