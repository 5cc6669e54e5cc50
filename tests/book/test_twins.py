"""Families of one maker and name: which they are, and what tells them apart in words."""

from __future__ import annotations

from typing import Any

import pytest

from kb.book.lookup.twins import made_words, told_apart_words, twin_lines, twins_of
from kb.book.model.family import Heading
from tests.support.frozen import frozen_book

KETCH, LATE, YAWL = "skerrow/ketch-47", "skerrow/ketch-47-late", "skerrow/yawl-23"


def between(first: str, last: str) -> dict[str, Any]:
    return {"serials": {"from": first, "to": last}}


MADE: list[tuple[list[dict[str, Any]], str]] = [
    ([], ""),
    ([{"years": ["1978", "1981"]}], "1978 to 1981"),
    ([{"years": ["1978", "1981"], **between("100", "199")}], "1978 to 1981, serials 100 to 199"),
    ([between("100", "199"), between("200", "299")], "serials 100 to 299"),
    ([between("100", "199"), between("200", "299"), between("300", "310")], "serials 100 to 310"),
    ([between("0", "0"), between("1", "9")], "serials 0 to 9"),
    ([between("100", "199"), between("201", "299")], "serials 100 to 199, 201 to 299"),
    ([between("100", "199"), between("199", "299")], "serials 100 to 199, 199 to 299"),
    ([between("A1", "A9"), between("A10", "A20")], "serials A1 to A9, A10 to A20"),
    ([between("100", "199"), between("A200", "A299")], "serials 100 to 199, A200 to A299"),
    ([{"years": ["1970", "1971"]}, {"years": ["1972", "1973"]}], "1970 to 1973"),
    ([{"serials": {"to": "9"}}, {"serials": {"from": "11"}}], "serials up to 9, from 11"),
    ([{"serials": {"from": "9"}}, {"serials": {"to": "8"}}], "serials from 9, up to 8"),
]


@pytest.mark.parametrize(("fits", "words"), MADE, ids=[words or "nothing" for _, words in MADE])
def test_years_and_serials_in_words(fits: list[dict[str, Any]], words: str) -> None:
    assert made_words(Heading("skerrow/sprit-9", {"fits": fits})) == words


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({}, ""),
        ({"look_for": "a grey\n  box"}, "look for a grey box"),
        ({"fits": [{"years": ["1978", "1981"]}]}, "1978 to 1981"),
        ({"fits": [{"years": "1978"}], "look_for": "a grey box"}, "1978; look for a grey box"),
    ],
)
def test_what_tells_a_family_apart(more: dict[str, Any], words: str) -> None:
    assert told_apart_words(Heading("skerrow/sprit-9", more)) == words


def test_twins_have_one_maker_and_one_name() -> None:
    book = frozen_book()
    assert [one.id for one in twins_of(book, book.family(KETCH))] == [LATE]
    assert [one.id for one in twins_of(book, book.family(LATE))] == [KETCH]
    assert twins_of(book, book.family(YAWL)) == []


def test_a_line_for_each_twin() -> None:
    book = frozen_book()
    (line,) = twin_lines(book, book.family(KETCH))
    assert line.startswith(f"not to be taken for {LATE}: 1982 to 1984, serials 419000 to 502499; look for ")
    bare = Heading("skerrow/ketch-47-x", {"maker": "skerrow", "name": "Ketch 47"})
    assert len(twin_lines(book, bare)) == 2
