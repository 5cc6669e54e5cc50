"""One file examined: a part that cannot be read is told once, and nothing is said to be missing that lay in it."""

from __future__ import annotations

import pytest

from kb.intake.check.whole_book import check_files
from kb.intake.rules import FAMILY
from tests.support.example_book import example_book

BROKEN = [
    ("maker: skerrow\n", "maker: [skerrow\n", "bracket-not-paired"),
    ("name: Example 31\n", "name: 'Example 31\n", "quote-not-closed"),
    ("      source: handbook\n      page: 41\n", "      source: [handbook\n      page: 41\n", "bracket-not-paired"),
    ("  cylinders: 3\n", "  cylinders: 'three\n", "quote-not-closed"),
]


@pytest.mark.parametrize(("sound", "broken", "rule"), BROKEN)
def test_what_could_not_be_read_is_not_missing(sound: str, broken: str, rule: str) -> None:
    text = example_book()[FAMILY].decode()
    assert sound in text
    found = check_files({**example_book(), FAMILY: text.replace(sound, broken, 1).encode()})
    assert [finding.rule for finding in found] == [rule]


def test_the_rest_of_a_half_right_file_is_judged() -> None:
    text = example_book()[FAMILY].decode().replace("maker: skerrow", "maker: [skerrow").replace("[4, 6]", "[6, 4]")
    found = check_files({**example_book(), FAMILY: text.encode()})
    assert {finding.rule for finding in found} == {"bracket-not-paired", "window-inverted"}
