"""The sheet on one leaf: two pages whatever the family and the paper, and nothing that matters is cut."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import cache
from math import hypot
from typing import Any

import pypdfium2
import pytest

from kb.book.book import Book
from kb.book.model.answer import INVENTED_WORDS, ORDER_OF_TRUST
from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.cli import main
from kb.publish.sheet.document import sheet_document
from kb.publish.sheet.html import sheet_html
from kb.publish.sheet.leaf import CUT, NAME, Leaf, clipped, in_short, leaf_of
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.sheet.pdf import sheet_pdf
from kb.publish.sheet.record import Sheet
from tests.publish.test_sheet import FAMILIES, GOLDEN, WHOLE
from tests.publish.test_sheet_pages import A4, LETTER, attacked, check_paper, parsed, rendered
from tests.support.folders import FROZEN
from tests.support.frozen import frozen_book
from tests.support.hostile_book import hostile_book

PAPERS = {"a4": A4, "letter": LETTER}
SMALLEST = 8.5
"""Points: what a mechanic still reads at the engine."""

__all__ = ["attacked"]


@cache
def plain(family: str) -> Sheet:
    """The sheet of a family with nothing given."""
    return make_sheet(frozen_book(), family)


def pages_of(content: bytes) -> list[str]:
    """The words of each page, in one line, without the hyphens at the ends of lines."""
    words = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(content)]
    return [" ".join(re.sub("[\u00ad\u2010\ufffe-]\\s*\\n", "", one).replace("\ufffe", "").split()) for one in words]


def said(words: str, page: str) -> bool:
    """Whether a page says so, wherever its lines are broken."""
    return re.sub(r"[\s\u00ad-]", "", words) in re.sub(r"[\s\u00ad-]", "", page)


@pytest.mark.parametrize(("name", "family", "given"), GOLDEN, ids=[row[0] for row in GOLDEN])
def test_whole_leaves(
    name: str, family: str, given: dict[str, Any], book: Book, golden: Callable[[str, str], None]
) -> None:
    sheet = make_sheet(book, family, EngineOnTheStand.of(**given))
    golden(f"sheets/{name}-leaf.md", sheet_markdown(sheet))
    if name == WHOLE:
        golden(f"sheets/{name}-leaf.html", sheet_html(sheet))


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("name", "family", "given"), GOLDEN, ids=[row[0] for row in GOLDEN])
def test_the_leaf_has_two_pages_with_room_at_their_edges(
    name: str, family: str, given: dict[str, Any], paper: str, book: Book
) -> None:
    sheet = make_sheet(book, family, EngineOnTheStand.of(**given))
    document = check_paper(sheet_pdf(sheet, paper), PAPERS[paper])
    assert len(document) == 2
    for number in (1, 2):
        assert f"page {number} of 2" in document[number - 1].get_textpage().get_text_range()


@pytest.mark.parametrize("family", FAMILIES[::4])
def test_the_first_page_says_which_engine_and_what_to_set(family: str) -> None:
    sheet, leaf = plain(family), leaf_of(plain(family))
    first, second = pages_of(sheet_pdf(sheet))
    for words in (leaf.name, sheet.family, INVENTED_WORDS, ORDER_OF_TRUST, leaf.engine, leaf.centre):
        assert said(words, first) or said(words.capitalize(), first), words
    for target in leaf.targets:
        given = target.target.given
        assert said(given.label, first)
        for words in (target.target.set_to, target.target.right, given.printed, given.sure, target.where):
            assert said(words, first), words
        for words in (given.refused[1:], *given.candidates, *(text for _, text in target.named)):
            assert said(words, first), words
    for one in leaf.figures:
        for words in (
            one.given.printed,
            *one.given.also,
            one.given.where,
            one.given.refused[1:],
            *one.given.candidates,
        ):
            assert said(words, first), words
    for danger in leaf.dangers:
        assert said(f"{danger.title}. {danger.text}", first)
    for source in sheet.sources:
        assert said(f"[{source.number}] {source.title}", first)
    for step in leaf.steps:
        assert said(step.words.rstrip(CUT), second)
        assert all(said(item, second) for item in step.gate)
        assert all(said(one.title, second) for one in step.cautions)


@pytest.mark.parametrize("family", FAMILIES)
def test_nothing_of_the_long_sheet_is_lost_but_words(family: str) -> None:
    """Every figure, every danger and every line of a gate has a place on the leaf, and a figure its boxes."""
    sheet, leaf = plain(family), leaf_of(plain(family))
    assert [step.number for step in leaf.steps] == [step.number for step in sheet.steps]
    assert [step.gate for step in leaf.steps] == [step.gate for step in sheet.steps]
    assert [step.stale for step in leaf.steps] == [step.stale for step in sheet.steps]
    told = {(one.target.given, one.target.set_to) for one in leaf.targets}
    assert told == {(target.given, target.set_to) for target in sheet.targets}
    assert sorted(number for one in leaf.targets for number in one.steps) == [one.step for one in sheet.targets]
    stated = {one.given for one in leaf.figures}
    for step, line in zip(sheet.steps, leaf.steps, strict=True):
        for given in step.given:
            assert (given in stated) is bool(given.printed or given.candidates)
            assert given in stated or line.missing
    assert stated >= set(sheet.rest)
    whole = {(one.title, one.text) for step in sheet.steps for one in step.cautions if one.severity == "danger"}
    assert {(one.title, one.text) for one in leaf.dangers} == whole
    for step, line in zip(sheet.steps, leaf.steps, strict=True):
        if step.targets:
            continue
        rows = [blank for one in leaf.figures if one.step == step.number for blank in one.blanks]
        asked = [blank for blank in step.blanks if step.given or any(one.label == "as found" for one in step.blanks)]
        assert len(rows) + len(line.blanks) == len(asked), step.id


def test_as_found_slack_and_tight_have_a_box_each() -> None:
    (maximum,) = [
        one for one in leaf_of(plain("hollin-drake/gimlet-6-1")).targets if one.target.given.figure == "max-advance"
    ]
    assert [one.label for one in maximum.blanks] == ["found", "slack", "tight"]
    assert {one.sided for one in maximum.blanks} == {True}


def test_a_place_on_the_rim_is_drawn_for_each_target() -> None:
    sheet = plain("skerrow/ketch-47")
    for target in sheet.targets:
        assert ('class="target"' in target.strip) is bool(target.set_to)
    page = parsed(sheet_html(sheet))
    strips = [one for one in page.iter("div") if one.get("class") == "strip"]
    assert len(strips) == sum(bool(one.target.set_to) for one in leaf_of(sheet).targets)
    assert '"strip"' not in json.dumps(sheet_document(sheet))


@pytest.mark.parametrize("family", FAMILIES)
def test_the_page_is_sound(family: str) -> None:
    root = parsed(sheet_html(plain(family)))
    tags = [element.tag for element in root.iter()]
    assert not {"script", "link", "iframe", "object", "img", "base", "form"} & set(tags)
    assert tags.count("h1") == 1
    for element in root.iter():
        if element.tag in ("input", "textarea") and element.get("type") != "checkbox":
            assert element.get("aria-label"), "a box has a name"
        if "href" in element.attrib and element.tag == "a":
            assert element.get("href") == plain(family).address
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    gates = [one for one in root.iter("li") if "gate" in (one.get("class") or "").split()]
    assert len(gates) == sum(bool(step.gate) for step in plain(family).steps)
    for shown, step in zip(gates, [one for one in plain(family).steps if one.gate], strict=True):
        ticks = [one for one in shown.iter("input") if one.get("type") == "checkbox"]
        assert len(ticks) == 1 + len(step.gate)


@pytest.mark.parametrize("paper", PAPERS)
def test_long_names_make_no_third_page(paper: str) -> None:
    """Names, titles and texts that a contributor is free in, each with an attack at its end."""
    book = hostile_book()
    for family in sorted(book.documents)[:: 2 if paper == "a4" else 3]:
        sheet = make_sheet(book, family)
        first, second = pages_of(sheet_pdf(sheet, paper))
        leaf = leaf_of(sheet)
        assert len(leaf.name) <= NAME
        assert leaf.cut
        for target in leaf.targets:
            assert all(said(words, first) for words in (target.target.given.printed, target.where))
        for one in leaf.figures:
            assert said(one.given.printed, first + second)
        for danger in leaf.dangers:
            assert said(danger.text, first)
        for source in sheet.sources:
            assert said(source.title, first)
        assert all(said(" ".join(item.split()), second) for step in leaf.steps for item in step.gate)
        assert "What ends in … stands whole on the long sheet." in first


def test_what_cannot_be_on_two_pages_makes_a_third_and_is_never_cut(attacked: Sheet) -> None:
    """Dangers as long as pages: whoever needs the leaf needs them more."""
    pages = pages_of(sheet_pdf(attacked))
    assert len(pages) > 2
    for danger in leaf_of(attacked).dangers:
        assert said(" ".join(danger.text.split()), " ".join(pages))


def test_an_attack_is_words_on_the_leaf(attacked: Sheet) -> None:
    page = sheet_html(attacked)
    root = parsed(page)
    assert not {"script", "img", "iframe"} & {str(element.tag) for element in root.iter()}
    assert not [element for element in root.iter() if any(name.startswith("on") for name in element.attrib)]
    assert {element.get("href") for element in root.iter("a")} == {attacked.address}
    assert page.count("&lt;script&gt;") > 20
    assert "<script" not in sheet_markdown(attacked).replace("\\<", "")


def size_of(words: pypdfium2.PdfTextPage, at: int) -> float:
    """The size of a letter on paper in points, also of one in a drawing."""
    matrix = pypdfium2.raw.FS_MATRIX()
    pypdfium2.raw.FPDFText_GetMatrix(words, at, matrix)
    return float(pypdfium2.raw.FPDFText_GetFontSize(words, at) * hypot(matrix.c, matrix.d))


@pytest.mark.parametrize("paper", PAPERS)
def test_no_type_on_the_leaf_is_smaller_than_can_be_read(paper: str) -> None:
    for page in pypdfium2.PdfDocument(sheet_pdf(plain("skerrow/ketch-47"), paper)):
        sizes = [
            size_of(words, at)
            for words in [page.get_textpage()]
            for at in range(words.count_chars())
            if words.get_text_range(at, 1).strip()
        ]
        assert len(sizes) > 2000
        assert min(sizes) >= SMALLEST - 0.01


def test_the_leaf_is_black_on_white() -> None:
    for page in pypdfium2.PdfDocument(sheet_pdf(plain("skerrow/ketch-47"))):
        picture = rendered(page)
        assert (picture > 250).mean() > 0.8
        assert picture.min() == 0


@pytest.mark.parametrize(
    ("words", "most", "cut"),
    [
        ("Ketch 47", 8, "Ketch 47"),
        ("Ketch 47, the second", 14, "Ketch 47…"),
        ("Donaudampfschiffahrt", 8, "Donauda…"),
        ("a  b\nc", 9, "a b c"),
        ("", 5, ""),
    ],
)
def test_words_are_cut_at_a_good_place(words: str, most: int, cut: str) -> None:
    assert clipped(words, most) == cut
    assert len(clipped(words, most)) <= most


def test_a_step_in_short_is_its_first_sentence() -> None:
    assert in_short("Put the cable back. Then feel it.", 60) == "Put the cable back. Then feel it."
    assert in_short("Put the throttle cable back and adjust it. Then feel it.", 60) == (
        "Put the throttle cable back and adjust it."
    )
    long = in_short("Wrap a tape round the rim, or fix a degree wheel to it, with its zero close to the pointer.", 60)
    assert long == "Wrap a tape round the rim, or fix a degree wheel to it…"


def test_a_dead_centre_reading_is_in_the_targets_and_on_the_second_page(book: Book) -> None:
    sheet = make_sheet(book, "skerrow/ketch-47", EngineOnTheStand.of(serial="301455", margin=1, dead_centre=2))
    first, second = pages_of(sheet_pdf(sheet))
    assert "The pointer shows 2 before at true top dead centre" in first
    assert "This engine:" not in first
    assert "Set, by what you find out:" in first, "where there is no number, what is found out is written down"
    assert "2 before" in second
    assert "301455" in first
    leaf: Leaf = leaf_of(sheet)
    assert {one.rule for one in leaf.targets} == {""}


def test_the_command_writes_the_leaf_or_the_long_sheet(capsys: pytest.CaptureFixture[str], tmp_path: Any) -> None:
    ketch = ["sheet", "--specs", str(FROZEN), "skerrow/ketch-47"]
    told = []
    for more in ([], ["--long"]):
        assert main([*ketch, *more, "--format", "markdown"]) == 0
        told.append(capsys.readouterr().out)
        assert main([*ketch, *more, "--out", str(tmp_path / f"ketch{''.join(more)}.pdf")]) == 0
        capsys.readouterr()
    assert "## The order of work" in told[0]
    assert "Why:" not in told[0]
    assert "## The job, step by step" in told[1]
    assert told[1] == sheet_markdown(plain("skerrow/ketch-47"), long=True)
    short, long = (
        len(pypdfium2.PdfDocument((tmp_path / name).read_bytes())) for name in ("ketch.pdf", "ketch--long.pdf")
    )
    assert short == 2
    assert long > 6
