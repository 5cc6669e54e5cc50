"""A step of a routine and its conditions: it applies, it does not, or the family's file leaves it open."""

from __future__ import annotations

from typing import Any

import pytest

from kb.book.setting.job import ahead

NOTHING: dict[str, Any] = {}
KETCH: dict[str, Any] = {
    "engine": {"cylinders": "3", "carburettors": "3"},
    "ignition": {"type": "capacitor-discharge", "modules": ["idle-advance"]},
    "flywheel": {"numbered_marks": {"btdc": ["9", "18", "27"]}},
}
PLAIN: dict[str, Any] = {"engine": {"cylinders": "1"}, "ignition": {"type": "breaker-magneto"}, "flywheel": {"x": "y"}}
IGNITION, MODULES = {"ignition": ["breaker-magneto", "battery-coil"]}, {"modules": "fitted"}
MARKS, TWO = {"numbered_marks": "present"}, {"carburettors": {"at_least": "2"}}
ROWS: list[tuple[Any, dict[str, Any], str | None]] = [
    (None, NOTHING, ""),
    ({}, KETCH, ""),
    (IGNITION, PLAIN, ""),
    (IGNITION, KETCH, None),
    (IGNITION, NOTHING, "If the ignition is breaker magneto or battery coil: "),
    (MODULES, KETCH, ""),
    (MODULES, PLAIN, None),
    ({"modules": "none"}, PLAIN, ""),
    ({"modules": "none"}, KETCH, None),
    (MODULES, NOTHING, "If a module changes the advance: "),
    (TWO, KETCH, ""),
    (TWO, PLAIN, None),  # one cylinder has one
    ({"carburettors": {"at_least": "3"}}, KETCH, ""),
    ({"carburettors": {"at_least": "4"}}, KETCH, None),
    (TWO, NOTHING, "If it has 2 carburettors or more: "),
    (TWO, {"engine": {"cylinders": "3"}}, "If it has 2 carburettors or more: "),
    ({"carburettors": {"at_least": "1"}}, NOTHING, "If it has a carburettor: "),
    (MARKS, KETCH, ""),
    (MARKS, PLAIN, None),
    ({"numbered_marks": "none"}, PLAIN, ""),
    (MARKS, NOTHING, "If the flywheel or its scale has numbered marks: "),
    (MODULES | MARKS, NOTHING, "If a module changes the advance and the flywheel or its scale has numbered marks: "),
    (MODULES | IGNITION, KETCH, None),
    (MODULES | TWO, {"ignition": KETCH["ignition"]}, "If it has 2 carburettors or more: "),
]


@pytest.mark.parametrize(("when", "family", "words"), ROWS)
def test_when_a_step_applies(when: Any, family: dict[str, Any], words: str | None) -> None:
    assert ahead(when, family) == words


STILL = {"max-advance": ("static", "running"), "throttle-pickup": ("running",)}
BY_STATE: list[tuple[Any, dict[str, Any], str | None]] = [
    ({"set": {"max-advance": ["static"]}}, STILL, ""),
    ({"set": {"max-advance": ["running"]}}, STILL, None),  # it is set on land where it can be
    ({"known": {"max-advance": ["running"]}}, STILL, ""),
    ({"known": {"max-advance": ["cranking"]}}, STILL, None),
    ({"set": {"throttle-pickup": ["running"]}}, STILL, ""),
    ({"set": {"idle-timing": ["static"]}}, STILL, ""),  # what is not stated is read as the maximum is
    ({"known": {"idle-timing": ["static"]}}, STILL, None),
    ({"set": {"throttle-pickup": ["static"], "max-advance": ["static"]}}, STILL, ""),  # one of them is enough
    ({"set": {"max-advance": ["cranking", "static"]}}, STILL, ""),
    ({"set": {"max-advance": ["cranking"]}}, {"max-advance": ("running", "static", "cranking")}, ""),
    ({"set": {"max-advance": ["cranking"]}}, {}, ""),  # without any figure nothing is set; it is read by the light
    ({"known": {"max-advance": ["cranking"]}}, {}, None),
    ({"set": {"max-advance": ["static"]}, "modules": "fitted"}, STILL, "If a module changes the advance: "),
    ({"set": {"max-advance": ["cranking"]}, "modules": "fitted"}, STILL, None),
]


@pytest.mark.parametrize(("when", "known", "words"), BY_STATE)
def test_when_a_step_applies_by_the_state_of_a_figure(when: Any, known: dict[str, Any], words: str | None) -> None:
    assert ahead(when, NOTHING, known) == words
