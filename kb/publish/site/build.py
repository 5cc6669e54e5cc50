"""Building the site.

The hand-written pages are made by mkdocs; families are written one by one afterwards, since ten thousand pages held as
``File.generated`` until mkdocs writes them take more memory than the budget allows. All links are relative: any static
host serves it, under any path. The same book gives the same bytes.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from kb.book.book import Book
from kb.publish.drawings.rim import rim_or_why
from kb.publish.site.atomic_folder import replacing
from kb.publish.site.bench.pages import bench_pages
from kb.publish.site.coverage.tally import Tally
from kb.publish.site.family.document import family_page, job_order
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.template import page_template
from kb.publish.site.family.view import page_title, view
from kb.publish.site.finding.index_files import INDEX, finding_files
from kb.publish.site.finding.lists import ids_by_maker, maker_body, start_body
from kb.publish.site.foot import SCRIPTS
from kb.publish.site.frame import Frame
from kb.publish.site.job_page import JOB_SCRIPT, job_page
from kb.publish.site.offline.pack import pack_files
from kb.publish.site.offline.phone_copy import BODY, TITLE, offline_files, shell_of
from kb.publish.site.published_schemas import schema_files
from kb.publish.site.reading.hand_written import reading_files
from kb.publish.site.reading.rule_pages import RuleText
from kb.publish.site.routines import routines_document
from kb.publish.site.sitemap import missing_page, sitemap_files

if TYPE_CHECKING:
    from kb.publish.site.family.page_types import PageDocument

_SHIPPED = Path(__file__).resolve().parent / "sources"
SITE = _SHIPPED if _SHIPPED.is_dir() else Path(__file__).resolve().parents[3] / "site"
"""The site's sources: in a clone at the top, in the wheel beside the package."""

Progress = Callable[[int, int], None]
_SCRIPTS = ("family/page.js", *SCRIPTS)
_AT_ONCE = 50
"""The number of families built together: few enough to hold in memory."""


class Built(NamedTuple):
    """A finished build: its place, and the numbers of families and files."""

    place: Path
    families: int
    files: int


class Builder:
    """One build; ``sources`` is the folder with theme/, assets/ and pages/, ``rules`` the texts of the check's rules,
    ``address`` where the site will lie, if that is known."""

    def __init__(self, book: Book, sources: Path = SITE, rules: Sequence[RuleText] = (), address: str = "") -> None:
        self.rules, self.address, self.tally = rules, address, Tally(book.figures.values())
        self.book, self.sources = book, sources
        self.shared = shared_document(book)
        self.source = (sources / "theme" / "family.html").read_text(encoding="utf-8")
        self.template = page_template(self.source)
        names = ("page.css", "list.css", "family.css")
        look, of_lists, of_family = ((sources / "assets" / name).read_text("utf-8") for name in names)
        self.frame, self.family_frame = Frame(look + of_lists), Frame(look + of_family)

    def family_html(self, page: PageDocument) -> str:
        """A family's page as built: without a serial number or a margin."""
        body = self.template.render(view(page, self.shared))
        return self.framed(page_title(page, self.shared), body)

    def framed(self, title: str, body: str) -> str:
        """A family's page around its body."""
        return self.family_frame.page(title, body, "../../../", _SCRIPTS)

    def write(self, stage: Path, progress: Progress) -> None:
        """Write the whole site into an empty folder."""
        _copy_files(self.sources / "assets", stage / "assets")
        _write(stage / "assets" / "family.template", self.source)  # the browser redraws a family's page from it
        for path, page in bench_pages(self.sources / "theme", self.frame, self.shared):
            _write(stage / path, page)
        joined = (self.sources / "assets" / JOB_SCRIPT).read_text(encoding="utf-8")
        _write(stage / "job" / "index.html", job_page(self.frame, self.book.invented, joined))
        makers = ids_by_maker(self.book)
        start = start_body(self.book, makers)
        scripts = ("find/finding-box.js", "offline/copy-state.js")
        _write(stage / "index.html", self.frame.page("Stopscrew", start, "", scripts, ("finding.css",)))
        for maker, families in makers.items():
            body = maker_body(self.book, maker, families)
            page = self.frame.page(maker, body, "../../", SCRIPTS, ("finding.css",))
            _write(stage / f"families/{maker}/index.html", page)
        found = finding_files(self.book, self.book.date)
        for path, content in found.items():
            _write_bytes(stage / path, content)
        _write(stage / "shared.json", _json(self.shared))
        _write(stage / "job" / "routines.json", _json(routines_document(self.book)))
        assets, ids = self.sources / "assets", self.book.family_ids()
        pack = pack_files(self._families(stage, progress))
        self._read(stage)
        kept = offline_files(
            pack,
            read=lambda name: (assets / name).read_text(encoding="utf-8"),
            shell=shell_of(stage, assets),
            index=found[INDEX],
            frame=self.framed(TITLE, BODY),
            template=self.source,
            shared=self.shared,
            date=self.book.date,
            families=len(ids),
            withdrawn=[entry for key in ids for entry in self.book.withdrawn(key)],
        )
        for path, content in kept.items():
            _write_bytes(stage / path, content)

    def _read(self, stage: Path) -> None:
        """Write the reading pages; after the families, since they count what the families' pages hold."""
        for path, text in reading_files(self.book, self.sources, self.frame, self.tally, self.rules):
            _write(stage / path, text)
        for path, text in schema_files(self.sources):
            _write(stage / path, text)
        _write(stage / "404.html", missing_page(self.frame, self.address, self.book.invented))
        for path, text in sitemap_files(stage, self.address):
            _write(stage / path, text)

    def _families(self, stage: Path, progress: Progress) -> Iterator[PageDocument]:
        """Every family's document in the order of ids, its page written on the way. Each kind of work is done for a
        batch at a time, which is a fifth quicker than all kinds for each family in turn."""
        ids, order = sorted(self.book.family_ids()), job_order(self.book)
        for start in range(0, len(ids), _AT_ONCE):
            keys = ids[start : start + _AT_ONCE]
            pages = [family_page(self.book, key, order) for key in keys]
            html = [self.family_html(page) for page in pages]
            rims = [rim_or_why(self.book, key) for key in keys]
            for at, page in enumerate(pages):
                texts = {"index.html": html[at], "page.json": _json(page), "rim.svg": rims[at]}
                _write_new(stage / "families" / keys[at], texts)
                self.tally.add(page)
                progress(start + at + 1, len(ids))
            yield from pages


def _silent(_done: int, _whole: int) -> None:
    """No progress is shown."""


def build_site(
    book: Book,
    place: Path,
    progress: Progress = _silent,
    sources: Path = SITE,
    rules: Sequence[RuleText] = (),
    address: str = "",
) -> Built:
    """Build the site of a book into a folder that it replaces; ``rules`` and ``address`` as for ``Builder``.

    Raises:
        OSError: it cannot be written, or something other than a site is there, which then stays.
    """
    with replacing(place) as stage:
        Builder(book, sources, rules, address).write(stage, progress)
        files = sum(len(names) for _, _, names in os.walk(stage))
    return Built(place, len(book.family_ids()), files)


def _json(document: object) -> str:
    return json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n"


def _copy_files(source: Path, target: Path) -> None:
    """Copy a folder with all that is in it. Where one file cannot be written, its own error says why."""
    for path in sorted(source.rglob("*")):
        if path.is_file():
            _write_bytes(target / path.relative_to(source), path.read_bytes())


def _write(path: Path, text: str) -> None:
    _write_bytes(path, text.encode("utf-8"))


def _write_new(folder: Path, files: Mapping[str, str]) -> None:
    """Write texts by their names into a new folder."""
    folder.mkdir(parents=True)
    for name, text in files.items():
        (folder / name).write_bytes(text.encode())


def _write_bytes(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
