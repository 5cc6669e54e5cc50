"""Nothing in a job leads a maximum past its target on the early side: the margin is asked where a job begins, coach and
verdict go by the same target, and a late reading is asked about before anything is made earlier.
"""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import Any

import pytest

from kb.vocabulary.work import FALSE_LATE_WORDS, FalseLate
from tests.specs.test_job_states_read import book
from tests.support.folders import ASSETS
from tests.support.job_entries import Entry, begin, entry, found, job_states, left
from tests.support.node import run_node
from tests.support.random_jobs import page, shared

POINTER = [entry("dead-centre", reads="0", stops=["29", "-29"]), entry("pointer", answer="stays")]
ALL = list(FalseLate.words)
AGAIN = "read it once more where it stands: nothing is made earlier on one reading"
ANEW = "read it anew: what was read before that was put right does not count"


def turn(turns: str, reads: str) -> Entry:
    return entry("turn", figure="max-advance", turns=turns, reads=reads)


def answers(*causes: str, ruled_out: bool = True) -> list[Entry]:
    return [entry("false-late", cause=cause, ruled_out=ruled_out) for cause in causes or ALL]


def job(*entries: Entry, **said: Any) -> dict[str, Any]:
    (state,) = job_states([begin(**said), *POINTER, *entries])
    return dict(state)


def coach(*entries: Entry, **said: Any) -> dict[str, Any]:
    return dict(job(*entries, **said)["coach"])


def typed(margin: str = "1", serial: str = "361204") -> dict[str, str]:
    return {"serial": serial, "year": "", "by": "", "state": "", "margin": margin}


def with_pin() -> dict[str, Any]:
    family = page("skerrow/ketch-47")
    pin = {"part": "stop pin", "holes": "3"}
    return {**family, "adjusters": {**family["adjusters"], "max-advance": pin}}


def with_nothing() -> dict[str, Any]:
    return {**page("skerrow/ketch-47"), "adjusters": {}}


QUESTIONS: list[tuple[dict[str, Any], dict[str, str], bool, str]] = [
    (page("skerrow/ketch-47"), typed(), True, "1° later than the book's 24° BTDC: the light should then show 23° BTDC"),
    (
        page("skerrow/ketch-47"),
        typed(margin="0"),
        True,
        "As late as the book's 24° BTDC and no later: the light should",
    ),
    (page("skerrow/ketch-47"), typed(margin="0"), True, "then show 24° BTDC"),
    (page("ostmere/sanderling-93"), typed("2", ""), True, "2° later than the book's 21° BTDC"),
    (page("ostmere/sanderling-93"), typed("2", ""), True, "should then show 19° BTDC (cranking, on land; "),
    (page("ostmere/turnstone-13"), typed("2", ""), True, "(standing still; "),
    (page("skerrow/ketch-47"), typed(serial="999999"), True, "1° later than the book's"),
    (page("ostmere/whimbrel-41"), typed(serial=""), False, "22 to 23° BTDC, leaves no room for a margin"),
    (with_pin(), typed(), False, "the stop pin has 3 fixed holes: no turn is advised"),
    (with_nothing(), typed(), False, "nothing is known here that moves it: no turn is advised"),
]


def test_a_job_begins_with_what_to_keep_in_hand_one_degree_beforehand() -> None:
    given = {"shared": shared(), "asked": [[family, engine] for family, engine, _, _ in QUESTIONS]}
    done = run_node("margin_words.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    for (_, engine, asked, words), told in zip(QUESTIONS, json.loads(done.stdout), strict=True):
        assert told["asked"] is asked, (engine, told)
        assert words in told["words"], told["words"]
        assert told["usual"] == "1"


VERDICTS = [
    # margin, reading -> look, sign, words
    ("0", "24", "inside", "✓", "on target, the book's 24"),
    ("0", "23", "safe", "▶", "1° late of the book's 24, still on the safe side"),
    ("", "23", "safe", "▶", "1° late of the book's 24, still on the safe side"),
    ("1", "23", "inside", "✓", "on target, 1° late of the book's 24"),
    ("1", "25", "alarm", "◀", "early, 1° past the book's 24, 2° from your 23"),
    ("1", "22", "safe", "▶", "2° late of the book's 24, 1° from your 23, still on the safe side"),
]


def test_coach_and_verdict_go_by_the_margin_chosen() -> None:
    states = job_states(
        *(
            [begin(margin=margin), *POINTER, turn("0", reads), left("max-advance", {"btdc": reads})]
            for margin, reads, *_ in VERDICTS
        )
    )
    for (margin, reads, look, sign, words), state in zip(VERDICTS, states, strict=True):
        ((found_look, found_sign, found_words, more),) = state["looks"]
        assert (found_look, found_sign, found_words) == (look, sign, words), (margin, reads)
        assert not any("earlier" in line for line in more)
        assert state["coach"]["there"] is (look == "inside"), (margin, reads)


def test_at_pickup_both_sides_are_one_outside() -> None:
    state = job(left("throttle-pickup", {"atdc": "2"}), left("throttle-pickup", {"atdc": "8"}))
    assert [(look, sign) for look, sign, *_ in state["looks"]] == [("outside", "◇")] * 2
    assert [words for *_, words, _ in state["looks"]] == [
        "outside, 2 degrees early (advanced)",
        "outside, 2 degrees late (retarded)",
    ]


@pytest.mark.parametrize(
    "readings",
    [[("0", "23")], [("0", "27"), ("1", "24.6"), ("3/2", "23")], [("0", "27"), ("1/2", "25.5"), ("3/2", "22.5")]],
)
def test_on_target_no_turn_is_asked(readings: list[tuple[str, str]]) -> None:
    told = coach(*(turn(*one) for one in readings))
    assert told["there"]
    assert told["advised"] == "0"
    assert told["answer"][0].startswith("on target, leave it")


def test_one_late_reading_asks_before_anything_is_made_earlier() -> None:
    told = coach(turn("0", "20"))
    assert told["asks"]
    assert told["advised"] is None
    assert told["answer"] == [
        "first see that it is not a false late reading: 6 of 6 to answer below",
        "nothing is made earlier before that",
    ]
    assert all(answer is None for _, answer in job(turn("0", "20"))["causes"]), "nothing is chosen beforehand"


@pytest.mark.parametrize("cause", ALL)
def test_with_one_cause_open_or_found_nothing_is_made_earlier(cause: str) -> None:
    others = [one for one in ALL if one != cause]
    readings = [turn("0", "21"), turn("0", "21")]
    unanswered = coach(*readings, *answers(*others))
    assert unanswered["answer"][0] == "first see that it is not a false late reading: 1 of 6 to answer below"
    failing = coach(*readings, *answers(*others), *answers(cause, ruled_out=False))
    assert failing["answer"] == [FALSE_LATE_WORDS[cause][2].rstrip("."), "then say so below, and read again"]
    assert unanswered["advised"] is failing["advised"] is None
    mended = [*readings, *answers(*others), *answers(cause, ruled_out=False), *answers(cause)]
    assert coach(*mended)["answer"] == [ANEW], "what was read before does not count"
    assert coach(*mended, turn("0", "21"))["answer"] == [AGAIN]


def test_on_a_single_reading_nothing_is_made_earlier() -> None:
    assert coach(turn("0", "20"), *answers())["answer"] == [AGAIN]
    told = coach(turn("0", "20"), *answers(), turn("0", "20"))
    assert told["answer"][0].startswith("turn the upper stop screw on the spark lever 1/2 turn in"), "later, to learn"
    assert told["advised"] == "1/2"
    moved = [turn("0", "20"), *answers(), turn("0", "20"), turn("1/2", "18.5")]
    assert coach(*moved)["answer"] == [AGAIN], "where the screw stands now it was read once"
    told = coach(*moved, turn("1/2", "18.5"))
    assert told["answer"][0] == "turn the upper stop screw on the spark lever 3/4 turn out"
    assert told["answer"][-1].startswith("half the way first")
    assert not any("backlash" in line for line in told["answer"]), "a maximum is never passed on its early side"
    assert coach(*moved, turn("1/2", "20"))["refused"].startswith(
        "the readings at one place differ by more than a degree"
    )


def test_more_than_five_degrees_late_is_a_fault_and_no_screw_to_turn() -> None:
    told = coach(turn("0", "18"), *answers(), turn("0", "18"))
    assert told["advised"] is None
    assert told["answer"][0].startswith("more than 5° late is a fault to find, not a screw to turn")
    assert coach(turn("0", "19"), *answers(), turn("0", "19"))["advised"] is not None
    turned_too_far = [turn("0", "27"), turn("3", "18"), *answers(), turn("3", "18")]
    assert coach(*turned_too_far)["advised"] is not None, "the screw itself did that"
    ((*_, more),) = job(found("max-advance", {"btdc": "18"}))["looks"]
    assert more[0].startswith("more than 5° late is a fault to find")


def test_a_maximum_set_running_stands_late_on_purpose_and_is_no_fault() -> None:
    late = found("max-advance", {"btdc": "20"}, "running", conditions={"rpm": "5000"})
    family = begin("pellwater/levanter-20", "Levanter 20", serial="", routine="")
    (state,) = job_states([family, *POINTER, late, turn("0", "20"), *answers(), turn("0", "20")], book=book())
    assert state["coach"]["advised"] is not None
    assert not any("a fault to find" in line for *_, more in state["looks"] for line in more)
    assert "speed" not in [cause for cause, _ in state["causes"]]


def test_early_needs_no_answers() -> None:
    told = coach(turn("0", "27"))
    assert told["advised"] == "1/2"
    assert not told["asks"]


def test_answers_are_asked_anew_on_another_day_and_when_the_light_is_put_on_again() -> None:
    known = [turn("0", "21"), *answers()]
    assert coach(*known, turn("0", "21"))["advised"] == "1/2"
    assert "6 of 6" in coach(*known, entry("done", step="light"), turn("0", "21"))["answer"][0]
    work = [begin(), *POINTER, *known]
    on = entry("done", step="stop-lead-released")  # where the light is put on since that is one step
    before, after = job_states([*work, turn("0", "21")], [*work, on, turn("0", "21")], book=book())
    assert before["coach"]["advised"] == "1/2"
    assert "6 of 6" in after["coach"]["answer"][0]
    later = turn("0", "21")
    next_day = datetime.fromisoformat(later["at"].replace("Z", "+00:00")) + timedelta(days=1)
    later["at"] = next_day.strftime("%Y-%m-%dT%H:%M:%S.000Z")
    assert "6 of 6" in coach(*known, later)["answer"][0]


def test_standing_still_only_the_lever_and_the_mark_can_deceive() -> None:
    state = job_states(
        [begin("hollin-drake/adze-31", "Adze 31", state="static", serial="", routine=""), turn("0", "20")]
    )
    assert [cause for cause, _ in state[0]["causes"]] == ["lever", "mark"]


def test_a_nut_that_drags_a_maximum_late_is_no_call_for_earlier() -> None:
    state = job(turn("0", "23"), left("max-advance", {"btdc": "22"}))
    assert state["dragged"].startswith("locking moved it 1° later, on the safe side: leave it")
