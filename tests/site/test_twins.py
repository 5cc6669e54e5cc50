"""Families of one maker and name are told apart wherever one of them is shown."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from kb.book.lookup.twins import made_words, twin_lines, twins_of
from kb.cli import main
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.site.build import Builder
from kb.publish.site.family.document import family_page
from kb.publish.site.finding.index_files import INDEX, finding_files
from kb.publish.site.finding.lists import maker_body
from tests.support.folders import FROZEN
from tests.support.frozen import frozen_book
from tests.support.node import run_module

FIRST, SECOND = "pellwater/ponente-37", "pellwater/ponente-37-second"
TWINS = [
    (FIRST, "1974 to 1977, serials PN11000 to PN18640", "PN before the serial number"),
    (SECOND, "1978 to 1984, serials PS11000 to PS29999", "PS before the serial number"),
    ("skerrow/ketch-47", "1978 to 1981, serials 300100 to 418999", "K47 stamped on the powerhead"),
    ("skerrow/ketch-47-late", "1982 to 1984, serials 419000 to 502499", "the serial is on a riveted tag"),
]
ALONE = "ostmere/dunlin-6-7"


def test_twins_have_one_maker_and_one_name() -> None:
    book = frozen_book()
    found = {key: [one.id for one in twins_of(book, book.family(key))] for key in book.family_ids()}
    assert {key: others for key, others in found.items() if others} == {
        FIRST: [SECOND],
        SECOND: [FIRST],
        "skerrow/ketch-47": ["skerrow/ketch-47-late"],
        "skerrow/ketch-47-late": ["skerrow/ketch-47"],
    }


@pytest.mark.parametrize(("family", "made", "look_for"), TWINS)
def test_what_tells_them_apart_stands_in_title_and_under_the_heading(family: str, made: str, look_for: str) -> None:
    book = frozen_book()
    html = Builder(book).family_html(family_page(book, family))
    title = re.search("<title>(.*?)</title>", html)
    assert title is not None
    assert made in title[1]
    assert look_for in title[1]
    head = html[html.index("<h1>") : html.index('id="choices"')]
    (other,) = twins_of(book, book.family(family))
    for words in (made, look_for, f"families/{other.id}/", made_words(other)):
        assert words in head


@pytest.mark.parametrize(("family", "made", "look_for"), TWINS)
def test_the_sheet_says_it_in_its_title_and_at_its_head(family: str, made: str, look_for: str) -> None:
    book = frozen_book()
    sheet = make_sheet(book, family)
    (other,) = twin_lines(book, book.family(family))
    assert made in sheet.title
    assert look_for in sheet.title
    head = sheet_markdown(sheet).partition("## Before you start")[0]
    assert made in head
    assert other.partition(":")[0].capitalize() in head


@pytest.mark.parametrize(
    "words", [["show", FIRST], ["show", FIRST, "max-advance", "--state", "cranking"], ["job", FIRST]]
)
def test_the_command_line_names_the_twin(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*words, "--specs", str(FROZEN)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    before_figures = said[: said.index("27")]
    assert "PN before the serial number" in before_figures
    assert f"not to be taken for {SECOND}: 1978 to 1984" in before_figures


def test_the_lists_tell_twins_apart_and_leave_others_as_they_are(tmp_path: Path) -> None:
    book = frozen_book()
    makers = {key.partition("/")[0] for key, _, _ in TWINS}
    listed = "".join(
        maker_body(book, maker, [key for key in book.family_ids() if key.startswith(f"{maker}/")]) for maker in makers
    )
    assert [look_for for _, _, look_for in TWINS if look_for not in listed] == []
    assert listed.count("look for") == len(TWINS)
    (tmp_path / "index.bin").write_bytes(finding_files(book, "2026-11-01")[INDEX])
    source = """
import { readFileSync } from "node:fs";
import { Index } from ASSETS/find/index/index.js;
const raw = readFileSync(process.argv[2]);
const index = await Index.read(raw.buffer.slice(raw.byteOffset, raw.byteOffset + raw.length));
const places = [...Array(index.count).keys()].filter((place) => index.hasTwin(place));
console.log(JSON.stringify(places.map((place) => [index.id(place), index.serialsInWords(place)])));
"""
    found = dict(json.loads(run_module(source, tmp_path / "index.bin")))
    assert found.keys() == {key for key, _, _ in TWINS}
    assert found[SECOND] == "PS11000 to PS29999"


def test_a_page_document_carries_how_its_twins_differ() -> None:
    page = json.loads(json.dumps(family_page(frozen_book(), FIRST)))
    (twin,) = page["twins"]["others"]
    assert (twin["id"], twin["made"]) == (SECOND, TWINS[1][1])
    assert {"state": "cranking", "printed": "24° BTDC", "value": {"btdc": "24"}} in twin["figures"]["max-advance"]
    assert ["flywheel", "numbered_marks"] in twin["unlike"]
    assert ["flywheel", "rotation"] not in twin["unlike"]
    assert "twins" not in family_page(frozen_book(), ALONE)
