"""The document that all families' pages share: kinds of figure, makers, sources, cautions, routines."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, cast

from kb.book.book import Book
from kb.book.model.answer import ORDER_OF_TRUST
from kb.book.model.catalogue import in_job_order
from kb.book.model.engine_ranges import Document, as_list
from kb.book.setting.routine_figures import figure_items

if TYPE_CHECKING:
    from kb.book.model.documents import CautionDocument, RoutineDocument
    from kb.publish.site.family.page_types import SharedDocument, SharedKind, SharedSource, Step

_KIND = (
    "label",
    "about",
    "dimension",
    "units",
    "states",
    "hazard",
    "hazard_because",
    "aim",
    "margin_limit",
    "safest_end",
    "if_early",
    "if_late",
    "at",
    "job_order",
    "also_called",
)
_SOURCE = ("kind", "title", "edition", "year", "publisher", "reprint_of", "note")
_LINES = frozenset({"about", "title", "text", "hazard_because", "if_early", "if_late", "note", "behind", "label"})


def line(words: Any) -> str:
    """Words on one line, as a page shows them."""
    return " ".join(str(words).split())


def shared_document(book: Book) -> SharedDocument:
    """The shared document as plain JSON; numbers as typed, texts on one line.

    ``figures``: every kind of figure by id, in the order of the job, as its catalogue file has it, with ``hazard`` A, B
    or C; ``makers``: name by id; ``sources``: by id ``kind``, ``title`` and what else is known; ``cautions``: by id
    ``title``, ``text``, ``severity`` and ``behind``; ``routines``: the name of each by id; ``careful``: by routine, for
    each of its steps that has a figure or cautions, ``[figure, cautions, when]``; ``date`` of the data; ``invented``
    where all of the book is; ``first``: who comes before any figure of the book.
    """
    kinds = in_job_order(book.figures.values())
    return {
        "date": book.date,
        "invented": book.invented,
        "first": ORDER_OF_TRUST,
        "figures": {kind.id: cast("SharedKind", _picked(kind.document, _KIND)) for kind in kinds},
        "makers": {key: line(maker.name) for key, maker in book.makers.items()},
        "sources": {key: _source(key, source.document) for key, source in book.sources.items()},
        "cautions": {key: cast("CautionDocument", _picked(caution, caution)) for key, caution in book.cautions.items()},
        "routines": {key: line(routine["name"]) for key, routine in book.routines.items()},
        "careful": {key: _cautioned_steps(routine) for key, routine in book.routines.items()},
    }


def _cautioned_steps(routine: RoutineDocument) -> list[Step]:
    steps: list[Step] = [
        (figure, list(as_list(step.get("cautions"))), {**(step.get("when") or {}), **(when or {})})
        for step in routine["steps"]
        for figure, when in figure_items(step) or (("", None),)
    ]
    return [step for step in steps if step[0] or step[1]]


def _source(key: str, document: Document) -> SharedSource:
    return cast("SharedSource", {"title": key, **_picked(document, _SOURCE)})


def _picked(document: Document, keys: Any) -> dict[str, Any]:
    return {
        key: line(document[key]) if key in _LINES else document[key]
        for key in keys
        if document.get(key) not in (None, "")
    }
