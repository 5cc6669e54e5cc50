"""Every rule's page as it is printed, whole."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from kb.cli.rule import page
from kb.intake.rules import rules
from tests.support.folders import GOLDEN

PAGES = GOLDEN / "rules"


@pytest.mark.parametrize("rule", sorted(rules()))
def test_the_page_of_a_rule(rule: str, golden: Callable[[str, str], None]) -> None:
    golden(f"rules/{rule}.txt", "\n".join(page(rules()[rule])) + "\n")


def test_no_page_is_left_of_a_rule_that_is_gone() -> None:
    assert {file.stem for file in PAGES.glob("*.txt")} == set(rules())
