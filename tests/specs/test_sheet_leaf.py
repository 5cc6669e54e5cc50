"""The sheet of every family is one leaf: two pages of A4 and of Letter, as a PDF and printed by a browser."""

from __future__ import annotations

from functools import cache
from typing import Any

import pypdfium2
import pytest

from kb.errors import RoutineNotFound
from kb.publish.sheet.html import PAPERS, sheet_html
from kb.publish.sheet.leaf import leaf_of
from kb.publish.sheet.making import make_sheet
from kb.publish.sheet.pdf import sheet_pdf
from kb.publish.sheet.record import Sheet
from tests.specs.book import families, specs_book

FAMILIES = families()


@cache
def sheet_of(family: str) -> Sheet | None:
    """The sheet of a family; None for one without an order of work."""
    try:
        return make_sheet(specs_book(), family)
    except RoutineNotFound:
        return None


@pytest.mark.parametrize("family", FAMILIES)
def test_it_is_two_pages_on_both_papers(family: str) -> None:
    if sheet := sheet_of(family):
        assert [len(pypdfium2.PdfDocument(sheet_pdf(sheet, paper))) for paper in PAPERS] == [2, 2]


def test_a_figure_that_is_read_twice_stands_once_and_names_both_steps() -> None:
    sheet = sheet_of("skerrow/ketch-47")
    assert sheet
    (maximum,) = [
        one
        for one in leaf_of(sheet).targets
        if (one.target.given.figure, one.target.given.state) == ("max-advance", "cranking")
    ]
    first, again = maximum.steps
    labels = [f"{first} found", f"{first} slack", f"{first} tight", f"{again} tight"]
    assert [one.label for one in maximum.blanks] == labels


@pytest.mark.parametrize("family", FAMILIES)
def test_no_box_of_a_step_that_reads_figures_is_lost(family: str) -> None:
    """Those of several figures of one step go to the figure that they are for."""
    sheet = sheet_of(family)
    if sheet is None:
        return
    leaf = leaf_of(sheet)
    for step, line in zip(sheet.steps, leaf.steps, strict=True):
        rows = [one for one in leaf.figures if one.step == step.number]
        boxes = [box for one in rows for box in one.blanks] + list(line.blanks)
        if step.given:
            assert len(boxes) == sum(not box.sided for box in step.blanks), step.id
            assert all(len(one.blanks) > 0 for one in rows), step.id
        sided = [box for one in leaf.targets if step.number in one.steps for box in one.blanks]
        assert bool(sided) is any(box.sided for box in step.blanks), step.id


def test_each_cylinder_that_has_its_own_contacts_has_its_boxes() -> None:
    sheet = sheet_of("skerrow/yawl-23")
    assert sheet
    boxes = [one for target in leaf_of(sheet).targets for one in target.blanks if one.of]
    assert {(one.label, one.of) for one in boxes} == {
        (label, f"cylinder {number}") for label in ("found", "slack", "tight") for number in (1, 2)
    }


def test_a_browser_prints_it_on_two_pages(chromium: Any) -> None:
    page = chromium.new_page()
    for family in FAMILIES:
        if sheet := sheet_of(family):
            page.set_content(sheet_html(sheet, "letter"))
            assert len(pypdfium2.PdfDocument(page.pdf(prefer_css_page_size=True))) == 2, family
    page.close()
