"""What a report says of an angle, in words, and what it may be held against."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from kb.book.setting.reported_angle import NOT_SAID, doubt_of, how_read, reckoned

TRUE = {"btdc": "23", "reads": "true-angle"}
ROWS: list[tuple[dict[str, Any], str, str]] = [
    ({"btdc": "23"}, NOT_SAID, NOT_SAID),
    ({"from": {"btdc": "1"}, "to": {"atdc": "2"}}, NOT_SAID, NOT_SAID),
    ({"btdc": "23", "instrument": "degree-wheel"}, NOT_SAID, f"{NOT_SAID}, degree wheel"),
    ({"btdc": "23", "reads": "as-shown"}, "as shown", "as shown"),
    ({"btdc": "23", "reads": "as-shown", "instrument": "by-eye"}, "as shown", "as shown, by eye"),
    ({**TRUE, "dead_centre": {"tdc": "0"}}, "", "true angle, pointer right at dead centre"),
    (
        {
            **TRUE,
            "shown": {"btdc": "25"},
            "dead_centre": {"btdc": "2"},
            "dead_centre_uncertainty": {"deg": "0.35"},
            "instrument": "timing-light",
        },
        "",
        "true angle, 25° BTDC shown, pointer 2° BTDC at dead centre ± 0.35°, timing light",
    ),
    ({"btdc": {"in": "0.131"}}, "", ""),
    ({"btdc": {"in": "0.131"}, "reads": "true-angle", "instrument": "depth-gauge"}, "", "true angle, depth gauge"),
    ({"btdc": {"in": "0.131"}, "reads": "as-shown"}, "as shown", "as shown"),
    ({"mm": "0.9"}, "", ""),
    ({"mark": "up"}, "", ""),
]


@pytest.mark.parametrize(("reading", "doubt", "words"), ROWS)
def test_how_an_angle_was_read(reading: dict[str, Any], doubt: str, words: str) -> None:
    assert (doubt_of(reading), how_read(reading)) == (doubt, words)


@pytest.mark.parametrize(
    ("shown", "centre", "true"),
    [
        ({"btdc": "25"}, {"btdc": "2"}, "23"),
        ({"btdc": "25"}, {"atdc": "2"}, "27"),
        ({"atdc": "3"}, {"btdc": "2"}, "-5"),
        ({"btdc": "0.5"}, {"tdc": "0"}, "1/2"),
    ],
)
def test_the_true_angle_is_what_was_shown_less_the_dead_centre_reading(
    shown: dict[str, str], centre: dict[str, str], true: str
) -> None:
    assert reckoned({**TRUE, "shown": shown, "dead_centre": centre}) == (Fraction(23), Fraction(true))


@pytest.mark.parametrize(
    "reading",
    [
        TRUE,
        {**TRUE, "shown": {"btdc": "25"}},
        {**TRUE, "dead_centre": {"btdc": "2"}},
        {"btdc": ["22", "23"], "shown": {"btdc": "25"}, "dead_centre": {"btdc": "2"}},
        {"btdc": {"in": "0.131"}, "shown": {"btdc": "25"}, "dead_centre": {"btdc": "2"}},
    ],
)
def test_what_a_report_lacks_is_not_reckoned_with(reading: dict[str, Any]) -> None:
    assert reckoned(reading) is None
