"""The demonstration book with an attack in every text that may hold any words; some of its families."""

from __future__ import annotations

import copy
from typing import Any

import kb
from kb.book.model.family import FigureKind, Maker, Source
from kb.book.store.in_memory import MemoryBook
from tests.support.folders import FROZEN

ATTACKS = (
    '"><script>alert(1)</script>',
    "' onload=alert(1) x='",
    "</style></title><img src=x onerror=alert(1)>",
    "javascript:alert(1)",
    "[x](javascript:alert(1))",
    "<svg/onload=alert(1)>",
    "{{ 7*7 }}{% raw %}",
    "&lt;script&gt;",
    "--><script>alert(1)</script>",
    "|\n# <b onclick=alert(1)>x</b>",
)
_TEXTS = frozenset(
    {
        "name",
        "look_for",
        "note",
        "because",
        "title",
        "text",
        "behind",
        "label",
        "about",
        "hazard_because",
        "publisher",
        "edition",
        "if_early",
        "if_late",
        "mark",
        "code",
        "ran",
        "part",
        "page",
        "do",
        "why",
        "tick",
    }
)
_LISTS = frozenset({"also_called"})


def attacked(document: Any, number: int = 0) -> Any:
    """The same with an attack in each text of which the book takes any words."""
    if isinstance(document, dict):
        made: dict[str, Any] = {}
        for place, (key, value) in enumerate(document.items()):
            if key in _TEXTS and isinstance(value, str):
                made[key] = value + ATTACKS[(number + place) % len(ATTACKS)]
            elif key in _LISTS:
                made[key] = list(ATTACKS)
            else:
                made[key] = attacked(value, number + place)
        return made
    if isinstance(document, list):
        return [attacked(one, number + place) for place, one in enumerate(document)]
    return document


def hostile_book() -> MemoryBook:
    """The whole book in memory."""
    book = kb.open_book(FROZEN)
    assert isinstance(book, MemoryBook)
    few = {
        key: attacked(copy.deepcopy(document), number)
        for number, (key, document) in enumerate(sorted(book.documents.items()))
        if number % 4 == 0
    }
    return MemoryBook(
        book.date,
        True,
        {key: FigureKind(key, attacked(kind.document, len(key))) for key, kind in book.figures.items()},
        {key: Maker(key, attacked(maker.document, len(key))) for key, maker in book.makers.items()},
        {key: Source(key, attacked(source.document, len(key))) for key, source in book.sources.items()},
        {key: attacked(caution, len(key)) for key, caution in book.cautions.items()},
        {key: attacked(routine, len(key)) for key, routine in book.routines.items()},
        {},
        few,
        (),
        {key: attacked(report, 3) for key, report in book.reported.items()},
    )
