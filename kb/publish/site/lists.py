"""The start page and each maker's page: without scripts two taps lead to a family."""

from __future__ import annotations

import html
from collections.abc import Mapping, Sequence

from kb.book.book import Book
from kb.book.records import Family
from kb.quantity import read_value

_LINKS = (("bench/", "The bench"), ("read/what/", "What this is"),
          ("read/page/", "How to read a page"), ("read/routine/", "The order of work"),
          ("read/cautions/", "Cautions"), ("coverage/", "What the book holds"), ("about/", "About"))  # fmt: skip


def families_by_maker(book: Book) -> Mapping[str, Sequence[Family]]:
    """The headings of each maker's families, sorted by id; makers without any are left out."""
    found: dict[str, list[Family]] = {}
    for key in book.family_ids():
        heading = book.get_heading(key)
        if heading is not None:
            found.setdefault(key.partition("/")[0], []).append(heading)
    return found


def start_body(book: Book, makers: Mapping[str, Sequence[Family]]) -> str:
    """What stands on the start page."""
    count = sum(map(len, makers.values()))
    listed = "".join(
        f'<li><a href="families/{maker}/"><strong>{_name(book, maker)}</strong><span>{len(families)} '
        f"{'family' if len(families) == 1 else 'families'}</span></a></li>"
        for maker, families in sorted(makers.items())
    )
    links = "".join(f'<a href="{where}">{words}</a>' for where, words in _LINKS)
    return (
        f'<main>{_strip(book)}<header><p class="brand"><img src="assets/mark.svg" alt="" width="48" height="48">'
        "<span><strong>Stopscrew</strong></span></p>"
        "<h1>Spark timing and throttle linkage of old outboards, each figure with its source</h1></header>"
        '<div id="finding" data-finding data-root="" hidden></div>'
        f'<h2 class="maker">Makers</h2><ul class="plain">{listed}</ul>'
        f"<footer><p>{html.escape(_FIRST)}</p><p>{count} families. Data of {html.escape(book.date)}.</p>"
        f'<nav>{links}</nav><p id="copy-state" hidden></p></footer></main>'
    )


def maker_body(book: Book, maker: str, families: Sequence[Family]) -> str:
    """A maker's families, to tap."""
    listed = "".join(_family(family) for family in families)
    return (
        f'<main>{_strip(book)}<header><h1>{_name(book, maker)}</h1></header><ul class="plain">{listed}</ul>'
        f'<footer><p>{html.escape(_FIRST)}</p><nav><a href="../../">Find an engine</a></nav></footer></main>'
    )


_FIRST = "The maker's own instructions, local rules and a licensed mechanic come first."


def _name(book: Book, maker: str) -> str:
    return html.escape(" ".join(book.makers[maker].name.split()) if maker in book.makers else maker)


def _strip(book: Book) -> str:
    return '<p class="strip">Invented demonstration data. Set nothing by it</p>' if book.invented else ""


def _family(family: Family) -> str:
    power = family.part("engine", "power")
    told = [str(read_value(power))] if power else []
    told += [str(fit) for fit in family.fits]
    where, name = family.id.partition("/")[2], html.escape(" ".join(family.name.split()))
    words = html.escape(", ".join(told))
    return f'<li><a href="{where}/"><strong>{name}</strong><span>{words}</span></a></li>'
