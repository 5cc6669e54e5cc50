"""What the book holds on each figure of a family, as lists for its page document."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

from kb.book.book import Book
from kb.book.evidence.standing import judgement_of
from kb.book.model.answer import in_words
from kb.book.model.catalogue import CORRECTION, MAXIMUM
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_ranges import Fit, thawed
from kb.book.model.family import Family, Statement
from kb.publish.site.family.shared import line

if TYPE_CHECKING:
    from kb.book.model.documents import FigureConclusions, KindConclusions, RefusedDocument, RefusedEntry, ValueEntry
    from kb.publish.site.family.page_types import Cited, PageFigure, PageRow, Shown


def page_figures(book: Book, family: Family, order: Sequence[str], sources: dict[str, int]) -> list[PageFigure]:
    """Every figure that the book has anything on, in ``order``; the numbers of its sources are put into ``sources``."""
    figures = [
        _figure(book, family, figure, conclusions[1], sources)
        for figure in _figures_of(family, order)
        if (conclusions := book.conclusions(family.id, figure))
    ]
    return [figure for figure in figures if figure["rows"]]


def _figures_of(family: Family, order: Sequence[str]) -> list[str]:
    """The figures that the family has anything on, in the order of the job; a correction may follow from two maxima."""
    figures = family.document.get("figures") or {}
    return [one for one in order if one in figures or (one == CORRECTION and MAXIMUM in figures)]


def _figure(
    book: Book, family: Family, figure: str, conclusions: FigureConclusions, sources: dict[str, int]
) -> PageFigure:
    """What the book holds on one figure; rows that are the same for several kinds of engine are given once."""
    cited: list[Cited] = [_cited(one, sources) for one in conclusions["cited"]]
    kinds = [list(kind["parts"]) for kind in conclusions["kinds"]]
    rows: dict[str, tuple[PageRow, list[int]]] = {}
    for number, kind in enumerate(conclusions["kinds"]):
        for row in _rows(kind):
            if "problem" in row:
                row["statements"] = _of_problem(book, family, figure, row, conclusions, kind, cited, sources)
                if row["problem"] == "FigureUnknown":
                    continue
            same = repr(row) if len(kinds) > 1 else str(len(rows))  # of one kind of engine none comes twice
            rows.setdefault(same, (row, []))[1].append(number)
    shown: list[PageRow] = [row if len(held) == len(kinds) else {**row, "in": held} for row, held in rows.values()]
    found: PageFigure = {"id": figure, "cited": cited, "rows": shown}
    return {**found, "parts": list(conclusions["parts"]), "kinds": kinds} if "parts" in conclusions else found


def _rows(kind: KindConclusions) -> Iterator[PageRow]:
    """A row for each state and each set of conditions of a figure, for one kind of engine."""
    for state, outcome in kind["asked"].items():
        if "error" in outcome:
            yield _without_answer({"state": state}, outcome)
            continue
        for entry in outcome["entries"]:
            row: PageRow = {"state": state if "error" in entry else entry["state"]}
            if entry["at"]:
                row["at"], row["conditions"] = entry["at"], entry["conditions"]
            yield _without_answer(row, entry) if "error" in entry else _with_answer(row, entry)


def _without_answer(row: PageRow, entry: RefusedEntry | RefusedDocument) -> PageRow:
    return {**row, "problem": entry["error"], "words": entry["message"], "candidates": list(entry["candidates"])}


def _with_answer(row: PageRow, entry: ValueEntry) -> PageRow:
    row["printed"] = entry["printed"]
    if "mark" not in entry["value"] and "code" not in entry["value"]:
        row["value"] = entry["value"]
    row["standing"] = entry["standing"]
    if entry["rests_on"]:
        row["rests_on"] = entry["rests_on"]
    if entry["working"]:
        row["working"] = entry["working"]
    if entry["remarks"]:
        row["remarks"] = entry["remarks"]
    row["statements"] = [_role(*one) for one in entry["statements"]]
    return row


def _role(number: int, role: str, reason: str) -> Shown:
    return [number, role, reason] if reason else [number] if role == "counts" else [number, role]


def _cited(one: Sequence[Any], sources: dict[str, int]) -> Cited:
    printed, also, state, conditions, only, source, page, note = one
    number = sources.setdefault(source, len(sources))
    fields = [printed, list(also), state, conditions, only, number, page, line(note) if note else ""]
    while fields[-1] == "":
        fields.pop()
    return fields


def _of_problem(
    book: Book,
    family: Family,
    figure: str,
    row: PageRow,
    conclusions: FigureConclusions,
    kind: KindConclusions,
    cited: list[Cited],
    sources: dict[str, int],
) -> list[Shown]:
    """The statements behind a row without an answer: of its state and conditions, or those that say why."""
    parts = frozenset(part for number in kind["parts"] if (part := Fit.read(conclusions["parts"][number])))
    own = family.statements.get(figure, ())
    at = row.get("at", {})
    like = [one for one in own if (one.only is None or one.only in parts) and not one.absent]
    like = [one for one in like if one.state == row["state"] and (thawed(one.at) or {}) == at]
    if not like:
        absent = [one for one in own if one.absent and (one.only is None or one.only in parts)]
        return [[_number(one, cited, sources)] for one in absent]
    kind_of = book.figures[figure]
    judged = judgement_of(
        like,
        own,
        book.sources,
        parts=parts,
        withdrawn=book.withdrawn(family.id),
        crank=Crank.of(family),
        safest_end=kind_of.safest_end,
    )
    return [_role(_number(one.statement, cited, sources), str(one.role), one.reason) for one in judged.evidence]


def _number(statement: Statement, cited: list[Cited], sources: dict[str, int]) -> int:
    """The number of a statement among those cited; it is added if it is not there yet."""
    citation = _cited(
        (
            str(statement.value),
            [str(value) for value in statement.also],
            "" if statement.absent else statement.state,
            in_words(statement.at),
            str(statement.only or ""),
            statement.source,
            statement.page,
            statement.document.get("note", ""),
        ),
        sources,
    )
    if citation not in cited:
        cited.append(citation)
    return cited.index(citation)
