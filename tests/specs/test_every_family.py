"""What must come about for every family of the book: nothing found, its page's document, its sheet."""

from __future__ import annotations

import json
from functools import cache

import html5lib
import pytest
from jsonschema import Draft202012Validator

from kb.cli import main
from kb.errors import RoutineNotFound
from kb.publish.sheet.document import sheet_document
from kb.publish.sheet.html import sheet_html
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.markdown import sheet_markdown
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from tests.specs.book import families, specs_book
from tests.support.folders import SCHEMA, SPECS

FAMILIES = families()


@cache
def validator(name: str) -> Draft202012Validator:
    schema = json.loads((SCHEMA / "published" / name).read_text(encoding="utf-8"))
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


def test_nothing_is_found_in_it(capsys: pytest.CaptureFixture[str]) -> None:
    code = main(["check", "--specs", str(SPECS), "--strict", "--no-cache"])
    assert capsys.readouterr().out.startswith("nothing found in ")
    assert code == 0


@pytest.mark.parametrize("family", FAMILIES)
def test_its_page_has_the_promised_shape(family: str) -> None:
    validator("page.json").validate(json.loads(json.dumps(family_page(specs_book(), family))))


def test_what_the_pages_share_has_the_promised_shape() -> None:
    validator("shared.json").validate(json.loads(json.dumps(shared_document(specs_book()))))


@pytest.mark.parametrize("family", FAMILIES)
def test_its_sheet_is_sound_or_the_missing_linkage_is_named(family: str) -> None:
    if "linkage" not in specs_book().documents[family]:
        with pytest.raises(RoutineNotFound, match="linkage"):
            make_sheet(specs_book(), family)
        return
    sheet = make_sheet(specs_book(), family)
    validator("sheet.json").validate(sheet_document(sheet))
    for long in (False, True):
        parser = html5lib.HTMLParser(namespaceHTMLElements=False)
        parser.parse(sheet_html(sheet, long=long))
        assert parser.errors == []
        assert specs_book().family(family).name in sheet_markdown(sheet, long=long)
