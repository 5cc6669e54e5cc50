"""The files that the site serves to other programs have the shape that is promised, and the site serves the promise."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from tests.support.asked_book import asked_book
from tests.support.folders import PAGES, SCHEMA
from tests.support.frozen import frozen_book

PUBLISHED = SCHEMA / "published"


@cache
def validator(name: str) -> Draft202012Validator:
    schema = json.loads((PUBLISHED / name).read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema, format_checker=Draft202012Validator.FORMAT_CHECKER)


def plain(document: Any) -> Any:
    return json.loads(json.dumps(document))


@pytest.mark.parametrize("book", [frozen_book(), asked_book()], ids=["demonstration", "asked"])
def test_every_family_has_the_promised_shape(book: Any) -> None:
    for family in book.family_ids():
        validator("page.json").validate(plain(family_page(book, family)))
    validator("shared.json").validate(plain(shared_document(book)))


def _without(*keys: str) -> Callable[[Any], Any]:
    def spoil(page: Any) -> None:
        for key in keys[:-1]:
            page = page[int(key) if key.isdecimal() else key]
        del page[keys[-1]]

    return spoil


SPOILT: list[Callable[[Any], Any]] = [
    _without("sources"),
    _without("figures", "0", "cited"),
    _without("figures", "0", "rows", "0", "state"),
    _without("figures", "0", "rows", "0", "printed"),
    lambda page: page.update(more=1),
    lambda page: page["figures"][0].update(kinds=[[0]]),
    lambda page: page["figures"][0]["rows"][0].update(problem="FigureDisputed", words="", candidates=[]),
    lambda page: page["figures"][0]["rows"][0].update(printed=105),
    lambda page: page["figures"][0]["rows"][0].update(standing="sure"),
    lambda page: page["figures"][0]["rows"][0].update(more=1),
    lambda page: page["figures"][0]["cited"][0].extend(["a note", "one too many"]),
    lambda page: page["fits"][0].update(years=1978),
    lambda page: page["reports"][0]["left"].update({"Max Advance": []}),
]


@pytest.mark.parametrize("spoil", SPOILT)
def test_a_family_that_is_not_so_is_refused(spoil: Callable[[Any], Any]) -> None:
    page = plain(family_page(frozen_book(), "skerrow/ketch-47"))
    spoilt = copy.deepcopy(page)
    spoil(spoilt)
    assert validator("page.json").is_valid(page)
    assert not validator("page.json").is_valid(spoilt)


def test_the_reading_page_names_every_key_of_a_family() -> None:
    told = (PAGES / "read" / "programmers.md").read_text(encoding="utf-8")
    table = told[told.index("| key | contents |") :].partition("\n\n")[0]
    named = {key for row in table.splitlines()[2:] for key in re.findall(r"`(\w+)`", row.split("|")[1])}
    assert named == set(json.loads((PUBLISHED / "page.json").read_text(encoding="utf-8"))["properties"])


def test_the_site_serves_the_promise_and_the_files_that_its_page_names(demonstration_place: Path) -> None:
    for name in ("page.json", "shared.json"):
        assert (demonstration_place / "schema" / name).read_bytes() == (PUBLISHED / name).read_bytes()
    told = (PAGES / "read" / "programmers.md").read_text(encoding="utf-8")
    table = told[told.index("| file | contents |") :].partition("\n\n")[0]
    named = [name for row in table.splitlines()[2:] for name in re.findall("`([^`]+)`", row.split("|")[1])]
    assert len(named) >= 7
    for name in named:
        place = name.replace("<maker>/<family>", "skerrow/ketch-47")
        json.loads((demonstration_place / place).read_text(encoding="utf-8"))
