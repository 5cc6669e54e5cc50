"""One family as one document: every fact once, as printed; its page is drawn from this, on the server and on the phone.

A page document is plain JSON; all numbers are text as printed, all ids as in the book:

``id``, ``name``, ``maker`` (an id; its name is in the shared document), ``invented``, ``linkage``, ``routine`` (an id,
empty without one), ``look_for``, ``also_called`` (list), ``cautions`` (ids)
``fits``            list of ``{words, years?, serials?, note?}``; years and serials as typed, ``["1978", "1981"]``
                    and ``{"from": "300100", "to": "418999"}``
``engine``, ``ignition``, ``flywheel``, ``adjusters``   as typed in the family's file: what a target needs
``sources``         ids of the sources that statements name; a statement gives its place in this list
``figures``         what the book holds on each figure, in the order of the job:
    ``id``          the kind of figure; its label, aim and hazard are in the shared document
    ``cited``       the statements spoken of: lists of ``printed, also (list), state, conditions, only, source number,
                    page, note``, empty ones at the end left out
    ``parts``       the parts of the family that its statements tell apart, ``{serials?, years?}``; left out if none
    ``kinds``       for each kind of engine the parts, by number, that hold it; left out where there is but one kind
    ``rows``        a row for each state and each set of conditions:
        ``state``, ``at`` (as typed; left out if empty), ``conditions`` (in words; left out if empty)
        ``in``      the kinds of engine that it holds for, by number; left out where it holds for all
        ``statements``  lists of ``number in cited, role, reason``; role "counts" and an empty reason at the end
                    are left out
        with an answer: ``printed``; ``value`` as typed, unless it is a mark or code; ``standing``; ``rests_on``
                    (of what is derived); ``working`` (steps ``name, formula, inputs [{name, value, source}], result,
                    rounding``); ``remarks``
        without:    ``problem`` (the error's name, such as FigureNotStated, FigureDoesNotApply, FigureDisputed,
                    FigureWithdrawn or NoCorrectionKnown), ``words``, ``candidates``
``never_said``      ids of the kinds of figure that no source of this family speaks of: unknown
``reports``         jobs reported on such engines, the latest first: ``on``, ``serial``, ``year``, ``ran``, ``note``,
                    ``found`` and ``left``: by figure lists of ``{printed, state, conditions, value}``
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, cast

from kb.book.book import Book
from kb.book.evidence.standing import judgement_of
from kb.book.model.answer import in_words
from kb.book.model.catalogue import CORRECTION, MAXIMUM, in_job_order
from kb.book.model.crank_geometry import Crank
from kb.book.model.engine_ranges import Document, Fit, as_list, thawed
from kb.book.model.family import Family, Statement
from kb.publish.site.family.shared import line
from kb.quantity import read_value, write_value

if TYPE_CHECKING:
    from kb.book.model.documents import FigureConclusions, KindConclusions, RefusedDocument, RefusedEntry, ValueEntry
    from kb.publish.site.family.page_types import (
        Cited,
        FitDocument,
        PageDocument,
        PageFigure,
        PageReading,
        PageReport,
        PageRow,
        Shown,
        TypedParts,
    )

_AS_TYPED = ("engine", "ignition", "flywheel", "adjusters")


def family_page(book: Book, family: str, order: Sequence[str] = ()) -> PageDocument:
    """The page document of a family by its id; see above for its shape.

    ``order`` is ``job_order`` of the book, worked out once by a caller that makes many pages.

    Raises:
        FamilyNotFound, FamilyRetired: there is no such family.
    """
    found = book.family(family)
    sources: dict[str, int] = {}
    order = order or job_order(book)
    figures = [
        _figure(book, found, figure, conclusions[1], sources)
        for figure in _figures_of(found, order)
        if (conclusions := book.conclusions(found.id, figure))
    ]
    figures = [figure for figure in figures if figure["rows"]]
    present = {figure["id"] for figure in figures}
    document = found.document
    fits = [raw for raw in as_list(document.get("fits")) if raw]
    linkage = str(document.get("linkage", ""))
    page: PageDocument = {
        "id": found.id,
        "name": line(found.name),
        "maker": found.maker,
        "invented": book.invented or found.invented,
        "fits": [_fit(fit, raw) for fit, raw in zip(found.fits, fits, strict=True)],
        "look_for": line(document.get("look_for", "")),
        "also_called": [line(name) for name in as_list(document.get("also_called"))],
        **_as_typed(document),
        "linkage": linkage,
        "routine": _routine(book, linkage),
        "cautions": [caution for caution in as_list(document.get("cautions")) if caution in book.cautions],
        "figures": figures,
        "never_said": [kind for kind in order if kind not in present],
        "reports": _reports(book, found.id),
        "sources": list(sources),
    }
    return page


def _as_typed(document: Document) -> TypedParts:
    return cast("TypedParts", {key: document[key] for key in _AS_TYPED if key in document})


def job_order(book: Book) -> list[str]:
    """Every kind of figure in the order of the job."""
    return [kind.id for kind in in_job_order(book.figures.values())]


def _figures_of(family: Family, order: Sequence[str]) -> list[str]:
    """The figures that the family has anything on, in the order of the job; a correction may follow from two maxima."""
    figures = family.document.get("figures") or {}
    return [one for one in order if one in figures or (one == CORRECTION and MAXIMUM in figures)]


def _routine(book: Book, linkage: str) -> str:
    named = book.routines.get(linkage)
    if named and named["linkage"] == linkage:
        return linkage
    return next((key for key, routine in book.routines.items() if linkage and routine["linkage"] == linkage), "")


def _fit(fit: Fit, raw: Document) -> FitDocument:
    document: FitDocument = {"words": str(fit)}
    if "years" in raw:
        document["years"] = raw["years"]
    if "serials" in raw:
        document["serials"] = raw["serials"]
    if fit.note:
        document["note"] = line(fit.note)
    return document


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


def _reports(book: Book, family: str) -> list[PageReport]:
    return [_report(book, report) for _, report in sorted(book.reports(family).items(), reverse=True)]


def _report(book: Book, report: Document) -> PageReport:
    engine = report.get("engine") or {}
    known = {key: engine[key] for key in ("serial", "year") if key in engine}
    known |= {key: line(report[key]) for key in ("override", "ran", "note") if key in report}
    found, left = (
        {
            figure: [_reading(book, figure, raw) for raw in as_list(readings)]
            for figure, readings in (report.get(key) or {}).items()
            if figure in book.figures
        }
        for key in ("as_found", "as_left")
    )
    return cast("PageReport", {"on": report["on"], **known, "found": found, "left": left})


def _reading(book: Book, figure: str, raw: Mapping[str, Any]) -> PageReading:
    statement = Statement.read(figure, 0, raw, book.figures[figure].default_state)
    found = read_value(raw)
    reading: PageReading = {"printed": str(found), "state": statement.state}
    if statement.at:
        reading["conditions"] = in_words(statement.at)
    value = write_value(found)
    return reading if "mark" in value or "code" in value else {**reading, "value": value}
