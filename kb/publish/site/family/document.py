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
``twins``           left out without any: ``made``, years and serial numbers of this family in words; and ``others``,
                    the families of the same maker and name, see ``kb.publish.site.family.twins``
``reports``         jobs reported on such engines, the latest first: ``on``, ``serial``, ``year``, ``ran``, ``note``,
                    ``found`` and ``left``: by figure lists of ``{printed, state, conditions, value, how, doubt}``;
                    ``how`` an angle was read, in words, and the ``doubt`` that keeps it from beside the printed window
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any, cast

from kb.book.book import Book
from kb.book.model.answer import in_words
from kb.book.model.catalogue import in_job_order
from kb.book.model.engine_ranges import Document, as_list
from kb.book.model.family import Statement
from kb.book.setting.reported_angle import doubt_of, how_read
from kb.publish.site.family.figures import page_figures
from kb.publish.site.family.shared import line
from kb.publish.site.family.twins import AS_TYPED, fit_documents, twin_parts
from kb.quantity import read_value, write_value

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import PageDocument, PageReading, PageReport, TypedParts


def family_page(book: Book, family: str, order: Sequence[str] = ()) -> PageDocument:
    """The page document of a family by its id; see above for its shape.

    ``order`` is ``job_order`` of the book, worked out once by a caller that makes many pages.

    Raises:
        FamilyNotFound, FamilyRetired: there is no such family.
    """
    found = book.family(family)
    sources: dict[str, int] = {}
    order = order or job_order(book)
    figures = page_figures(book, found, order, sources)
    present = {figure["id"] for figure in figures}
    document = found.document
    linkage = str(document.get("linkage", ""))
    page: PageDocument = {
        "id": found.id,
        "name": line(found.name),
        "maker": found.maker,
        "invented": book.invented or found.invented,
        "fits": fit_documents(found),
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
        **twin_parts(book, found, figures, order),
    }
    return page


def _as_typed(document: Document) -> TypedParts:
    return cast("TypedParts", {key: document[key] for key in AS_TYPED if key in document})


def job_order(book: Book) -> list[str]:
    """Every kind of figure in the order of the job."""
    return [kind.id for kind in in_job_order(book.figures.values())]


def _routine(book: Book, linkage: str) -> str:
    named = book.routines.get(linkage)
    if named and named["linkage"] == linkage:
        return linkage
    return next((key for key, routine in book.routines.items() if linkage and routine["linkage"] == linkage), "")


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
    if "mark" not in value and "code" not in value:
        reading["value"] = value
    if how := how_read(raw):
        reading["how"] = how
    if doubt := doubt_of(raw):
        reading["doubt"] = doubt
    return reading
