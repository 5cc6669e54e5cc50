"""Page documents: what a family's page is drawn from holds all that a look-up gives, each fact once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import pytest

from kb.book.lookup.combinations import combinations_of, outcome_of
from kb.book.model.answer import Answer
from kb.publish.site.family.document import family_page
from kb.publish.site.family.page_types import PageDocument, PageFigure, SharedDocument
from kb.publish.site.family.shared import shared_document
from tests.support.asked_book import asked_book
from tests.support.frozen import frozen_book

BOOKS = {"demonstration": frozen_book(), "asked": asked_book()}
FAMILIES = [(name, family) for name, book in BOOKS.items() for family in book.family_ids()]


def figure_of(page: PageDocument, figure: str) -> PageFigure:
    return next(one for one in page["figures"] if one["id"] == figure)


def _subset(shared: SharedDocument, page: PageDocument) -> dict[str, Any]:
    """The part of the shared document that one page refers to, so that the page is self-contained."""
    figures = {figure["id"] for figure in page["figures"]} | set(page["never_said"])
    picked = {
        "figures": figures,
        "makers": {page["maker"]},
        "sources": set(page["sources"]),
        "routines": {page["routine"]},
        "careful": {page["routine"]},
    }
    of_steps = {one for step in shared["careful"].get(page["routine"], ()) for one in step[1]}
    picked["cautions"] = {*page["cautions"], *of_steps}
    of_all: Mapping[str, Any] = shared
    kept = {name: {key: value for key, value in of_all[name].items() if key in keys} for name, keys in picked.items()}
    return {**{name: of_all[name] for name in ("date", "invented", "first")}, **kept}


@pytest.mark.parametrize(("name", "family"), FAMILIES)
def test_every_answer_of_the_book_is_in_the_page(name: str, family: str) -> None:
    book = BOOKS[name]
    page, found = family_page(book, family), book.family(family)
    for figure in found.statements:
        for way in combinations_of(found, figure):
            answer = outcome_of(book, found, way)
            if not isinstance(answer, Answer):
                continue
            rows = [row for row in figure_of(page, figure)["rows"] if row.get("printed") == answer.printed]
            said = {(row["state"], row["standing"], row.get("rests_on")) for row in rows}
            assert (answer.state, answer.standing.value, answer.document["rests_on"]) in said
            cited = figure_of(page, figure)["cited"]
            shown = {cited[one[0]][0] for row in rows for one in row["statements"]}
            assert {one.printed for one in answer.evidence} <= shown


@pytest.mark.parametrize(("name", "family"), FAMILIES)
def test_a_page_is_plain_json_and_stands_on_its_own(name: str, family: str) -> None:
    book = BOOKS[name]
    page = family_page(book, family)
    shared = _subset(shared_document(book), page)
    assert json.loads(json.dumps(page)) == page
    for figure in page["figures"]:
        assert figure["id"] in shared["figures"]
        for one in figure["cited"]:
            assert page["sources"][one[5]] in shared["sources"]
        for row in figure["rows"]:
            assert ("printed" in row) is not ("problem" in row)
            assert all(number < len(figure["kinds"]) for number in row.get("in", ()))
            assert all(one[0] < len(figure["cited"]) for one in row["statements"])
    orders = [int(shared["figures"][figure["id"]]["job_order"]) for figure in page["figures"]]
    assert orders == sorted(orders)
    assert set(page["never_said"]).isdisjoint(figure["id"] for figure in page["figures"])


def test_a_later_part_of_a_family_has_its_own_rows() -> None:
    maximum = figure_of(family_page(frozen_book(), "skerrow/ketch-47"), "max-advance")
    assert maximum["parts"] == [{"serials": {"from": "350000"}}]
    assert [(row["state"], row["printed"], row["standing"], row["in"]) for row in maximum["rows"]] == [
        ("cranking", "24° BTDC", "single", [0]),
        ("running", "22° BTDC", "derived", [0]),
        ("cranking", "24° BTDC", "derived", [1]),
        ("running", "22° BTDC", "single", [1]),
    ]


@pytest.mark.parametrize(
    ("family", "figure", "problem", "statements"),
    [
        ("skerrow/ketch-47", "idle-timing", "FigureNotStated", ["not stated"]),
        ("ostmere/dunlin-6-7", "linkage-rod-length", "FigureDoesNotApply", ["not applicable"]),
        ("skerrow/barque-113", "throttle-pickup", "FigureDisputed", ["1 to 2° ATDC", "1 to 3° BTDC"]),
    ],
)
def test_where_there_is_no_answer_the_statements_stand(
    family: str, figure: str, problem: str, statements: list[str]
) -> None:
    found = figure_of(family_page(frozen_book(), family), figure)
    (row,) = found["rows"]
    assert (row["problem"], [found["cited"][one[0]][0] for one in row["statements"]]) == (problem, statements)


def test_reports_stand_in_the_page() -> None:
    later, report = family_page(frozen_book(), "skerrow/ketch-47")["reports"]
    assert (report["on"], report["serial"]) == ("2026-05-09", "361204")
    how = "true angle, {} BTDC shown, pointer 2° BTDC at dead centre ± 0.35°, timing light"
    running = {"state": "running", "conditions": "5000 rpm"}
    assert report["left"]["max-advance"] == [
        {"printed": "23° BTDC", "state": "cranking", "value": {"btdc": "23"}, "how": how.format("25°")},
        {"printed": "21° BTDC", **running, "value": {"btdc": "21"}, "how": how.format("23°")},
    ]
    (shown,) = later["left"]["max-advance"]
    assert (shown["how"], shown["doubt"]) == ("as shown, timing light", "as shown")
    (old,) = family_page(frozen_book(), "pellwater/gregale-58")["reports"]
    (angle,) = old["left"]["max-advance"]
    assert angle["how"] == angle["doubt"] == "true or as shown?"


def test_what_nobody_said_is_unknown() -> None:
    assert "breaker-gap" in family_page(frozen_book(), "skerrow/ketch-47")["never_said"]
