"""A site of a few pages for browser tests of finding and of what a phone keeps, drawn by a plain template."""

from __future__ import annotations

import html
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from kb.book.book import Book
from kb.publish.site.finding.index_files import INDEX, finding_files
from kb.publish.site.offline.pack import pack_files
from kb.publish.site.offline.phone_copy import offline_files
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.modules import modules_needed

TEMPLATE = """<!doctype html><html lang="en" data-root="../../../"><meta charset="utf-8">
<meta name="viewport" content="width=device-width"><title>{name}</title>
<link rel="stylesheet" href="../../../assets/page.css">
<main><h1>{name}</h1>{rows}<p id="copy-state"></p></main>
<script type="module" src="../../../assets/offline/copy-state.js"></script>
<script type="module" src="../../../assets/find/foot-box.js"></script></html>
"""
DRAW = """
const escaped = (text) => String(text).replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;")
  .replaceAll('"', "&quot;").replaceAll("'", "&#x27;");
export function draw(document, template) {
  const rows = document.rows.map((row) => `<section id="${escaped(row.figure)}"><h2>${escaped(row.figure)}</h2>` +
    row.printed.map((text) => `<p>${escaped(text)}</p>`).join("") + "</section>").join("");
  return template.slice(1).replaceAll("{name}", () => escaped(document.name)).replace("{rows}", () => rows);
}
"""
START = """<!doctype html><html lang="en" data-root="./"><meta charset="utf-8">
<meta name="viewport" content="width=device-width"><title>Stopscrew</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'self';
 img-src 'self' data:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'">
<link rel="stylesheet" href="assets/page.css"><link rel="stylesheet" href="assets/finding.css">
<link rel="manifest" href="manifest.webmanifest">
<main><h1>Stopscrew</h1><div id="finding" data-finding data-root="" hidden></div>
<p id="copy-state"></p>
<ul>{list}</ul></main>
<script type="module" src="assets/find/finding-box.js"></script>
<script type="module" src="assets/offline/copy-state.js"></script></html>
"""


def documents(book: Book) -> Iterator[dict[str, Any]]:
    """Something like a page for each family, in the order of ids."""
    for key in sorted(book.family_ids()):
        family = book.family(key)
        rows = [
            {"figure": figure, "printed": [str(said.value) for said in family.statements[figure] if not said.absent]}
            for figure in sorted(family.statements)
        ]
        yield {"id": key, "name": family.name, "maker": family.maker, "rows": rows}


def drawn(document: Mapping[str, Any]) -> str:
    """The page as Python draws it."""
    rows = "".join(
        f'<section id="{html.escape(row["figure"])}"><h2>{html.escape(row["figure"])}</h2>'
        + "".join(f"<p>{html.escape(text)}</p>" for text in row["printed"])
        + "</section>"
        for row in document["rows"]
    )
    return TEMPLATE.replace("{name}", html.escape(document["name"])).replace("{rows}", rows)


def read_module(name: str) -> str:
    """A browser module's text; the drawing one is this site's own."""
    return DRAW if name == "offline/draw.js" else (ASSETS / name).read_text(encoding="utf-8")


@cache
def small_site(date: str = "2026-11-01", withdrawn: str = "") -> Mapping[str, bytes]:
    """Every file by its path. ``withdrawn`` is a family of which a maximum was found wrong."""
    book, pages = frozen_book(), list(documents(frozen_book()))
    assets = {
        f"assets/{name}": (ASSETS / name).read_bytes()
        for name in (
            "finding.css",
            "page.css",
            *sorted(modules_needed("find/finding-box.js", "find/foot-box.js", "offline/copy-state.js")),
        )
    }
    listed = "".join(f'<li><a href="families/{page["id"]}/">{html.escape(page["name"])}</a>' for page in pages)
    shell = {"index.html": START.replace("{list}", listed).encode(), **assets}
    index = finding_files(book, date)[INDEX]
    which = {"figure": "max-advance", "state": "cranking", "source": "a-handbook", "page": "42"}
    which["family"] = withdrawn
    entries = [{"statement": which, "since": "2026-11-20", "because": "two digits changed places"}]
    kept = offline_files(
        pack_files(pages),
        read=read_module,
        shell=shell,
        index=index,
        frame="",
        template=TEMPLATE,
        shared={},
        date=date,
        families=len(pages),
        built=date,
        withdrawn=entries if withdrawn else (),
    )
    families = {f"families/{page['id']}/index.html": drawn(page).encode() for page in pages}
    return {**shell, **families, **kept, INDEX: index}
