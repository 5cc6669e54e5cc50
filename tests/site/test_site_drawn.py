"""Drawings in the reading pages: what they show is told in words too, what is drawn of a family is that family's."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from kb.book.store.in_memory import MemoryBook
from kb.errors import FigureUnknown
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.family.view import view
from kb.publish.site.reading.drawings import SHOWN, drawings_of, inlined
from kb.publish.site.reading.row_drawing import row_drawing
from tests.support.asked_book import asked_book
from tests.support.folders import PAGES
from tests.support.frozen import frozen_book

DRAWN = sorted((PAGES / "drawings").glob("*.svg"))
SVG = "{http://www.w3.org/2000/svg}"


def written() -> str:
    return "\n".join(path.read_text(encoding="utf-8") for path in PAGES.rglob("*.md"))


def shown(svg: str) -> list[str]:
    """The lines of type of a drawing."""
    return ["".join(one.itertext()) for one in ElementTree.fromstring(svg).iter(f"{SVG}text")]


def test_every_drawing_is_used_and_every_one_that_is_used_is_there() -> None:
    used = set(re.findall(r"\]\(\.\./drawings/([a-z-]+)\.svg\)", written()))
    assert used == set(drawings_of(frozen_book(), PAGES / "drawings"))
    assert {path.stem for path in DRAWN} < used


@pytest.mark.parametrize("path", DRAWN, ids=[path.stem for path in DRAWN])
def test_a_drawing_of_ours_is_told_by_the_page_that_has_it(path: Path) -> None:
    (page,) = [one for one in PAGES.rglob("*.md") if f"drawings/{path.name})" in one.read_text(encoding="utf-8")]
    text = page.read_text(encoding="utf-8")
    alternative = re.search(rf"!\[([^\]]*)\]\(\.\./drawings/{path.name}\)", text)
    assert alternative
    assert len(alternative[1].split()) >= 25, "it says what is to be seen"
    known = set(re.findall(r"[a-z]+|\d+", text.lower()))
    for line in shown(path.read_text(encoding="utf-8")):
        missing = [word for word in re.findall(r"[a-z]{4,}|\d{2,}", line.lower()) if word not in known]
        assert not missing, f"{line}: the page does not say {missing}"


@pytest.mark.parametrize("path", DRAWN, ids=[path.stem for path in DRAWN])
def test_a_drawing_of_ours_is_plain(path: Path) -> None:
    root = ElementTree.parse(path).getroot()
    assert {str(one.tag).removeprefix(SVG) for one in root.iter()} <= {"svg", "path", "circle", "text"}
    classes = {"hot", "hot-fill"}
    for one in root.iter():
        assert not {"style", "id", "href"} & set(one.attrib)
        assert one.get("class") in {None, *classes}
        assert one.get("fill", "none") in ("none", "currentColor")
        assert float(one.get("font-size", 13)) >= 13
    wide = float(str(root.get("viewBox")).split()[2])
    assert wide == 390


@pytest.mark.parametrize("family", frozen_book().family_ids())
def test_the_row_that_is_explained_is_what_the_familys_page_shows(family: str) -> None:
    book = frozen_book()
    told = view(family_page(book, family), shared_document(book))
    row = next((row for row in told["top"] if row["is_maximum"]), None)
    if row is None or row["words"] or len(row["digits"]) != 1:
        with pytest.raises(FigureUnknown, match="no maximum to draw"):
            row_drawing(told, "row")
        return
    words = " ".join(shown(row_drawing(told, "row")))
    (digits,) = row["digits"]
    parts = [told["name"], told["state"], row["heading"], digits["number"], digits["unit"], row["sure"], *row["how"]]
    for part in parts:
        assert " ".join(part.split()) in words
    numbers = [line for line in shown(row_drawing(told, "row")) if re.fullmatch("[1-8]", line)]
    assert sorted(numbers) == [str(number) for number in range(1, 9) if number != 6 or row["dots"]]


def test_the_row_on_the_built_page_is_that_of_the_familys_page(demonstration_place: Path) -> None:
    explained = (demonstration_place / "read/page/index.html").read_text(encoding="utf-8")
    family = (demonstration_place / f"families/{SHOWN}/index.html").read_text(encoding="utf-8")
    seen = " ".join(re.sub(r"<[^>]*>", " ", family).split()).replace(" · ", " ")
    (drawing,) = re.findall(r'<figure class="drawing row">(<svg.*?</svg>)', explained, re.S)
    lines = [line for line in shown(drawing) if len(line) > 2]
    assert len(lines) >= 8
    for line in lines:
        assert line.replace(" · ", " ").replace(" ·", "").strip() in seen, line


def test_what_the_page_quotes_is_shown_by_some_family(demonstration_place: Path) -> None:
    text = (PAGES / "read" / "page.md").read_text(encoding="utf-8")
    quoted = [*re.findall(r"(?<!\*)\*([^*]+)\*(?!\*)", text), "not stated", "does not apply", "Unknown:"]
    assert len(quoted) >= 6
    pages = [path.read_text(encoding="utf-8") for path in (demonstration_place / "families").glob("*/*/index.html")]
    for words in quoted:
        assert any(words.lower() in page.lower() for page in pages), f"no page shows {words!r}"


def test_another_book_is_drawn_by_a_family_of_its_own() -> None:
    drawings = drawings_of(asked_book(), PAGES / "drawings")
    assert "skerrow/example" in drawings["rim"] or "pellwater" in drawings["rim"]
    assert "Ketch" not in "".join(drawings[name] for name in ("row", "rim", "running", "tape"))


def test_where_nothing_can_be_drawn_the_words_stand() -> None:
    empty = MemoryBook("2026-07-27", True, {}, {}, {}, {}, {}, {}, {}, (), {})
    drawings = drawings_of(empty, PAGES / "drawings")
    assert [name for name, drawing in drawings.items() if not drawing] == ["row", "rim", "running", "tape"]
    body = '<p><img alt="The rim." src="../../drawings/rim.svg" /></p>'
    assert inlined(body, drawings) == "<p>The rim.</p>"


def test_a_drawing_that_there_is_not_is_said() -> None:
    with pytest.raises(KeyError, match="rimm"):
        inlined('<p><img alt="The rim." src="../../drawings/rimm.svg" /></p>', {"rim": ""})
