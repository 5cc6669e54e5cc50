"""``stopscrew job``: the order of work for one family, step by step, with what to tick, to note and to check again."""

from __future__ import annotations

import argparse
import textwrap

from kb.cli.options import add_book, add_command, add_serial, on_the_stand, open_named_book

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.book import Book
    from kb.book.model.engine_on_the_stand import EngineOnTheStand
    from kb.book.model.family import Family
    from kb.book.setting.job import Job, JobStep
    from kb.cli.options import Commands

_INDENT = 5


def add(commands: Commands) -> None:
    """The command's arguments."""
    command = add_command(
        commands,
        "job",
        "examples:\n  stopscrew job skerrow/ketch-47\n  stopscrew job skerrow/ketch-47 --serial 301455 --json\n",
    )
    command.add_argument("family", metavar="FAMILY", help="its id, such as skerrow/ketch-47, or its name")
    add_serial(command)
    add_book(command)
    command.set_defaults(run=run)


def run(arguments: argparse.Namespace) -> int:
    """Print the steps; errors of look-up go up to the command line's exit codes."""
    book = open_named_book(arguments)
    from kb.book.lookup.which_family import require_family
    from kb.book.setting.job import job

    engine = on_the_stand(arguments)
    family = require_family(book, arguments.family, engine)
    work = job(book, family.id)
    from kb.cli.rendering import print_json, print_lines

    if arguments.format == "json":
        print_json(job_document(book, family, work, engine))
    else:
        print_lines(job_lines(book, family, work, engine))
    return 0


def job_document(book: Book, family: Family, work: Job, engine: EngineOnTheStand) -> dict[str, Any]:
    """The job as plain values for JSON, with the cautions in words and what each of its figures comes to."""
    from kb.cli.family_overview import glance_document

    glance = glance_document(book, family, engine)
    asked = {figure for step in work.steps for figure in step.figures}
    return {
        **work.to_document(),
        "figures": [figure for figure in glance["figures"] if figure["figure"] in asked],
        "cautions": {caution: book.cautions[caution] for step in work.steps for caution in step.cautions},
        "date": glance["date"],
        "invented": glance["invented"],
    }


def job_lines(book: Book, family: Family, work: Job, engine: EngineOnTheStand) -> list[str]:
    """The job as lines of text: each step with its figure, cautions, ticks, and what to note and to check again."""
    from kb.book.lookup.twins import apart_lines
    from kb.book.model.answer import INVENTED_WORDS
    from kb.cli.family_overview import cells, rows
    from kb.cli.rendering import WIDTH, foot

    figures: dict[str, list[str]] = {}
    for figure, words, outcome in rows(book, family, engine):
        value = "  ".join(filter(None, (f"{words}:" if words else "", *cells(outcome))))
        figures.setdefault(figure, []).append(value)
    maker = book.makers[family.maker].name if family.maker in book.makers else family.maker
    lines = [f"{maker} {family.name}  ({family.id})"]
    for words in apart_lines(book, family):
        lines += textwrap.wrap(words, WIDTH, subsequent_indent="  ")
    lines.append(work.name)
    lines += [INVENTED_WORDS] if book.invented or family.invented else []
    lines += ["", *textwrap.wrap(work.about, WIDTH), ""]
    shown_cautions: set[str] = set()
    for number, step in enumerate(work.steps, 1):
        lines += [f"{number:>2}.  {step.id}{'  (all of it must be ticked)' if step.gate else ''}"]
        disturbed = work.disturbed_before(step)
        lines += _step_lines(book, step, disturbed, figures, shown_cautions)
        lines.append("")
    return [*lines, *foot(book)]


def _step_lines(
    book: Book, step: JobStep, disturbed: tuple[str, ...], values: dict[str, list[str]], shown_cautions: set[str]
) -> list[str]:
    """One step; a caution is written out where it comes first, and named after that."""
    from kb.cli.rendering import caution_words

    lines = _wrapped(step.do)
    lines += _wrapped(step.more, "more")
    lines += _wrapped(step.why, "why")
    for figure in step.figures:
        lines += _wrapped(book.figures[figure].label, "figure")
        lines += [line for value in values.get(figure, ["no figure published"]) for line in _wrapped(value, " ")]
    for caution in step.cautions:
        held = book.cautions[caution]
        words = f"{held['severity']}: {held['title']} (as above)" if caution in shown_cautions else caution_words(held)
        shown_cautions.add(caution)
        lines += _wrapped(words, "caution")
    lines += [line for tick in step.gate for line in _wrapped(tick, "[ ]")]
    if step.records:
        lines += _wrapped("   ".join(f"{record.replace('-', ' ')} ______________" for record in step.records), "note")
    if disturbed:
        lines += _wrapped(f"check again: {', '.join(disturbed)}", "then")
    return lines


def _wrapped(words: str, head: str = "") -> list[str]:
    from kb.cli.rendering import WIDTH

    first = " " * _INDENT + (head if head == "[ ]" else f"{head:<9}" if head else "")
    first = f"{first} " if head == "[ ]" else first
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=" " * len(first))
