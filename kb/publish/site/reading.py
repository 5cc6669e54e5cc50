"""The reading pages, made by mkdocs from the hand-written ones and from what the book says of itself.

Only these depend on mkdocs and its theme. The theme's scripts are taken out: its menus work without.
"""

from __future__ import annotations

import logging
import re
import shutil
import tempfile
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

from kb.book.book import Book
from kb.publish.site.coverage import coverage_page
from kb.publish.site.frame import policy
from kb.publish.site.generated import catalogue_pages, caution_page

_SCRIPT = re.compile(r"<script\b.*?</script>\s*", re.S)
_STYLE = re.compile(r"<style>(.*?)</style>", re.S)
_STYLED = re.compile(r' style="[^"]*"')  # the policy would refuse them
_DROPPED = ("sitemap.xml", "sitemap.xml.gz", "404.html", "assets/javascripts", "search")


def reading_pages(book: Book, sources: Path, stage: Path) -> None:
    """Write the reading pages and the theme's style into an empty folder.

    Raises:
        mkdocs.exceptions.MkDocsException: a page is broken.
    """
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    with tempfile.TemporaryDirectory() as folder:
        pages = Path(folder) / "pages"
        shutil.copytree(sources / "pages", pages)
        made = {"read/cautions.md": caution_page(book), "coverage.md": coverage_page(book), **catalogue_pages(book)}
        for name, text in made.items():
            (pages / name).parent.mkdir(parents=True, exist_ok=True)
            (pages / name).write_text(text, encoding="utf-8")
        config = load_config(
            str(sources / "mkdocs.yml"), docs_dir=str(pages), site_dir=str(stage.resolve()), site_url="", strict=False
        )
        build(config)
    for name in _DROPPED:
        place = stage / name
        shutil.rmtree(place) if place.is_dir() else place.unlink(missing_ok=True)
    for place in stage.rglob("*.html"):
        place.write_text(_without_scripts(place.read_text(encoding="utf-8")), encoding="utf-8")


def _without_scripts(text: str) -> str:
    text = _STYLED.sub("", _SCRIPT.sub("", text))
    told = f'<meta http-equiv="Content-Security-Policy" content="{policy(_STYLE.findall(text))}">'
    return text.replace('<meta charset="utf-8">', f'<meta charset="utf-8">{told}', 1)
