"""Answers and errors as text and JSON; the book's date and "invented demonstration data" on every one."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.book.answer import Answer, Cited
    from kb.book.book import Book
    from kb.book.fits import Document

WIDTH = 100


def print_lines(lines: Iterable[str]) -> None:
    """Lines of text."""
    print("\n".join(lines))


def print_json(document: Any) -> None:
    """One JSON document, as typed characters, ending in a newline."""
    import json

    print(json.dumps(document, ensure_ascii=False, indent=2))


def print_error(error: Exception, book: Book | None, *, as_json: bool) -> None:
    """An error: JSON on standard output where JSON was asked for, else words on standard error."""
    candidates = list(getattr(error, "candidates", ()))
    if as_json:
        said = {"error": type(error).__name__, "message": str(error), "candidates": candidates}
        print_json({**said, "date": book.date, "invented": book.invented} if book else said)
        return
    lines = [f"stopscrew: {error}", *(f"  {candidate}" for candidate in candidates), *(foot(book) if book else ())]
    print("\n".join(lines), file=sys.stderr)


def foot(book: Book) -> list[str]:
    """What stands under every answer: what the data is, from when, and who comes first."""
    from kb.book.answer import INVENTED_WORDS, ORDER_OF_TRUST

    words = f"{INVENTED_WORDS}; " if book.invented else ""
    return [f"{words}data of {book.date}", ORDER_OF_TRUST]


def answer_lines(answer: Answer) -> list[str]:
    """One answer as lines of text: the figure first, then how sure, then everything behind it."""
    from kb.book.answer import INVENTED_WORDS, ORDER_OF_TRUST
    from kb.working import working_lines

    condition = f", {answer.conditions}" if answer.conditions else ""
    lines = [f"{answer.maker} {answer.name}: {answer.label.lower()}, {answer.state}{condition}"]
    if answer.invented:
        lines.append(INVENTED_WORDS)
    lines += ["", f"    {answer.printed}", ""]
    lines += _field("how sure", [answer.how_sure, *answer.remarks])
    lines += _field("sources", [_cited_words(cited) for cited in answer.evidence])
    lines += _field("working", working_lines(answer.working))
    lines += _field("hazard", [answer.hazard] if answer.hazard else [])
    lines += _field("cautions", [caution_words(caution) for caution in answer.cautions])
    lines += _field("data of", [answer.date])
    return [*lines, ORDER_OF_TRUST]


def caution_words(caution: Document) -> str:
    """A caution in one line: how bad, what it is, what to do."""
    return f"{caution['severity']}: {caution['title']}. {' '.join(caution['text'].split())}"


def _field(name: str, values: list[str]) -> list[str]:
    lines = []
    for value in values:
        indent = " " * 10 + " " * (len(value) - len(value.lstrip()))
        lines += textwrap.wrap(
            value.strip(), WIDTH, initial_indent=f"{name:<10}" + indent[10:], subsequent_indent=indent
        )
        name = ""
    return lines


def _cited_words(cited: Cited) -> str:
    also = f" ({'; '.join(cited.also)})" if cited.also else ""
    page = f", page {cited.page}" if cited.page else ""
    state = ", ".join(part for part in (cited.state, cited.conditions) if part)
    role = "" if cited.role == "counts" else f"  [{cited.role}{f': {cited.reason}' if cited.reason else ''}]"
    only = f"  (only {cited.only})" if cited.only else ""
    note = f"  Note: {cited.note}" if cited.note else ""
    return f"{cited.printed}{also}, {state}: {cited.source_title} ({cited.source_kind}){page}{only}{role}{note}"
