"""The coverage pages: all of the book by figures, and each maker's families by figures, as a picture and in words.

A page holds a limited number of families; the rest are on further pages.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from jinja2 import Environment
from markupsafe import Markup

from kb.book.book import Book
from kb.publish.site.chapters import WrittenPage
from kb.publish.site.coverage.grid import bars, grid, key
from kb.publish.site.coverage.tally import AGREED, STANDINGS, HeldFigures, Tally
from kb.publish.site.family.shared import line

FAMILIES = 60
"""The most families on one page."""
_NAMED = 8
"""The most families lacking a figure that are named; the rest are counted."""


def coverage_pages(environment: Environment, book: Book, tally: Tally) -> Iterator[WrittenPage]:
    """What the book holds, and the pages of each maker."""
    makers = {maker: (_name(book, maker), families) for maker, families in tally.by_maker().items()}
    counted = tally.counted()
    rows = [
        {"label": line(kind.label), "id": kind.id, "counts": [counted[kind.id][one] for one in range(len(STANDINGS))]}
        for kind in tally.kinds
    ]
    body = environment.get_template("coverage.html").render(
        families=len(tally.families),
        standings=STANDINGS,
        rows=rows,
        key=key(),
        picture=bars(tally),
        wanted=list(_wanted(tally)),
        makers=[_maker(maker, *makers[maker]) for maker in makers],
    )
    yield WrittenPage("coverage/", "What the book holds", body)
    template = environment.get_template("coverage-maker.html")
    for maker, (name, families) in makers.items():
        pages = [sorted(page) for page in _batches(families)]
        for number, page in enumerate(pages, 1):
            path = f"coverage/{maker}/" + (f"{number}/" if number > 1 else "")
            shown = template.render(
                maker=name,
                key=key(),
                picture=Markup(grid(tally, page)),
                rows=[_row(tally, held) for held in page],
                number=number,
                pages=len(pages),
                whole=len(families),
                up="../" if number == 1 else "../../",
                maker_id=maker,
            )
            yield WrittenPage(
                path, f"What the book holds of {name}" + (f", page {number}" if number > 1 else ""), shown
            )


def _batches(families: Sequence[HeldFigures]) -> Iterator[Sequence[HeldFigures]]:
    for start in range(0, len(families), FAMILIES):
        yield families[start : start + FAMILIES]


def _name(book: Book, maker: str) -> str:
    return line(book.makers[maker].name) if maker in book.makers else maker


def _maker(maker: str, name: str, families: Sequence[HeldFigures]) -> dict[str, Any]:
    held = b"".join(family.standings for family in families)
    agreed = 100 * held.count(AGREED) // max(1, len(held))
    return {"id": maker, "name": name, "families": len(families), "agreed": agreed}


def _wanted(tally: Tally) -> Iterator[dict[str, Any]]:
    for kind, none, single in tally.wanted():
        yield {
            "label": line(kind.label),
            "id": kind.id,
            "lists": [
                {"words": words, "count": len(found), "named": found[:_NAMED], "more": max(0, len(found) - _NAMED)}
                for words, found in (("nothing known", none), ("one source", single))
                if found
            ],
        }


def _row(tally: Tally, held: HeldFigures) -> dict[str, Any]:
    """A family in words: how many figures are agreed, and which have another standing."""
    parts = []
    for standing, words in enumerate(STANDINGS):
        labels = [
            line(kind.label).lower() for kind, one in zip(tally.kinds, held.standings, strict=True) if one == standing
        ]
        if labels and standing != AGREED:
            parts.append((words, ", ".join(labels)))
    return {"id": held.id, "called": held.called, "agreed": held.standings.count(AGREED), "parts": parts}
