"""A printed sheet sets each figure in the state that its step reads it in, whatever state was asked for."""

from __future__ import annotations

import pytest

from kb.book.model.engine_on_the_stand import EngineOnTheStand
from kb.publish.sheet.making import make_sheet
from tests.specs.book import specs_book

BOOK = specs_book()


@pytest.mark.parametrize("state", ["", "cranking", "static", "running"])
def test_a_running_figure_is_no_target_while_cranking(state: str) -> None:
    sheet = make_sheet(BOOK, "pellwater/levanter-19", EngineOnTheStand(state=state))
    set_at = {step.id: [(one.given.state, one.set_to) for one in step.targets] for step in sheet.steps if step.targets}
    assert set_at["maximum"] == [("cranking", "31° BTDC")]
    assert set_at["full-speed"] == [("running", "32° BTDC")]
    (checked,) = [step for step in sheet.steps if step.id == "full-speed"]
    assert [one.unit for one in checked.blanks] == ["°", "rpm"], "the speed has its box too"


def test_a_static_figure_has_no_target_on_a_step_that_cranks() -> None:
    sheet = make_sheet(BOOK, "ostmere/dunlin-6-7")
    states = {step.id: {one.given.state for one in step.targets} for step in sheet.steps if step.targets}
    assert states["maximum-static"] == {"static"}
    assert "maximum" not in states
    assert not [step.id for step in sheet.steps if step.id.endswith("-static") and "rank" in step.do]


def test_a_box_for_each_cylinder_that_has_its_own_contacts() -> None:
    steps = {step.id: step for step in make_sheet(BOOK, "skerrow/yawl-23").steps}
    assert [(one.label, one.of) for one in steps["maximum-static"].blanks] == [
        ("as found", "cylinder 1"),
        ("as left", "cylinder 1"),
        ("as found", "cylinder 2"),
        ("as left", "cylinder 2"),
    ]
    assert [one.of for one in steps["pickup-static"].blanks] == ["", ""]
