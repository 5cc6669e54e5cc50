"""The long sheet as a page: sound HTML that stands by itself, Markdown that does nothing, a PDF that fits paper."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element

import html5lib
import numpy
import pypdfium2
import pytest
import zxingcpp
from markdown_it import MarkdownIt

import kb
from kb.book.book import Book
from kb.book.model.answer import INVENTED_WORDS
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.book.model.family import FigureKind, Maker, Source
from kb.book.store.in_memory import MemoryBook
from kb.cli import main
from kb.publish.sheet.address import qr_code
from kb.publish.sheet.html import css_text, sheet_html
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.sheet.markdown_words import words
from kb.publish.sheet.pdf import sheet_pdf
from kb.publish.sheet.record import Sheet
from tests.publish.test_sheet import FAMILIES, GOLDEN
from tests.support.folders import FROZEN, ROOT
from tests.support.frozen import frozen_book

STYLE = ROOT / "kb" / "publish" / "sheet" / "page.css"
ATTACK = (
    '"><script>alert(1)</script><img src=x onerror=alert(1)></style>{{ 7 * 7 }}{% raw %}*_[x](javascript:alert(1))_*'
    " `code` ![i](http://evil.example/i) http://evil.example www.evil.example a@evil.example"
    " | #panic() $x$ \\ &lt; ~~no~~"
)


long_html, long_pdf = partial(sheet_html, long=True), partial(sheet_pdf, long=True)
long_markdown = partial(sheet_markdown, long=True)


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


def parsed(page: str) -> Element:
    """The page as a strict parser of HTML has it: any fault at all is an error."""
    tree = html5lib.getTreeBuilder("etree")
    root: Element = html5lib.HTMLParser(tree=tree, strict=True, namespaceHTMLElements=False).parse(page)
    return root


def test_the_parser_is_strict() -> None:
    with pytest.raises(Exception, match=r".+"):
        parsed('<!doctype html><html lang="en"><title>x</title><p><div></p>')


@pytest.mark.parametrize("family", FAMILIES)
def test_the_page_is_sound(family: str, book: Book) -> None:
    sheet = make_sheet(book, family)
    root = parsed(long_html(sheet))
    assert root.get("lang") == "en"
    tags = [element.tag for element in root.iter()]
    assert not {"script", "link", "iframe", "object", "img", "base", "form"} & set(tags)
    levels = [int(str(tag)[1]) for tag in tags if re.fullmatch("h[1-6]", str(tag))]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(deeper - level <= 1 for level, deeper in pairwise(levels))
    for element in root.iter():
        names = {name.lower() for name in element.attrib}
        assert not [name for name in names if name.startswith("on")]
        assert not {"src", "srcset", "action", "background", "style"} & names
        if "href" in names and element.tag == "a":
            assert element.get("href") == sheet.address
        if element.tag == "input" and element.get("type") == "checkbox":
            continue
        if element.tag in ("input", "textarea"):
            assert element.get("aria-label"), "a box has a name"
        if element.tag == "th":
            assert element.get("scope") in ("row", "col")
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    assert "url(" not in long_html(sheet).replace("url(#", "")
    assert "@import" not in long_html(sheet)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_boxes_are_there(family: str, book: Book) -> None:
    """One for each thing that is recorded, one for each cylinder's compression, one tick for each line of a gate."""
    sheet = make_sheet(book, family)
    root = parsed(long_html(sheet))
    steps = [one for one in root.iter("li") if (one.get("class") or "").split(" ")[0] == "step"]
    assert len(steps) == len(sheet.steps)
    for shown, step in zip(steps, sheet.steps, strict=True):
        inputs = list(shown.iter("input"))
        ticks = [one for one in inputs if one.get("type") == "checkbox"]
        sided = sum(blank.sided for blank in step.blanks)
        assert len(inputs) - len(ticks) == len(step.blanks)
        assert len(ticks) == 1 + len(step.gate) + 2 * sided
        assert ("gate" in (shown.get("class") or "")) == bool(step.gate)
    compression = [step for step in sheet.steps if any(one.figure == "compression" for one in step.given)]
    assert [len(step.blanks) for step in compression] == [sheet.cylinders]
    named = {figure.figure for step in sheet.steps for figure in step.given}
    assert {"cranking-speed", "cranking-voltage", "plug-type"} <= named, "the sheet has no other place for these"
    assert any("battery" in step.id for step in sheet.steps)
    assert any(step.id == "plugs-read" for step in sheet.steps)


def ratio(one: str, other: str) -> float:
    """The contrast of two colours, as WCAG 2.2 reckons it (from memory)."""

    def luminance(colour: str) -> float:
        digits = colour[1:] if len(colour) == 7 else "".join(digit * 2 for digit in colour[1:])
        parts = [int(digits[at : at + 2], 16) / 255 for at in (0, 2, 4)]
        linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]

    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def test_the_contrast_is_enough() -> None:
    """4.5 for type and 3 for lines (WCAG 2.2, 1.4.3 and 1.4.11, from memory), light and dark."""
    assert ratio("#000", "#ffffff") == pytest.approx(21)  # WCAG 2.2: black on white
    themes = re.findall(r":root \{ (--ink.*?) \}", STYLE.read_text(encoding="utf-8"))
    assert len(themes) == 2
    for theme in themes:
        colour = dict(re.findall(r"--(\w+): (#\w+);", theme))
        for ground in (colour["ground"], colour["tint"]):
            assert ratio(colour["ink"], ground) >= 7
            assert ratio(colour["soft"], ground) >= 4.5
            assert ratio(colour["line"], ground) >= 3
        assert ratio(colour["onmark"], colour["mark"]) >= 4.5


_WORDS = {
    "name",
    "about",
    "look_for",
    "title",
    "text",
    "behind",
    "do",
    "why",
    "tick",
    "label",
    "note",
    "mark",
    "code",
    "because",
    "hazard_because",
    "if_early",
    "if_late",
    "part",
    "also_called",
    "edition",
    "publisher",
}


def spoilt(value: Any, key: str = "") -> Any:
    """A document with an attack before every word that a contributor is free in."""
    if isinstance(value, Mapping):
        return {name: spoilt(inner, name) for name, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [spoilt(one, key) for one in value]
    return f"{ATTACK} {value}" if key in _WORDS else value


@pytest.fixture(scope="module")
def attacked() -> Sheet:
    shelf = kb.open_book(FROZEN)
    assert isinstance(shelf, MemoryBook)
    hurt = dataclasses.replace(
        shelf,
        figures={key: FigureKind(key, spoilt(kind.document)) for key, kind in shelf.figures.items()},
        makers={key: Maker(key, spoilt(one.document)) for key, one in shelf.makers.items()},
        sources={key: Source(key, spoilt(one.document)) for key, one in shelf.sources.items()},
        cautions={key: spoilt(one) for key, one in shelf.cautions.items()},
        routines={key: spoilt(one) for key, one in shelf.routines.items()},
        documents={key: spoilt(one) for key, one in shelf.documents.items()},
    )
    return make_sheet(hurt, "skerrow/ketch-47")


def test_an_attack_is_words_in_html(attacked: Sheet) -> None:
    page = long_html(attacked)
    root = parsed(page)
    tags = {str(element.tag) for element in root.iter()}
    assert not {"script", "img", "iframe"} & tags
    assert page.count("&lt;script&gt;") > 50
    assert "<script" not in page
    assert "</style>" not in page.replace("</style>\n</head>", "", 1)
    assert not [element for element in root.iter() if any(name.startswith("on") for name in element.attrib)]
    assert {element.get("href") for element in root.iter("a")} == {attacked.address}
    assert "{{ 7 * 7 }}" in page
    style = next(root.iter("style")).text or ""
    assert "evil" not in style or "\\3c " in style


def test_an_attack_is_words_in_markdown(attacked: Sheet) -> None:
    text = long_markdown(attacked)
    markdown = MarkdownIt("gfm-like", {"html": True, "linkify": True})
    tokens = [inner for token in markdown.parse(text) for inner in (token, *(token.children or ()))]
    assert not {"html_block", "html_inline", "image", "code_inline", "fence", "code_block", "s_open"} & {
        token.type for token in tokens
    }
    assert {token.attrs["href"] for token in tokens if token.type == "link_open"} == {attacked.address}
    shown = " ".join(token.content for token in tokens if token.type == "text")
    assert "<script>alert(1)</script><img src=x onerror=alert(1)>" in shown.replace("  ", " ")
    harmless = long_markdown(make_sheet(frozen_book(), "skerrow/ketch-47"))
    kinds = ("heading_open", "tr_open", "td_open", "list_item_open", "blockquote_open")
    assert [token.type for token in markdown.parse(text) if token.type in kinds] == [
        token.type for token in markdown.parse(harmless) if token.type in kinds
    ]


@pytest.mark.parametrize("said", [ATTACK, "1. one", "- x", "a|b", "<https://x.example>", "Ketch_47_b", "**", "a\n# b"])
def test_words_stay_words_in_markdown(said: str) -> None:
    tokens = MarkdownIt("gfm-like", {"html": True, "linkify": True}).parse(f"x {words(said)}")
    inline = next(token for token in tokens if token.type == "inline")
    assert {child.type for child in inline.children or ()} <= {"text", "text_special"}
    assert "".join(child.content for child in inline.children or ()) == "x " + " ".join(said.split())


@pytest.mark.parametrize("said", ['"; } body { display: none', "</style><script>", "\\", "\n", "K47 é ☠"])
def test_words_stay_words_in_a_style_sheet(said: str) -> None:
    assert re.fullmatch(r'"([0-9A-Za-z ]|\\[0-9a-f]+ )*"', str(css_text(said)))


def rendered(page: pypdfium2.PdfPage, scale: float = 2) -> Any:
    """A page as grey values, 0 black."""
    return numpy.asarray(page.render(scale=scale, grayscale=True).to_numpy())


def text_of(document: pypdfium2.PdfDocument) -> str:
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in document).split())


def check_paper(content: bytes, size: tuple[float, float]) -> pypdfium2.PdfDocument:
    """A PDF on paper of that size in points, with nothing nearer to its edge than 8 mm."""
    document = pypdfium2.PdfDocument(content)
    edge = 8 * 72 / 25.4
    for page in document:
        assert page.get_size() == pytest.approx(size, abs=0.5)
        for one in page.get_objects(max_depth=8):
            if one.type in (1, 2) and one.level == 0:  # text and lines; what stands in a drawing is clipped by it
                left, bottom, right, top = one.get_bounds()
                assert left >= edge - 1
                assert right <= size[0] - edge + 1
                assert bottom >= edge - 1
                assert top <= size[1] - edge + 1
        picture = rendered(page)
        depth = int(edge * 2) - 2
        for strip in (picture[:depth], picture[-depth:], picture[:, :depth], picture[:, -depth:]):
            assert strip.min() > 250
    return document


A4, LETTER = (210 * 72 / 25.4, 297 * 72 / 25.4), (612.0, 792.0)  # ISO 216; ANSI/ASME Y14.1; both from memory


@pytest.mark.parametrize(("paper", "size"), [("a4", A4), ("letter", LETTER)])
@pytest.mark.parametrize(("name", "family", "given"), GOLDEN, ids=[row[0] for row in GOLDEN])
def test_the_pdf_fits_its_paper(
    name: str, family: str, given: dict[str, Any], paper: str, size: tuple[float, float], book: Book
) -> None:
    sheet = make_sheet(book, family, EngineOnTheStand.of(**given))
    document = check_paper(long_pdf(sheet, paper), size)
    assert 6 <= len(document) <= 12
    text = text_of(document)
    for said in (
        sheet.full_name,
        INVENTED_WORDS,
        sheet.first,
        "https://stopscrew.example/",
        sheet.serial,
        sheet.routine,
    ):
        assert said in text
    first = " ".join(document[0].get_textpage().get_text_range().split())
    for target in sheet.targets:
        if target.set_to:
            assert target.set_to in first, "what to set stands on the first page"
            assert target.given.printed in first
    for number in range(1, len(document) + 1):
        assert f"page {number} of {len(document)}" in document[number - 1].get_textpage().get_text_range()
    for step in sheet.steps:
        assert step.do.split(".")[0] in text
        assert all(item in text for item in step.gate)


def test_the_boxes_leave_room_for_a_dirty_hand(book: Book) -> None:
    """At least 9 mm high, on paper from either form."""
    sheet = make_sheet(book, "skerrow/ketch-47")
    document = pypdfium2.PdfDocument(long_pdf(sheet))
    heights = [
        top - bottom
        for page in document
        for one in page.get_objects()
        if one.type == 2
        for _, bottom, _, top in [one.get_bounds()]
    ]
    boxes = [height for height in heights if 8 < height / 72 * 25.4 < 11]
    assert len(boxes) >= sum(len(step.blanks) for step in sheet.steps) + len(sheet.targets) + 5
    assert min(boxes) / 72 * 25.4 >= 9
    printed = STYLE.read_text(encoding="utf-8").partition("@media print")[2]
    assert float(re.findall(r"\.box \{ min-height: ([0-9.]+)mm", printed)[0]) >= 9
    assert float(re.findall(r"\.write td \{ height: ([0-9.]+)mm", printed)[0]) >= 9


def test_every_family_has_its_pdf(book: Book) -> None:
    for family in FAMILIES:
        sheet = make_sheet(book, family)
        content = long_pdf(sheet)
        text = text_of(pypdfium2.PdfDocument(content))
        assert INVENTED_WORDS in text
        for target in sheet.targets:
            assert target.given.printed in text
            assert target.set_to in text


def test_two_pdfs_are_alike_to_the_byte(book: Book) -> None:
    sheet = make_sheet(book, "skerrow/ketch-47")
    assert long_pdf(sheet) == long_pdf(sheet)


def test_an_attack_is_words_in_the_pdf(attacked: Sheet) -> None:
    document = pypdfium2.PdfDocument(long_pdf(attacked))
    assert "<script>alert(1)</script>" in text_of(document).replace(" ", "")
    assert "#panic()" in text_of(document)


@pytest.mark.parametrize("given", [{}, {"serial": "301455", "margin": 1, "dead_centre": 2}])
@pytest.mark.parametrize("site", ["https://stopscrew.example/", "http://192.0.2.7:8080/book/of/figures/"])
def test_the_qr_code_reads_as_the_address(given: dict[str, Any], site: str, book: Book) -> None:
    """Read by another library from the printed page, as a phone would."""
    sheet = make_sheet(book, "skerrow/ketch-47", EngineOnTheStand.of(**given), site=site)
    page = pypdfium2.PdfDocument(long_pdf(sheet))[0]
    found = zxingcpp.read_barcodes(rendered(page, 3))
    assert [(one.text, one.format.name) for one in found] == [(f"{site}families/skerrow/ketch-47/", "QRCode")]
    page_itself = long_html(sheet)
    assert f">{sheet.address}</a>" in page_itself
    assert qr_code(sheet.address) in page_itself
    assert {*re.findall(r"#[0-9a-f]{3,6}", qr_code(sheet.address))} == {"#000", "#fff"}, "also on a dark screen"


def test_a_compiled_book_gives_the_same_sheet(compiled_book: str, book: Book) -> None:
    store = kb.open_book(compiled_book)
    for family in FAMILIES:
        assert make_sheet(store, family) == make_sheet(book, family)


def test_the_command_writes_each_form(compiled_book: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ketch = ["sheet", "--book", compiled_book, "skerrow/ketch-47", "--dead-centre-reads", "2 before", "--margin", "1"]
    capsys.readouterr()
    assert main(ketch) == 0
    page = capsys.readouterr().out
    assert page.startswith("<!doctype html>")
    assert "25°" in page
    page_file, pdf_file = tmp_path / "ketch.html", tmp_path / "ketch.pdf"
    for file in (page_file, pdf_file):
        assert main([*ketch, "--out", str(file), "--paper", "letter"]) == 0
    assert page_file.read_text(encoding="utf-8") == page.replace("size: A4;", "size: letter;")
    check_paper(pdf_file.read_bytes(), LETTER)
    capsys.readouterr()
    assert main([*ketch, "--format", "markdown"]) == 0
    assert capsys.readouterr().out.startswith("# Bench sheet: Skerrow Ketch 47\n")
    assert main([*ketch, "--json"]) == 0
    assert '"dead_centre": "2 before"' in capsys.readouterr().out
    assert sorted(file.name for file in tmp_path.iterdir()) == ["ketch.html", "ketch.pdf"]


def exit_code(command: list[str]) -> object:
    """What the shell would see."""
    try:
        return main(command)
    except SystemExit as stopped:
        return stopped.code


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ("skerrow/ketch-48", 3, "no family"),
        ("skerrow/ketch-47 --serial 999999", 3, "no range"),
        ("skerrow/ketch-47 --margin 3", 4, "0 to 2 degrees"),
        ("skerrow/ketch-47 --dead-centre-reads 4before", 4, "beyond 3 degrees stop"),
        ("skerrow/ketch-47 --dead-centre-reads 4", 2, "2 before"),
        ("skerrow/ketch-47 --site book.example", 2, "such as https://stopscrew.example/"),
        ("skerrow/ketch-47 --paper a5", 2, "letter"),
        ("skerrow/ketch-47 --format markdown --json", 2, "not allowed with"),
        ("skerrow/ketch-47 --out /nowhere/sheet.html", 2, "cannot be written"),
        ("skerrow/ketch-47 --out /nowhere/sheet.pdf", 2, "cannot be written"),
    ],
)
def test_bad_input(words: str, code: int, said: str, compiled_book: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["sheet", "--book", compiled_book, *words.split()]) == code
    printed = capsys.readouterr()
    assert said in printed.out + printed.err
    assert "<!doctype" not in printed.out


def test_what_can_not_be_written_leaves_what_was_there(
    compiled_book: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "ketch.html"
    file.write_text("the sheet of last year", encoding="utf-8")

    def full(path: Path, content: bytes) -> int:
        with path.open("wb") as half:
            half.write(content[:100])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    assert main(["sheet", "--book", compiled_book, "skerrow/ketch-47", "--out", str(file)]) == 2
    assert file.read_text(encoding="utf-8") == "the sheet of last year"
    assert [entry.name for entry in tmp_path.iterdir()] == ["ketch.html"]
