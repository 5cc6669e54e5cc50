"""A book whose every text is an attack makes pages that run nothing."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import html5lib
import pytest

import kb
from kb.book.records import FigureKind, Maker, Source
from kb.book.shelf import Shelf
from kb.publish.site.build import build_site

SPECS = Path(__file__).parent.parent / "specs"
ATTACKS = (
    '"><script>alert(1)</script>', "' onload=alert(1) x='", "</style></title><img src=x onerror=alert(1)>",
    "javascript:alert(1)", "[x](javascript:alert(1))", "<svg/onload=alert(1)>", "{{ 7*7 }}{% raw %}", "&lt;script&gt;",
    "--><script>alert(1)</script>", "|\n# <b onclick=alert(1)>x</b>",
)  # fmt: skip
_TEXTS = frozenset({
    "name", "look_for", "note", "because", "title", "text", "behind", "label", "about", "hazard_because", "publisher",
    "edition", "if_early", "if_late", "mark", "code", "ran", "part", "page",
})  # fmt: skip
_LISTS = frozenset({"also_called"})


def attacked(document: Any, number: int = 0) -> Any:
    """The same with an attack in each text of which the book takes any words."""
    if isinstance(document, dict):
        made: dict[str, Any] = {}
        for place, (key, value) in enumerate(document.items()):
            if key in _TEXTS and isinstance(value, str):
                made[key] = value + ATTACKS[(number + place) % len(ATTACKS)]
            elif key in _LISTS:
                made[key] = list(ATTACKS)
            else:
                made[key] = attacked(value, number + place)
        return made
    if isinstance(document, list):
        return [attacked(one, number + place) for place, one in enumerate(document)]
    return document


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = kb.open_book(SPECS)
    assert isinstance(book, Shelf)
    few = {key: attacked(copy.deepcopy(document), number)
           for number, (key, document) in enumerate(sorted(book.documents.items())) if number % 4 == 0}  # fmt: skip
    hostile = Shelf(
        book.date, True,
        {key: FigureKind(key, attacked(kind.document, len(key))) for key, kind in book.figures.items()},
        {key: Maker(key, attacked(maker.document, len(key))) for key, maker in book.makers.items()},
        {key: Source(key, attacked(source.document, len(key))) for key, source in book.sources.items()},
        {key: attacked(caution, len(key)) for key, caution in book.cautions.items()},
        book.routines, {}, few, (), {key: attacked(report, 3) for key, report in book.reported.items()},
    )  # fmt: skip
    return build_site(hostile, tmp_path_factory.mktemp("hostile") / "site").place


def test_nothing_of_it_becomes_markup(site: Path) -> None:
    seen = 0
    for path in site.rglob("*.html"):
        text = path.read_text(encoding="utf-8")
        tree = html5lib.parse(text, namespaceHTMLElements=False)
        seen += "alert(1)" in text
        for element in tree.iter():
            if element.tag == "script":
                assert str(element.get("src")).endswith(".js"), path
                assert not (element.text or "").strip(), path
            for name, value in element.attrib.items():
                assert not str(name).startswith("on"), f"{path}: {name}"
                if name in ("href", "src", "action", "formaction", "xlink:href"):
                    assert "javascript:" not in value.lower(), f"{path}: {value}"
            assert (element.text or "").strip() != "49"
    assert seen > 20


def test_drawings_run_nothing_either(site: Path) -> None:
    for path in site.rglob("*.svg"):
        tree = html5lib.parse(path.read_text(encoding="utf-8"), namespaceHTMLElements=False)
        for element in tree.iter():
            assert not str(element.tag).endswith("script"), path
            assert not any(str(name).startswith("on") for name in element.attrib), path
