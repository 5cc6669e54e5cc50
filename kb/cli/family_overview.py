"""A family at a glance: every figure in the order of the job, answered or refused in words, and the jobs reported."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from kb.book.book import Book
from kb.book.lookup.combinations import Outcome, combinations_of, outcome_of
from kb.book.lookup.twins import twin_lines
from kb.book.model.answer import Answer
from kb.book.model.catalogue import in_job_order
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.book.model.family import Family
from kb.cli.rendering import WIDTH, caution_words, foot
from kb.cli.reported_jobs import job_lines
from kb.errors import FigureDisputed, FigureDoesNotApply, FigureNotStated, FigureUnknown, SerialNeeded, YearNeeded

Row = tuple[str, str, Outcome]


def rows(book: Book, family: Family, engine: EngineOnTheStand) -> Iterator[Row]:
    """Figure, label and outcome for each figure, state and set of conditions that the family speaks of."""
    for kind in in_job_order(book.figures[figure] for figure in family.statements):
        for way in combinations_of(family, kind.id):
            yield kind.id, way.words, outcome_of(book, family, way, engine)


def glance_lines(book: Book, family: Family, engine: EngineOnTheStand) -> list[str]:
    """The family as lines of text."""
    maker = book.makers[family.maker].name if family.maker in book.makers else family.maker
    lines = [f"{maker} {family.name}  ({family.id})"]
    lines.extend(f"  fits {fit}{f' ({fit.note})' if fit.note else ''}" for fit in family.fits)
    if look_for := family.part("look_for"):
        lines.append(f"  look for {' '.join(look_for.split())}")
    lines.extend(f"  {line}" for line in twin_lines(book, family))
    lines.append(f"  serial {engine.serial}" if engine.serial else "  serial not given")
    lines.append("")
    table = [(figure, words, *cells(outcome)) for figure, words, outcome in rows(book, family, engine)]
    widths = [max((len(row[column]) for row in table), default=0) for column in range(3)]
    lines.extend(
        f"  {figure:<{widths[0]}}  {words:<{widths[1]}}  {value:<{widths[2]}}  {sure}".rstrip()
        for figure, words, value, sure in table
    )
    cautions = [book.cautions[caution] for caution in family.document.get("cautions", ()) if caution in book.cautions]
    lines.append("")
    for caution in cautions:
        lines += textwrap.wrap(caution_words(caution), WIDTH, initial_indent="  ", subsequent_indent="    ")
    jobs = list(job_lines(book, family.id))
    return [*lines, *([""] if cautions else []), *jobs, *([""] if jobs else []), *foot(book)]


_SHORT: dict[type[Exception], str] = {
    FigureNotStated: "not stated",
    FigureDoesNotApply: "does not apply",
    FigureUnknown: "unknown",
    FigureDisputed: "disputed",
    SerialNeeded: "depends on the serial number",
    YearNeeded: "depends on the year",
}
_WITH_CANDIDATES = (FigureDisputed, SerialNeeded, YearNeeded)


def cells(outcome: Outcome) -> tuple[str, str]:
    """An outcome in two cells: the value or why there is none, and how sure it is or what there is instead."""
    if isinstance(outcome, Answer):
        remark = f"; {outcome.remarks[0]}" if outcome.remarks else ""
        return outcome.printed, f"{outcome.how_sure}{remark}"
    if words := _SHORT.get(type(outcome)):
        return words, "; ".join(outcome.candidates) if type(outcome) in _WITH_CANDIDATES else ""
    return "no single number", outcome.message


def glance_document(book: Book, family: Family, engine: EngineOnTheStand) -> dict[str, Any]:
    """The family as plain values for JSON."""
    figures = []
    for figure, words, outcome in rows(book, family, engine):
        if isinstance(outcome, Answer):
            figures.append(outcome.to_document())
        else:
            figures.append(
                {
                    "figure": figure,
                    "asked": words,
                    "error": type(outcome).__name__,
                    "message": outcome.message,
                    "candidates": list(outcome.candidates),
                }
            )
    heading = {key: value for key, value in family.document.items() if key not in ("figures", "exceptions")}
    return {
        "family": family.id,
        "heading": heading,
        "figures": figures,
        "reports": [report for _, report in sorted(book.reports(family.id).items(), reverse=True)],
        "date": book.date,
        "invented": book.invented or family.invented,
    }
