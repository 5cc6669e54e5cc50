"""Jobs reported on engines of a family, as lines: each reading as found and as left, and how an angle was read."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from kb.book.book import Book
from kb.book.model.answer import in_words
from kb.book.model.engine_ranges import Document, as_list
from kb.book.model.family import Statement
from kb.book.setting.reported_angle import how_read
from kb.cli.rendering import WIDTH
from kb.vocabulary.work import Noted


def job_lines(book: Book, family: str) -> Iterator[str]:
    """The jobs reported on engines of a family, the latest first."""
    for _, report in sorted(book.reports(family).items(), reverse=True):
        engine = [f"{key} {value}" for key, value in (report.get("engine") or {}).items()]
        yield "  " + ", ".join([f"job reported {report['on']}", *engine])
        if override := report.get("override"):
            yield from _wrapped("override", override)
        for noted in Noted.words:
            for figure, readings in (report.get(noted.replace("-", "_")) or {}).items():
                if figure in book.figures:
                    yield from (_line(book, noted, figure, one) for one in as_list(readings))
        if ran := report.get("ran"):
            yield from _wrapped("ran", ran)


def _line(book: Book, noted: str, figure: str, reading: Document) -> str:
    read = Statement.read(figure, 0, reading, book.figures[figure].default_state)
    state = ", ".join(filter(None, (read.state.replace("-", " "), in_words(read.at))))
    how = how_read(reading)
    return f"    {noted.replace('-', ' ')}: {figure} {read.value} {state}" + (f" ({how})" if how else "")


def _wrapped(key: str, text: str) -> list[str]:
    words = f"{key}: {' '.join(text.split())}"
    return textwrap.wrap(words, WIDTH, initial_indent="    ", subsequent_indent="      ")
