"""The reading pages of the built site: what is on them, that it is the book's, how large they are, where they lead."""

from __future__ import annotations

import gzip
import re
import threading
from collections import Counter
from collections.abc import Iterator, Mapping
from html import unescape
from pathlib import Path
from urllib.error import HTTPError
from urllib.parse import urljoin
from urllib.request import urlopen
from xml.etree import ElementTree

import html5lib
import pytest

import kb
from kb.book.book import Book
from kb.book.store.in_memory import MemoryBook
from kb.cli import main
from kb.cli.rule import page as printed
from kb.cli.site import rule_texts
from kb.errors import QuantityError
from kb.intake.rules import rules
from kb.publish.site.build import SITE, build_site
from kb.publish.site.chapters import CHAPTERS, framed
from kb.publish.site.coverage.pages import FAMILIES, coverage_pages
from kb.publish.site.coverage.tally import STANDINGS, HeldFigures, Tally
from kb.publish.site.frame import Frame
from kb.publish.site.reading.from_the_book import catalogue_pages, environment_of
from kb.publish.site.reading.rule_pages import READS, RuleExample, RuleText, rule_pages
from kb.publish.site.serving import server_of
from kb.publish.site.sitemap import read_address, sitemap_files
from tests.support.frozen import frozen_book

ADDRESS = "https://example.org/some/where/"


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


@pytest.fixture(scope="module")
def site(book: Book, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("read") / "site"
    return build_site(book, place, rules=rule_texts(), address=ADDRESS).place


def words_of(path: Path) -> str:
    """A page's words, each run of blanks one space."""
    tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
    (main,) = tree.iter("main")
    return " ".join(" ".join(main.itertext()).split())


def solid(words: str) -> str:
    """Words without their blanks, which markup may put between any two letters."""
    return "".join(words.split())


def reading(site: Path) -> Iterator[tuple[str, str]]:
    """Every reading page by its path, with its text."""
    for file in sorted(site.rglob("index.html")):
        path = f"{file.parent.relative_to(site).as_posix()}/"
        if path.startswith(tuple(chapter for chapter, _ in CHAPTERS)):
            yield path, file.read_text(encoding="utf-8")


def test_every_chapter_is_there_with_the_frame_of_the_site(site: Path) -> None:
    pages = dict(reading(site))
    assert {path for path, _ in CHAPTERS} <= set(pages)
    for path, text in pages.items():
        root = "../" * path.count("/")
        assert '<p class="strip">Invented demonstration data' in text, path
        assert 'id="copy-state"' in text, path
        for script in ("offline/copy-state.js", "find/foot-box.js"):
            assert f'<script type="module" src="{root}assets/{script}">' in text, path
        assert f'href="{root}assets/reading.css"' in text, path
        assert len(re.findall(r"<h1[ >]", text)) == 1, path
        assert 'aria-current="' in text, path
        title = re.search(r"<title>(.*?)</title>", text)
        assert title, path
        assert title[1].endswith(" · Stopscrew"), path
    titles = Counter(re.findall(r"<title>(.*?)</title>", "".join(pages.values())))
    assert [title for title, count in titles.items() if count > 1] == []


def test_nothing_of_the_theme_is_published(site: Path) -> None:
    names = [path.relative_to(site).as_posix() for path in site.rglob("*")]
    assert [name for name in names if name.endswith(".map") or "stylesheets" in name or "javascripts" in name] == []
    assert "search" not in names
    assert all("md-" not in text and "Made with" not in text for _, text in reading(site))


def test_a_reading_page_is_light(site: Path) -> None:
    style = (site / "assets" / "reading.css").stat().st_size
    assert style <= 9_000
    for path, text in reading(site):
        assert len(gzip.compress(text.encode())) <= 14_000, path


def test_every_rule_has_its_page_with_what_the_terminal_prints(site: Path) -> None:
    index = words_of(site / "rules" / "index.html")
    for rule in rules().values():
        shown = solid(words_of(site / "rules" / rule.id / "index.html"))
        assert f"{rule.severity} {rule.id} {' '.join(rule.summary.split())}" in index
        for line in printed(rule):
            told = solid(line.replace("``", ""))
            if not re.match(r"(Reported|Notreported),example|" + re.escape(rule.id), told):
                assert told in shown, f"{rule.id}: {line}"
    assert all(f"Rules that read {words}" in index for words in READS.values())


def test_a_rules_examples_mark_what_is_reported(site: Path) -> None:
    text = (site / "rules" / "window-inverted" / "index.html").read_text(encoding="utf-8")
    marked = [unescape(words) for words in re.findall(r"<mark>(.*?)</mark>", text, re.S)]
    assert marked == [example.where for example in rules()["window-inverted"].bad]


def test_what_stands_in_an_example_twice_is_not_marked() -> None:
    example = RuleExample("specs/families/a/b.yaml", "name: A\nname: B", "name")
    rule = RuleText("duplicate-key", "error", "text", "a key is given twice", "one would be lost", "A.", [example], [])
    _, page = rule_pages(environment_of(SITE / "theme"), [rule])
    assert "<code>name: A\nname: B</code>" in page.body
    _, page = rule_pages(environment_of(SITE / "theme"), [rule._replace(reported=[example._replace(marked="B")])])
    assert "<code>name: A\nname: <mark>B</mark></code>" in page.body


def test_a_site_without_the_rules_says_what_to_type() -> None:
    (index,) = rule_pages(environment_of(SITE / "theme"), ())
    assert "<code>stopscrew rule window-inverted</code> explains one" in index.body


def test_each_kind_of_figure_has_its_page(site: Path, book: Book) -> None:
    for kind in book.figures.values():
        shown = words_of(site / "figures" / kind.id / "index.html")
        wanted = [kind.label, kind.document["hazard_because"], *kind.document.get("also_called", ())]
        wanted += [one["because"] for one in kind.document.get("plausible", ())]
        wanted += [kind.document[key] for key in ("about", "if_early", "if_late") if key in kind.document]
        for words in wanted:
            assert " ".join(str(words).split()) in shown, f"{kind.id}: {words}"
    maximum = words_of(site / "figures" / "max-advance" / "index.html")
    assert "10 to 35° BTDC: earlier means detonation" in maximum
    assert "Where a window is printed, its late end is aimed at" in maximum
    assert "the later is given" in maximum
    assert "at most 2° may be kept in hand" in maximum
    assert "Skerrow Ketch 47, 1978–1981 worked out" in maximum
    assert "in-gear" not in words_of(site / "figures" / "idle-speed" / "index.html")


def test_a_figures_page_counts_the_families_that_speak_of_it(site: Path, book: Book) -> None:
    for figure in book.figures:
        shown = words_of(site / "figures" / figure / "index.html")
        said = sum(answered(book, family, figure) != "unknown" for family in book.family_ids())
        assert f"Of 28 families the book has it, or says why not, for {said}." in shown, figure


def test_the_least_sure_kind_of_engine_counts(book: Book) -> None:
    rows = [
        {"state": "cranking", "standing": "agreed", "in": [0]},
        {"state": "cranking", "standing": "single", "in": [1]},
    ]
    held = []
    for more in (
        [],
        [{"state": "running", "problem": "FigureNotStated"}],
        [{"state": "cranking", "problem": "FigureWithdrawn", "in": [2]}],
    ):
        tally = Tally(book.figures.values())
        figure = {
            "id": "premix",
            "kinds": [[0], [1], [2]][: 3 if more and "in" in more[0] else 2],
            "rows": [*rows, *more],
        }
        tally.add({"id": "a/b", "name": "B", "fits": [], "figures": [figure]})
        held += [STANDINGS[standing] for _, standing in tally.of_figure("premix")]
    assert held == ["single", "single", "unknown"]


def test_every_caution_has_its_place(site: Path, book: Book) -> None:
    shown = words_of(site / "read" / "cautions" / "index.html")
    text = (site / "read" / "cautions" / "index.html").read_text(encoding="utf-8")
    for key, caution in book.cautions.items():
        assert " ".join(f"{caution['title']} {caution['text']}".split()) in shown
        assert f'id="{key}"' in text
    assert shown.index("Danger:") < shown.index("Warning:") < shown.index("Care:")


def table_of(path: Path) -> Mapping[str, list[int]]:
    """The numbers of the coverage page's table by the figure's label."""
    tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
    rows = {}
    for row in tree.iter("tr"):
        cells = ["".join(cell.itertext()).strip() for cell in row]
        if cells[1].isdecimal():
            rows[cells[0]] = [int(cell) for cell in cells[1:]]
    return rows


def test_the_coverage_counts_what_the_book_answers(site: Path, book: Book) -> None:
    rows = table_of(site / "coverage" / "index.html")
    assert set(rows) == {kind.label for kind in book.figures.values()}
    assert {sum(counts) for counts in rows.values()} == {len(book.family_ids())}
    for label, figure, standing in (
        ("Petrol and oil", "premix", "agreed"),
        ("Throttle plate opening", "throttle-plate-rest", "single"),
        ("Cranking correction", "cranking-correction", "not stated"),
        ("Float level", "float-level", "unknown"),
        ("Throttle pickup", "throttle-pickup", "does not apply"),
    ):
        found = sum(answered(book, family, figure) == standing for family in book.family_ids())
        assert rows[label][STANDINGS.index(standing)] == found > 0, label


def answered(book: Book, family: str, figure: str) -> str:
    """How sure a look-up is, or why it is not."""
    try:
        return str(book.look_up(family, figure).standing)
    except kb.FigureNotStated:
        return "not stated"
    except kb.FigureDoesNotApply:
        return "does not apply"
    except kb.FigureUnknown:
        return "unknown"
    except kb.StopscrewError as error:
        return type(error).__name__


def test_an_empty_book_has_its_pages(tmp_path: Path) -> None:
    empty = MemoryBook("2026-07-27", False, {}, {}, {}, {}, {}, {}, {}, (), {})
    place = build_site(empty, tmp_path / "site").place
    assert "the book is empty" in words_of(place / "coverage" / "index.html")
    pages = dict(reading(place))
    assert len(pages) == len(CHAPTERS)
    assert not [path for path, text in pages.items() if "Invented demonstration data. Set" in text]


def test_what_is_most_wanted_stands_first(site: Path) -> None:
    shown = words_of(site / "coverage" / "index.html")
    wanted = shown[shown.index("Most wanted") : shown.index("By maker")]
    assert wanted.index("Cranking correction") < wanted.index("Flywheel nut torque")
    assert "nothing known: Adze 31" in wanted
    assert "one source: Rasp 79" in wanted


def test_the_picture_of_a_maker_says_what_the_words_beside_it_say(site: Path, book: Book) -> None:
    path = site / "coverage" / "skerrow" / "index.html"
    tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
    (grid,) = [one for one in tree.iter() if one.get("class") == "held grid"]
    cells = Counter({str(one.get("class")): str(one.get("d")).count("M") for one in grid if one.get("d")})
    families = [family for family in book.family_ids() if family.startswith("skerrow/")]
    (table,) = tree.iter("table")
    words = " ".join(table.itertext())
    assert sum(map(int, re.findall(r"(\d+) agreed", words))) == cells["s0"]
    labels = [kind.label.lower() for kind in book.figures.values()]
    for standing, drawn in (("disputed", "s3"), ("not stated", "s4"), ("does not apply", "s5"), ("unknown", "frame")):
        named = re.findall(rf"{standing}: ([^.]*)\.", " ".join(words.split()))
        assert sum(one in labels for names in named for one in names.split(", ")) == cells[drawn] > 0
    assert len(list(table.iter("tr"))) == len(families) + 1


def many(book: Book, families: int, makers: int) -> Tally:
    """A count as of a book of so many families."""
    tally = Tally(book.figures.values())
    kinds = len(tally.kinds)
    for number in range(families):
        standings = bytes((number * 7 + place * place) % len(STANDINGS) for place in range(kinds))
        tally.families.append(
            HeldFigures(
                f"maker-{number % makers}/family-{number:05}", f"Family of the sea {number}", "1971–1979", standings
            )
        )
    return tally


@pytest.mark.parametrize("makers", [4, 400])
def test_ten_thousand_families_do_not_make_a_page_of_them_heavy(book: Book, makers: int) -> None:
    tally, environment, frame = many(book, 10_000, makers), environment_of(SITE / "theme"), Frame("")
    pages = {page.path: page for page in coverage_pages(environment, book, tally)}
    for page in (*pages.values(), *catalogue_pages(environment, book, tally)):
        made = framed(frame, page, True).encode()
        assert len(made) <= 120_000, page.path
        assert len(gzip.compress(made)) <= 20_000, page.path
    links = {
        path: [resolved(path, link) for link in re.findall(r'href="([^"#]*)"', page.body)]
        for path, page in pages.items()
    }
    shown = Counter(
        link for path, found in links.items() if path != "coverage/" for link in found if link.startswith("families/")
    )
    assert set(shown) == {f"families/{family.id}/" for family in tally.families}
    assert set(shown.values()) == {1}
    assert all(page.body.count('<th scope="row">') <= FAMILIES for path, page in pages.items() if path != "coverage/")
    known = {*pages, *shown, "read/contribute/", *(f"figures/{kind.id}/" for kind in tally.kinds)}
    assert {link for found in links.values() for link in found} == known - {"coverage/"}


def resolved(path: str, link: str) -> str:
    """Where a link on a page leads, from the site's root."""
    return urljoin(f"{ADDRESS}{path}", link).removeprefix(ADDRESS)


def test_a_sitemap_names_every_page_by_its_whole_address(site: Path) -> None:
    tree = ElementTree.parse(site / "sitemap.xml").getroot()
    found = [str(one.text) for one in tree.iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")]
    assert len(found) == len(set(found)) == len(list(site.rglob("index.html")))
    assert ADDRESS in found
    for address in found:
        assert (site / address.removeprefix(ADDRESS) / "index.html").is_file(), address


def test_without_an_address_there_is_no_sitemap(demonstration_place: Path) -> None:
    assert not list(demonstration_place.glob("sitemap*"))


def test_a_long_sitemap_is_several(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("kb.publish.site.sitemap.MOST", 2)
    for name in ("", "a", "b & c", "d", "é"):
        (tmp_path / name).mkdir(exist_ok=True)
        (tmp_path / name / "index.html").write_text("")
    made = dict(sitemap_files(tmp_path, ADDRESS))
    assert sorted(made) == ["sitemap-1.xml", "sitemap-2.xml", "sitemap-3.xml", "sitemap.xml"]
    assert made["sitemap.xml"].count(f"<loc>{ADDRESS}sitemap-") == 3
    listed = "".join(made[name] for name in sorted(made)[:3])
    assert re.findall("<loc>(.*?)</loc>", listed) == [
        ADDRESS,
        f"{ADDRESS}a/",
        f"{ADDRESS}b%20%26%20c/",
        f"{ADDRESS}d/",
        f"{ADDRESS}%C3%A9/",
    ]


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("https://example.org", "https://example.org/"),
        (" https://example.org/some/where ", ADDRESS),
        ("http://localhost:8000/a b/", "http://localhost:8000/a%20b/"),
        ("https://example.org/a%20b", "https://example.org/a%20b/"),
    ],
)
def test_an_address_is_read(typed: str, read: str) -> None:
    assert read_address(typed) == read


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "example.org",
        "/some/where/",
        "ftp://example.org/",
        "https://",
        "https://example.org/?a=b",
        "https://example.org/#a",
        "https://me@example.org/",
        "https://example.org:port/",
        "https://example.org:99999/",
        "https://example.org/a/../b/",
        "https://example.org/a//b/",
        "javascript:alert(1)",
        "https://[::1/",
    ],
)
def test_what_is_no_address_is_said_to_be_none(typed: str) -> None:
    with pytest.raises(QuantityError, match=re.escape("write it in full, such as https://example.org/stopscrew/")):
        read_address(typed)


def test_what_is_not_there_leads_to_the_start_under_any_path(site: Path, demonstration_place: Path) -> None:
    told = (site / "404.html").read_text(encoding="utf-8")
    assert {
        link for link in re.findall(r' (?:href|src)="([^"]*)"', told) if not link.startswith("/some/where/")
    } == set()
    assert 'href="/some/where/">Find an engine' in told
    plain = (demonstration_place / "404.html").read_text(encoding="utf-8")
    assert re.findall(r'<a href="([^"]*)"', plain) == ["./", "../"]
    for asked in ("families/skerrow/kecth-47", "families/skerrow/kecth-47/", "nothing", "nothing/", "read/a/b/c/d"):
        place = ADDRESS + asked
        for _ in range(asked.count("/") + 1):
            place = place if place == ADDRESS else urljoin(place, "../" if place.endswith("/") else "./")
        assert place == ADDRESS


def test_the_server_answers_with_that_page(demonstration_place: Path) -> None:
    with server_of(demonstration_place, 0) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,), daemon=True)
        thread.start()
        try:
            with pytest.raises(HTTPError) as refused:
                urlopen(f"http://127.0.0.1:{server.server_port}/families/skerrow/kecth-47/", timeout=10)
            with urlopen(f"http://127.0.0.1:{server.server_port}/read/what/", timeout=10) as found:
                assert found.read() == (demonstration_place / "read/what/index.html").read_bytes()
        finally:
            server.shutdown()
            thread.join()
    with refused.value:
        assert refused.value.code == 404
        assert refused.value.read() == (demonstration_place / "404.html").read_bytes()


def test_an_address_that_is_none_is_refused_before_anything_is_built(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = main(["site", "build", "--out", str(tmp_path / "site"), "--address", "example.org"])
    assert code == 2
    assert "'example.org' is not the address of a site; write it in full" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
