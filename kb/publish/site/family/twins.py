"""The twins of a family for its page document: what tells them apart, and what is set differently.

Each of ``others`` has ``id``, ``made`` (years and serial numbers in words), ``look_for``, ``fits`` as in a page
document, ``linkage``; ``unlike``, the parts of engine, ignition, flywheel and adjusters that differ, as ``[block,
key]``; and ``figures``: for each kind of figure that is not alike the rows ``{state, conditions?, printed, value?}``
of the twin, none where the book has nothing on it. A row without one answer has no value.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from kb.book.book import Book
from kb.book.lookup.twins import made_words, twins_of
from kb.book.model.engine_ranges import Document, Fit, as_list
from kb.book.model.family import Family, Heading
from kb.publish.site.family.figures import page_figures
from kb.publish.site.family.shared import line

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import (
        FitDocument,
        PageFigure,
        PageRow,
        TwinDocument,
        TwinParts,
        TwinRow,
        TwinsDocument,
    )

AS_TYPED = ("engine", "ignition", "flywheel", "adjusters")
"""The parts of a family's file that a page document has as typed: what a target needs."""


def twin_parts(book: Book, family: Family, figures: Sequence[PageFigure], order: Sequence[str]) -> TwinParts:
    """The twins of a family with these figures, under their key; empty if it has none."""
    others = [found for twin in twins_of(book, family) if (found := book.get_family(twin.id))]
    if not others:
        return {}
    twins: TwinsDocument = {
        "made": made_words(family),
        "others": [_twin(book, family, figures, twin, order) for twin in others],
    }
    return {"twins": twins}


def fit_documents(family: Heading) -> list[FitDocument]:
    """The ranges of engines that a family is for, in words and as typed."""
    typed = [raw for raw in as_list(family.part("fits")) if raw]
    return [_fit(fit, raw) for fit, raw in zip(family.fits, typed, strict=True)]


def _twin(
    book: Book, family: Family, figures: Sequence[PageFigure], twin: Family, order: Sequence[str]
) -> TwinDocument:
    own = {figure["id"]: _rows(figure) for figure in figures}
    others = {figure["id"]: _rows(figure) for figure in page_figures(book, twin, order, {})}
    return {
        "id": twin.id,
        "made": made_words(twin),
        "look_for": line(twin.part("look_for") or ""),
        "fits": fit_documents(twin),
        "linkage": str(twin.part("linkage") or ""),
        "unlike": _unlike(family.document, twin.document),
        "figures": {key: others.get(key, []) for key in order if own.get(key, []) != others.get(key, [])},
    }


def _unlike(one: Document, other: Document) -> list[list[str]]:
    return [
        [block, key]
        for block in AS_TYPED
        for key in sorted({*_block(one, block), *_block(other, block)})
        if _block(one, block).get(key) != _block(other, block).get(key)
    ]


def _block(document: Document, name: str) -> Mapping[str, object]:
    return document.get(name) or {}


def _rows(figure: PageFigure) -> list[TwinRow]:
    return [_row(row) for row in figure["rows"]]


def _row(row: PageRow) -> TwinRow:
    found: TwinRow = {"state": row["state"], "printed": row.get("printed", "no single number")}
    if "conditions" in row:
        found["conditions"] = row["conditions"]
    if "value" in row:
        found["value"] = row["value"]
    return found


def _fit(fit: Fit, raw: Document) -> FitDocument:
    document: FitDocument = {"words": str(fit)}
    if "years" in raw:
        document["years"] = raw["years"]
    if "serials" in raw:
        document["serials"] = raw["serials"]
    if fit.note:
        document["note"] = line(fit.note)
    return document
