"""The hand-written reading pages, made by mkdocs; only these depend on it and on its theme.

mkdocs turns Markdown into the body of each page and nothing else: the frame, the style and the scripts are the site's,
so that none of the theme's files is published.
"""

from __future__ import annotations

import logging
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from itertools import chain
from pathlib import Path

from mkdocs.commands.build import build
from mkdocs.config import load_config

from kb.book.book import Book
from kb.publish.site.chapters import WrittenPage, framed
from kb.publish.site.coverage.pages import coverage_pages
from kb.publish.site.coverage.tally import Tally
from kb.publish.site.frame import Frame, minified
from kb.publish.site.reading.drawings import drawings_of, inlined
from kb.publish.site.reading.from_the_book import catalogue_pages, caution_page, environment_of
from kb.publish.site.reading.hazard_page import hazard_page
from kb.publish.site.reading.rule_pages import RuleText, rule_pages


def reading_files(
    book: Book, sources: Path, frame: Frame, tally: Tally, rules: Sequence[RuleText]
) -> Iterator[tuple[str, str]]:
    """Every reading page and their style, by path.

    Raises:
        mkdocs.exceptions.MkDocsException: a page is broken.
        BookError: the list of hazards is damaged.
    """
    yield "assets/reading.css", minified((sources / "pages" / "reading.css").read_text(encoding="utf-8"))
    environment = environment_of(sources / "theme")
    pages = (
        *hand_written(sources, drawings_of(book, sources / "pages" / "drawings")),
        caution_page(environment, book),
        hazard_page(environment, sources, book),
        *catalogue_pages(environment, book, tally),
        *rule_pages(environment, rules),
    )
    for page in chain(pages, coverage_pages(environment, book, tally)):
        yield f"{page.path}index.html", framed(frame, page, book.invented)


def hand_written(sources: Path, drawings: Mapping[str, str]) -> Iterator[WrittenPage]:
    """The pages of ``pages/`` in the sources, in the order of their paths, with the drawings that they name.

    Raises:
        mkdocs.exceptions.MkDocsException: a page is broken.
        KeyError: a page names a drawing that does not exist.
    """
    logging.getLogger("mkdocs").setLevel(logging.ERROR)
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        config = load_config(str(sources / "mkdocs.yml"), site_dir=str(place), site_url="", strict=False)
        build(config)
        for path in sorted(place.rglob("index.html")):
            title, _, body = path.read_text(encoding="utf-8").lstrip().partition("\n")
            yield WrittenPage(f"{path.parent.relative_to(place).as_posix()}/", title, inlined(body.strip(), drawings))
