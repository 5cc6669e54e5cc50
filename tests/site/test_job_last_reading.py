"""What a page says of how a figure stands is reckoned from its last reading, with the lock nut tight or slack."""

from __future__ import annotations

import pytest

from tests.support.job_entries import Entry, begin, entry, found, job_states, left


def turn(turns: str, reads: str) -> Entry:
    return entry("turn", figure="max-advance", turns=turns, reads=reads)


def locked(degrees: str, state: str = "cranking") -> Entry:
    return left("max-advance", {"btdc": degrees}, state)


def dragged(degrees: str, went: str, against: str) -> str:
    return f"locking moved it {degrees}° {went}: slacken it, set that much {against}, lock it and read again"


SAFELY = "locking moved it 1° later, on the safe side: leave it, or slacken it and go on while turning"


SET = [found("max-advance", {"btdc": "28"}), turn("0", "28"), turn("1/2", "25"), turn("5/8", "23")]
FOUND = [found("max-advance", {"btdc": "24"}), turn("0", "24")]
ROWS: list[tuple[str, list[Entry], str | None, str]] = [
    ("slack", SET, None, ""),
    ("locked where it was", [*SET, locked("23")], "23", ""),
    ("dragged early", [*SET, locked("24.5")], "24.5", dragged("1.5", "earlier", "later")),
    ("dragged late", [*SET, locked("22")], "22", SAFELY),
    ("dragged early and late all the same", [*SET[:-1], turn("7/8", "20"), locked("21")], "21", ""),
    ("slackened and turned", [*SET, locked("24.5"), turn("3/4", "23")], None, ""),
    (
        "turned and locked",
        [*SET, locked("24.5"), turn("3/4", "23"), locked("23.5")],
        "23.5",
        dragged("0.5", "earlier", "later"),
    ),
    ("set by the lock alone", [*SET, locked("24.5"), locked("23.5")], "23.5", ""),
    ("found and locked", [*FOUND, locked("24.5")], "24.5", dragged("0.5", "earlier", "later")),
    ("nothing before it", [locked("24.5")], "24.5", ""),
    ("running", [*SET, locked("22", "running")], None, ""),
]


@pytest.mark.parametrize("row", ROWS, ids=[row[0] for row in ROWS])
def test_what_locking_did_stands_until_the_next_reading(row: tuple[str, list[Entry], str | None, str]) -> None:
    _, entries, value, words = row
    (state,) = job_states([begin(), *entries])
    assert state["locked"] == (value and {"btdc": value})
    assert state["dragged"] == words
