"""A pointer that stays is reckoned with; one that was moved counts for nothing until both contacts are read again."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.job_entries import Entry, begin, entry, found, job_states, left
from tests.support.reported import true_angle

CONTACTS = {"reads": "2", "stops": ["31", "-27"]}
AGAIN = {"reads": "0", "stops": ["29", "-29"]}
OPEN = "no figure to set by: it is not said yet whether the pointer was moved or stays"
MOVED = "no figure to set by: the pointer was moved and both contacts were not read again since"


def moved() -> Entry:
    return entry("pointer", answer="moved")


def stays() -> Entry:
    return entry("pointer", answer="stays")


def contacts(said: dict[str, Any]) -> Entry:
    return entry("dead-centre", **said)


JOBS: dict[str, list[Entry]] = {
    "unread": [begin()],
    "asked": [begin(), contacts(CONTACTS)],
    "stays": [begin(), contacts(CONTACTS), stays()],
    "moved": [begin(), contacts(CONTACTS), moved()],
    "moved, then said to stay": [begin(), contacts(CONTACTS), moved(), stays()],
    "moved, one reading only": [begin(), contacts(CONTACTS), moved(), entry("dead-centre", reads="0")],
    "moved and read again": [begin(), contacts(CONTACTS), moved(), contacts(AGAIN)],
    "read anew": [begin(), contacts(CONTACTS), stays(), contacts(AGAIN)],
    "moved by mistake": [begin(), contacts(CONTACTS), wrong := moved(), entry("take-back", entry=wrong["id"])],
}


@pytest.fixture(scope="module")
def states() -> dict[str, Any]:
    return dict(zip(JOBS, job_states(*JOBS.values()), strict=True))


ASK = "Answer first: moved, or it stays"
AGAIN_FIRST = "Read both contacts again first"
STANDS = [
    ("unread", "23° BTDC", dict.fromkeys(("dead-centre", "pointer"), "Note the dead-centre reading first")),
    ("asked", OPEN, {"pointer": ASK}),
    ("stays", "25° BTDC", {}),
    ("moved", MOVED, dict.fromkeys(("dead-centre", "pointer"), AGAIN_FIRST)),
    ("moved, then said to stay", MOVED, dict.fromkeys(("dead-centre", "pointer"), AGAIN_FIRST)),
    ("moved, one reading only", MOVED, dict.fromkeys(("dead-centre", "pointer"), AGAIN_FIRST)),
    ("moved and read again", "23° BTDC", {}),
    ("read anew", OPEN, {"pointer": ASK}),
    ("moved by mistake", OPEN, {"pointer": ASK}),
]


@pytest.mark.parametrize(("job", "maximum", "undone"), STANDS)
def test_a_step_of_the_pointer_ends_with_an_answer_and_no_figure_is_set_before(
    states: dict[str, Any], job: str, maximum: str, undone: dict[str, str]
) -> None:
    state = states[job]
    assert state["targets"]["max-advance"] == maximum
    assert len(state["targets"]) > 1
    alike = {words for words in state["targets"].values() if words.startswith("no figure")}
    assert alike == ({maximum} if maximum in (OPEN, MOVED) else set())
    assert state["undone"] == undone


def test_a_reading_by_a_pointer_that_was_moved_is_neither_judged_nor_said_on_tag_and_report() -> None:
    after = [begin(), contacts(CONTACTS), moved(), left("max-advance", {"btdc": "26"})]
    between = [begin(), contacts(CONTACTS), left("max-advance", {"btdc": "26"}), moved()]
    before = [begin(), contacts(CONTACTS), stays(), left("max-advance", {"btdc": "26"}), moved()]
    for state in job_states(after, between):
        ((*_, off, words),) = state["readings"]
        assert (off, words) == (
            "",
            "noted; not judged: the pointer was moved and both contacts were not read again since",
        )
        assert ["maximum spark advance", "not known cranking (read as 26° BTDC by a pointer that was moved)"] in state[
            "tag"
        ]
        assert ["pointer", "moved, and not read again at true top dead centre"] in state["tag"]
        assert "as_left" not in state["report"]
        assert (
            "A reading of max-advance as left is left out: the pointer was moved, and the contacts not read again."
            in state["lacks"]
        )
    (state,) = job_states(before)
    assert state["report"]["as_left"]["max-advance"] == [
        true_angle({"btdc": "24"}, {"btdc": "2"}, {"btdc": "26"}, "0.35")
    ]


def test_what_both_contacts_give_after_the_move_counts() -> None:
    read = {"reads": "0.5", "stops": ["29.5", "-28.5"]}
    (state,) = job_states([begin(), contacts(CONTACTS), moved(), contacts(read), left("max-advance", {"btdc": "23"})])
    assert (state["pointer"], state["reads"]) == ("read-again", "0.5")
    truly = true_angle({"btdc": "22.5"}, {"btdc": "0.5"}, {"btdc": "23"}, "0.35")
    assert state["report"]["as_left"]["max-advance"] == [truly]


def test_turns_read_by_the_pointer_as_it_was_are_forgotten() -> None:
    turn = entry("turn", figure="max-advance", turns="0", reads="27")
    kept, gone = job_states([begin(), contacts(CONTACTS), stays(), turn], [begin(), contacts(CONTACTS), turn, moved()])
    assert (kept["turns"], gone["turns"]) == (["max-advance"], [])


def test_a_job_of_before_keeps_what_was_read_and_asks_of_its_pointer() -> None:
    """Entries of a job from before there were answers."""
    (state,) = job_states([begin(), contacts(CONTACTS), found("max-advance", {"btdc": "28"})])
    words = "early, 2° past the book's 24 (26 on this pointer), 3° from your 25"
    assert state["readings"] == [["max-advance", "found", "28° BTDC", "early", words]]
    truly = true_angle({"btdc": "26"}, {"btdc": "2"}, {"btdc": "28"}, "0.35")
    assert state["report"]["as_found"]["max-advance"] == [truly]
    assert state["undone"] == {"pointer": ASK}


def done(*steps: str) -> list[Entry]:
    return [entry("done", step=step) for step in steps]


FIRST = [contacts(CONTACTS), stays()]
BOTH = ["pickup", "maximum"]
READ = [left("throttle-pickup", {"atdc": "5"}), left("max-advance", {"btdc": "25"}), *done("pickup", "maximum")]
STALE: list[tuple[str, list[Entry], list[str]]] = [
    ("not noted anew", [*FIRST, *READ], ["pickup"]),
    ("noted anew", [*FIRST, *READ, contacts(AGAIN), stays()], BOTH),
    ("noted first after", [*READ, contacts(AGAIN), stays()], BOTH),
    ("moved", [*FIRST, *READ, moved()], BOTH),
    ("checked only", [*FIRST, *READ, contacts(AGAIN), stays(), entry("done", step="maximum", stood=True)], BOTH),
    (
        "one read again",
        [*FIRST, *READ, contacts(AGAIN), stays(), left("max-advance", {"btdc": "23"}), *done("maximum")],
        ["pickup"],
    ),
    (
        "both read again",
        [
            *FIRST,
            *READ,
            contacts(AGAIN),
            stays(),
            left("max-advance", {"btdc": "23"}),
            *done("maximum"),
            left("throttle-pickup", {"atdc": "5"}),
            *done("pickup"),
        ],
        [],
    ),
    ("by depth gauge", [*FIRST, left("max-advance", {"btdc": {"mm": "3.1"}}), contacts(AGAIN), stays()], []),
    ("only found", [*FIRST, found("max-advance", {"btdc": "28"}), contacts(AGAIN), stays()], []),
    ("other figures", [*FIRST, left("plug-gap", {"in": "0.040"}), contacts(AGAIN), stays()], []),
]


def test_a_dead_centre_noted_anew_lists_every_reading_that_depends_on_the_pointer() -> None:
    states = job_states(*([begin(), *entries] for _, entries, _ in STALE))
    assert [(name, state["stale"]) for (name, _, _), state in zip(STALE, states, strict=True)] == [
        (name, stale) for name, _, stale in STALE
    ]
