"""Answers and errors as text and JSON; the book's date and "invented demonstration data" on every one."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterable

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from kb.bench.worked_calculation import Worked
    from kb.book.book import Book
    from kb.book.model.answer import Answer, Cited
    from kb.book.model.engine_ranges import Document

WIDTH = 100


def print_lines(lines: Iterable[str]) -> None:
    """Lines of text."""
    print("\n".join(lines))


def print_json(document: Any) -> None:
    """One JSON document, as typed characters, ending in a newline."""
    print(json_text(document), end="")


def json_text(document: Any) -> str:
    """One JSON document as text, ending in a newline."""
    import json

    return json.dumps(document, ensure_ascii=False, indent=2) + "\n"


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
    from kb.book.model.answer import INVENTED_WORDS, ORDER_OF_TRUST

    words = f"{INVENTED_WORDS}; " if book.invented else ""
    return [f"{words}data of {book.date}", ORDER_OF_TRUST]


def answer_lines(answer: Answer) -> list[str]:
    """One answer as lines of text: the figure first, then how sure, then everything behind it."""
    from kb.book.model.answer import INVENTED_WORDS, ORDER_OF_TRUST
    from kb.working import working_lines

    condition = f", {answer.conditions}" if answer.conditions else ""
    lines = [f"{answer.maker} {answer.name}: {answer.label.lower()}, {answer.state}{condition}"]
    if answer.invented:
        lines.append(INVENTED_WORDS)
    lines += ["", f"    {answer.printed}", ""]
    lines += field("how sure", [answer.how_sure, *answer.remarks])
    lines += field("sources", [cited_words(cited) for cited in answer.evidence])
    lines += field("working", working_lines(answer.working))
    lines += field("hazard", [answer.hazard] if answer.hazard else [])
    lines += field("cautions", [caution_words(caution) for caution in answer.cautions])
    lines += field("data of", [answer.date])
    return [*lines, ORDER_OF_TRUST]


def print_worked(worked: Worked, book: Book | None, *, as_json: bool) -> int:
    """A calculation as JSON or as text, and the exit code of what is done; ``book`` where it went in."""
    if as_json:
        from kb.book.model.answer import ORDER_OF_TRUST

        data = {"date": book.date, "invented": book.invented} if book else {}
        print_json({**worked.to_document(), **data, "order_of_trust": ORDER_OF_TRUST})
    else:
        print_lines(worked_lines(worked, book))
    return 0


def worked_lines(worked: Worked, book: Book | None) -> list[str]:
    """A calculation as lines of text: the answer first, then all that is behind it; ``book`` where it went in."""
    from kb.book.model.answer import INVENTED_WORDS, ORDER_OF_TRUST
    from kb.working import working_lines

    lines = [worked.title, *([INVENTED_WORDS] if book and book.invented else []), ""]
    for words in worked.answer:
        lines += textwrap.wrap(words, WIDTH, initial_indent="    ", subsequent_indent="      ")
    lines.append("")
    lines += field("note", list(worked.remarks))
    lines += field("working", working_lines(worked.working))
    lines += field("cautions", list(worked.cautions))
    lines += field("data of", [book.date] if book else [])
    return [*lines, ORDER_OF_TRUST]


def caution_words(caution: Document) -> str:
    """A caution in one line: how bad, what it is, what to do."""
    return f"{caution['severity']}: {caution['title']}. {' '.join(caution['text'].split())}"


def field(name: str, values: list[str]) -> list[str]:
    """Values under one name, wrapped and indented; nothing where there are none."""
    lines = []
    for value in values:
        indent = " " * 10 + " " * (len(value) - len(value.lstrip()))
        lines += textwrap.wrap(
            value.strip(), WIDTH, initial_indent=f"{name:<10}" + indent[10:], subsequent_indent=indent
        )
        name = ""
    return lines


def cited_words(cited: Cited) -> str:
    """A statement in one line: what it says, when, and where it stands."""
    also = f" ({'; '.join(cited.also)})" if cited.also else ""
    page = f", page {cited.page}" if cited.page else ""
    state = ", ".join(part for part in (cited.state, cited.conditions) if part)
    role = "" if cited.role == "counts" else f"  [{cited.role}{f': {cited.reason}' if cited.reason else ''}]"
    only = f"  (only {cited.only})" if cited.only else ""
    note = f"  Note: {cited.note}" if cited.note else ""
    return f"{cited.printed}{also}, {state}: {cited.source_title} ({cited.source_kind}){page}{only}{role}{note}"
