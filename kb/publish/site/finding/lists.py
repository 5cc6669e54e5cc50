"""The start page and each maker's page: without scripts two taps lead to a family."""

from __future__ import annotations

import html
from collections import Counter
from collections.abc import Mapping, Sequence

from kb.book.book import Book
from kb.book.model.family import Heading
from kb.publish.site.foot import foot, strip
from kb.publish.site.icon import ICON
from kb.quantity import read_value


def ids_by_maker(book: Book) -> Mapping[str, Sequence[str]]:
    """The ids of each maker's families, sorted; makers without any are left out. Only ids: headings are read one maker
    at a time, since those of ten thousand families take as much memory as all the rest."""
    found: dict[str, list[str]] = {}
    for key in sorted(book.family_ids()):
        found.setdefault(key.partition("/")[0], []).append(key)
    return found


def start_body(book: Book, makers: Mapping[str, Sequence[str]]) -> str:
    """The body of the start page."""
    count = sum(map(len, makers.values()))
    listed = "".join(
        f'<li><a href="families/{maker}/"><strong>{_name(book, maker)}</strong><span>{len(families)} '
        f"{'family' if len(families) == 1 else 'families'}</span></a></li>"
        for maker, families in sorted(makers.items())
    )
    return (
        f"<main>{strip(book.invented)}<header>"
        f'<p class="brand"><img src="{ICON}" alt="" width="48" height="48">'
        "<span><strong>Stopscrew</strong></span></p>"
        "<h1>Spark timing and throttle linkage of old outboards, each figure with its source</h1></header>"
        '<div id="finding" data-finding data-root="" hidden></div>'
        f'<h2 class="maker">Makers</h2><ul class="plain">{listed}</ul>'
        f"{foot('', f'{count} families. Data of {html.escape(book.date)}.')}</main>"
    )


def maker_body(book: Book, maker: str, families: Sequence[str]) -> str:
    """The body of a maker's page: its families, to tap."""
    headings = [family for family in map(book.get_heading, families) if family]
    named = Counter(map(_key, headings))
    listed = "".join(_family(family, has_twin=named[_key(family)] > 1) for family in headings)
    return (
        f'<main>{strip(book.invented)}<header><h1>{_name(book, maker)}</h1></header><ul class="plain">{listed}</ul>'
        f"{foot('../../')}</main>"
    )


def _name(book: Book, maker: str) -> str:
    return html.escape(" ".join(book.makers[maker].name.split()) if maker in book.makers else maker)


def _key(family: Heading) -> str:
    return " ".join(family.name.split()).casefold()


def _family(family: Heading, *, has_twin: bool) -> str:
    power = family.part("engine", "power")
    details = [str(read_value(power))] if power else []
    details += [str(fit) for fit in family.fits]
    look_for = " ".join(str(family.part("look_for") or "").split())
    details += [f"look for {look_for}"] if has_twin and look_for else []
    where, name = family.id.partition("/")[2], html.escape(" ".join(family.name.split()))
    words = html.escape(", ".join(details))
    return f'<li><a href="{where}/"><strong>{name}</strong><span>{words}</span></a></li>'
