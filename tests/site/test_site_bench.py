"""The bench aids of the site say what the bench's commands say, step for step; their pages are whole and safe."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest

from kb.bench.worked_calculation import Worked
from kb.book.book import Book
from kb.errors import StopscrewError
from kb.publish.site.bench.aids import bench_aids, timing_light_figures
from kb.publish.site.bench.pages import bench_pages
from kb.publish.site.build import SITE
from kb.publish.site.family.shared import shared_document
from kb.publish.site.frame import Frame
from tests.support.bench_rows import rows
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.node import run_node

ROWS = rows()

OTHERWISE = {
    "give your own with --uncertain": "give your own under “How well you read it”",
    "if it leans, say --hole-angle": "if it leans, say by how much",
}
"""What a page says where a command names its option."""


def on_the_page(line: str) -> str:
    for option, words in OTHERWISE.items():
        line = line.replace(option, words)
    return line


def worked(number: int) -> dict[str, Any] | str:
    """What the command works out of a row, or the name of its refusal."""
    try:
        done: Worked = ROWS[number][2]()
    except StopscrewError as refusal:
        return type(refusal).__name__
    told = done.to_document()
    return {
        "answer": [line for line in told["answer"] if not line.startswith("for the other commands")],
        "steps": told["working"],
        "remarks": [on_the_page(line) for line in told["remarks"]],
        "cautions": told["cautions"],
    }


@pytest.fixture(scope="module")
def told() -> list[dict[str, Any]]:
    done = run_node("bench_lines.mjs", ASSETS, given=json.dumps([[aid, given] for aid, given, _ in ROWS]))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


def test_each_aid_says_what_its_command_says(told: list[dict[str, Any]]) -> None:
    came_of = {aid: [0, 0] for aid, *_ in ROWS}
    for number, found in enumerate(told):
        aid, given, _ = ROWS[number]
        assert "broken" not in found, found
        wanted = worked(number)
        if isinstance(wanted, str):
            assert found.get("refused") == wanted, (aid, given, found)
            came_of[aid][1] += 1
            continue
        assert {key: value for key, value in found.items() if key != "big"} == wanted, (aid, given)
        came_of[aid][0] += 1
    assert len(came_of) == 9
    assert all(answered > 5 and refused for answered, refused in came_of.values()), came_of


@pytest.fixture(scope="module")
def book() -> Book:
    return frozen_book()


@pytest.fixture(scope="module")
def pages(book: Book) -> dict[str, str]:
    frame = Frame((ASSETS / "page.css").read_text(encoding="utf-8"))
    return dict(bench_pages(SITE / "theme", frame, shared_document(book)))


def test_the_pages_are_whole(book: Book, pages: dict[str, str]) -> None:
    aids = list(bench_aids(timing_light_figures(shared_document(book)["figures"])))
    named = (ASSETS / "bench" / "aid-modules.js").read_text(encoding="utf-8")
    modules = dict(re.findall(r'\["([\w-]+)", "([\w./-]+)"\]', named))
    assert list(pages) == ["bench/index.html", *(f"bench/{aid['aid']}/index.html" for aid in aids)]
    assert len(aids) == 11
    for path, html in pages.items():
        assert "<script>" not in html
        assert " style=" not in html
        assert "onclick" not in html
        assert "default-src 'none'" in html
        assert "Invented demonstration data" in html
        assert "a licensed mechanic come first" in html
        assert path == "bench/index.html" or "<noscript>" in html
    for aid in aids:
        html = pages[f"bench/{aid['aid']}/index.html"]
        assert (ASSETS / "bench" / modules[aid["aid"]]).exists()
        for caution in aid["cautions"]:
            assert html.index(caution.replace("'", "&#39;")) < html.index("<form"), "from the start"


def test_a_book_without_figures_of_the_light_has_no_aids_for_them() -> None:
    assert [aid["aid"] for aid in bench_aids({})] == [
        "compression",
        "dead-centre",
        "piston",
        "rim",
        "cylinders",
        "premix",
        "rpm",
        "plates",
    ]
