"""The sitemap and the page for missing pages.

A sitemap needs full addresses, so there is one only where the site's address is given. The page for missing pages is
shown at any depth, where no relative link can know the way to the start: without an address it links upward, which
leads to the start after some taps, under whatever path the site is published.
"""

from __future__ import annotations

import html
from collections.abc import Iterator, Sequence
from pathlib import Path
from urllib.parse import quote, urlsplit
from xml.sax.saxutils import escape

from kb.book.model.answer import ORDER_OF_TRUST
from kb.errors import QuantityError
from kb.publish.site.chapters import SHEETS
from kb.publish.site.foot import SCRIPTS, foot, strip
from kb.publish.site.frame import Frame

MOST = 50_000
"""The most addresses in one sitemap; for more there are several, and an index of them."""
_SPACE = "http://www.sitemaps.org/schemas/sitemap/0.9"


def read_address(typed: str) -> str:
    """The address at which a site will be published, ending with a slash.

    Raises:
        QuantityError: it is not an address; the message says what to type.
    """
    refusal = QuantityError(
        f"{typed!r} is not the address of a site; write it in full, such as https://example.org/stopscrew/"
    )
    try:
        parts = urlsplit(typed.strip())
        sound = parts.scheme in ("http", "https") and bool(parts.hostname) and (parts.port or 1) > 0
    except ValueError:
        raise refusal from None
    more = parts.query or parts.fragment or parts.username
    if not sound or more or {"", ".", ".."} & set(_steps(parts.path)):
        raise refusal
    return f"{parts.scheme}://{parts.netloc}{quote(parts.path.rstrip('/'), safe='/%')}/"


def _steps(path: str) -> Sequence[str]:
    return path.strip("/").split("/") if path.strip("/") else ()


def sitemap_files(stage: Path, address: str) -> Iterator[tuple[str, str]]:
    """The sitemap of every page in a built site, by its path; none without an address."""
    if not address:
        return
    folders = sorted(path.parent.relative_to(stage).as_posix() for path in stage.rglob("index.html"))
    pages = [address if folder == "." else f"{address}{quote(folder)}/" for folder in folders]
    parts = [pages[start : start + MOST] for start in range(0, len(pages), MOST)]
    if len(parts) == 1:
        yield "sitemap.xml", _listed("urlset", "url", pages)
        return
    names = [f"sitemap-{number}.xml" for number in range(1, len(parts) + 1)]
    yield "sitemap.xml", _listed("sitemapindex", "sitemap", [address + name for name in names])
    for name, part in zip(names, parts, strict=True):
        yield name, _listed("urlset", "url", part)


def _listed(whole: str, one: str, addresses: Sequence[str]) -> str:
    rows = "".join(f"<{one}><loc>{escape(address)}</loc></{one}>\n" for address in addresses)
    return f'<?xml version="1.0" encoding="UTF-8"?>\n<{whole} xmlns="{_SPACE}">\n{rows}</{whole}>\n'


def missing_page(frame: Frame, address: str, invented: bool) -> str:
    """The page that is shown for missing pages."""
    text = "<h1>There is no such page</h1><p>The address is mistyped, or the page was moved or removed.</p>"
    if not address:
        up = (
            '<nav aria-label="Upward"><a href="./">One step up</a><a href="../">Two steps up</a></nav>'
            "<p>The box to find an engine is a few steps up.</p>"
            f"<footer><p>{html.escape(ORDER_OF_TRUST)}</p></footer>"
        )
        return frame.page("No such page · Stopscrew", f'<main class="reading">{strip(invented)}{text}{up}</main>', "")
    root = urlsplit(address).path
    finding = f'<div id="finding" data-finding data-root="{root}" hidden></div>'
    start = f'<p class="up"><a href="{root}">Find an engine</a></p>'
    body = f'<main class="reading">{strip(invented)}{text}{finding}{start}{foot(root)}</main>'
    return frame.page("No such page · Stopscrew", body, root, ("find/finding-box.js", SCRIPTS[0]), SHEETS)
