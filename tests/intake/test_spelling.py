"""The names that a slip of the keys was meant for."""

from __future__ import annotations

import pytest

from kb.intake.models.spelling import either, nearest, write_instead

KNOWN = ("state", "at", "source", "order", "running", "cranking", "max-advance", "Nm", "mm", "at_least", "at_most")


@pytest.mark.parametrize(
    ("word", "expected"),
    [
        ("stat", ("state",)),
        ("sorce", ("source",)),
        ("runing", ("running",)),
        ("Max advance", ("max-advance",)),
        ("max_advance", ("max-advance",)),
        ("nm", ("Nm",)),
        ("MM", ("mm",)),
        ("atleast", ("at_least",)),
        ("at_mst", ("at_most",)),
        ("colour", ()),
        ("", ()),
    ],
)
def test_the_nearest_names(word: str, expected: tuple[str, ...]) -> None:
    assert nearest(word, KNOWN) == expected


@pytest.mark.parametrize(("names", "expected"), [(["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")])
def test_a_choice_in_words(names: list[str], expected: str) -> None:
    assert either(names) == expected


@pytest.mark.parametrize(
    ("word", "expected"),
    [("sauce", "write source"), ("page", "write source"), ("paper", "write source"), ("colour", "take it out")],
)
def test_what_to_write_instead(word: str, expected: str) -> None:
    assert write_instead(word, KNOWN, "take it out", {"page": "source", "papers": "source"}) == expected
