"""The sheet of a whole job: every step of every family's job, and nothing that was noted is missing on it."""

from __future__ import annotations

import json
from typing import Any

import pytest

from kb.book.setting.job import job
from kb.publish.sheet.leaf import clipped, in_short
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.routines import routines_document
from tests.support.folders import ASSETS
from tests.support.frozen import frozen_book
from tests.support.job_entries import FAMILY, Entry, begin, entry, found, left, whole_job
from tests.support.node import run_node
from tests.support.reported import true_angle

GATE = "every plug out"
DONE = ("idle-stop", "cam-clearance", "pickup", "maximum")
JOBS: dict[str, list[Entry]] = {
    "whole": [
        *whole_job("2"),
        *(entry("done", step=step) for step in DONE),
        entry("tick", step="before-cranking", tick=GATE, on=True),
        entry("ran", text="pulls away"),
        entry("note", step="maximum", text="lock nut was lost"),
        entry("note", text="for all of it"),
        entry("note", step="no-such-step", text="of a step that is gone"),
    ],
    "odd": [
        begin(serial="ZZ 9", maker="nobody"),
        left("no-such-figure", {"mark": "up"}, "", cylinder="2"),
        found("plug-gap", {"in": "0.060"}, "at-rest"),
        left("max-advance", {"btdc": {"mm": "3.40"}}),
    ],
    "nobody looked": [begin(), found("max-advance", {"btdc": "24"})],
    "over the centre": [
        begin(),
        entry("dead-centre", reads="1.5"),
        left("idle-timing", {"btdc": ["1", "2"]}),
        left("throttle-pickup", {"btdc": "1.5"}),
        left("max-advance", {"btdc": ["22", "23"]}),
    ],
}


@pytest.fixture(scope="module")
def made() -> list[Any]:
    """The sheets of those jobs, then of a job just begun on every family."""
    ids = frozen_book().family_ids()
    jobs = [[FAMILY, entries] for entries in JOBS.values()]
    jobs += [[key, [begin(key, "an engine", serial="", year="", margin="")]] for key in ids]
    given = {
        "pages": {key: family_page(frozen_book(), key) for key in ids},
        "shared": shared_document(frozen_book()),
        "routines": routines_document(frozen_book()),
        "jobs": jobs,
    }
    done = run_node("sheet_lines.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    return list(json.loads(done.stdout))


@pytest.fixture(scope="module")
def sheets(made: list[Any]) -> dict[str, Any]:
    return dict(zip(JOBS, made[: len(JOBS)], strict=True))


def step(sheet: Any, words: str) -> Any:
    """The one step that says so."""
    (only,) = [one for one in sheet["steps"] if words in one["do"]]
    return only


def test_every_family_has_a_sheet_with_every_step_and_tick_of_its_job(made: list[Any]) -> None:
    for key, sheet in zip(frozen_book().family_ids(), made[len(JOBS) :], strict=True):
        wanted = job(frozen_book(), key).steps
        assert [one["do"] for one in sheet["steps"]] == [one.do for one in wanted], key
        assert [[line for line, _ in one["ticks"]] for one in sheet["steps"]] == [list(one.gate) for one in wanted], key
        assert {one["stands"] for one in sheet["steps"]} == {"not done"}
        for drawn, one in zip(sheet["steps"], wanted, strict=True):
            assert bool(drawn["figures"]) is bool(one.figures), (key, one.id)
            assert all(figure["printed"] or figure["problem"] for figure in drawn["figures"]), (key, one.id)


def test_how_the_steps_stand(sheets: dict[str, Any]) -> None:
    sheet = sheets["whole"]
    stands = [(one["number"], one["stands"]) for one in sheet["steps"] if one["stands"] != "not done"]
    whole = job(frozen_book(), FAMILY)
    stale = whole.stale_after(DONE)
    assert 0 < len(stale) < len(DONE)
    wanted = {one: "check again" if one in stale else "done" for one in DONE}
    assert stands == [(number, wanted[one.id]) for number, one in enumerate(whole.steps, 1) if one.id in wanted]
    assert sheet["open"] == len(sheet["steps"]) - (len(DONE) - len(stale))
    ticks = step(sheet, "Go round the engine and tick")["ticks"]
    assert [line for line, on in ticks if on] == [GATE]


def test_figures_and_readings_stand_at_their_step(sheets: dict[str, Any]) -> None:
    pickup = step(sheets["whole"], "until the cam just takes up the roller")
    assert [(one["label"], one["printed"], one["set"]) for one in pickup["figures"]] == [
        ("Throttle pickup, cranking", "4 to 6° ATDC", "3° ATDC")
    ]
    assert [(one["when"], one["words"], one["verdict"]) for one in pickup["readings"]] == [
        ("as found", "1° ATDC cranking (truly 3° ATDC)", "outside, 1 degree early (advanced)"),
        ("as left", "5° ATDC cranking (truly 7° ATDC)", "outside, 1 degree late (retarded)"),
    ]
    maximum = step(sheets["whole"], "Tie the lever forward against its full-spark stop")
    assert [one["words"] for one in maximum["readings"]][-1] == "21° BTDC running, 5000 rpm (truly 19° BTDC)"
    assert maximum["notes"] == ["lock nut was lost"]
    cites = [cite for one in pickup["figures"] for cite in one["cites"]]
    listed = sheets["whole"]["sources"]
    assert len(cites) == 2
    assert all(any(source.startswith(cite.split(" ")[0]) for source in listed) for cite in cites)
    assert cites[0].endswith(" page 41")


def test_nothing_that_was_noted_is_missing(sheets: dict[str, Any]) -> None:
    sheet = sheets["whole"]
    assert sheet["notes"] == ["for all of it", "of a step that is gone"]
    assert sheet["ran"] == "pulls away"
    assert sheet["about"] == [
        ["pointer", "showed 2 before at true top dead centre"],
        ["margin chosen", "1° to the late side"],
        ["this engine's correction", "reads 2° earlier cranking than at 5000 rpm"],
    ]
    kept = [one for one in JOBS["whole"] if one["kind"] == "reading"]
    assert sum(len(one["readings"]) for one in sheet["steps"]) == len(kept)
    assert sheets["odd"]["others"] == [
        {
            "when": "as left",
            "label": "no such figure",
            "words": "up cylinder 2",
            "off": "",
            "sign": "–",
            "verdict": "noted; not judged",
        }
    ]


def test_a_serial_number_that_fits_none_is_told_and_the_readings_stay(sheets: dict[str, Any]) -> None:
    sheet = sheets["odd"]
    gap = step(sheet, "Gap every plug")
    assert "no range of skerrow/ketch-47 holds the serial number ZZ 9" in gap["figures"][0]["problem"]
    assert [(one["words"], one["verdict"]) for one in gap["readings"]] == [("0.060 in at rest", "noted; not judged")]
    advance = step(sheet, "Tie the lever forward")["readings"]
    assert [one["words"] for one in advance] == ["3.40 mm of piston travel BTDC cranking"]
    assert (sheet["name"], sheet["invented"], sheet["closed"]) == ("Skerrow Ketch 47", True, "")


def test_a_report_tells_what_truly_was_wherever_the_pointer_stood(sheets: dict[str, Any]) -> None:
    told = sheets["whole"]["report"]
    two, less = {"btdc": "2"}, {"btdc": "1.5"}
    assert told["as_found"]["max-advance"] == [true_angle({"btdc": "26"}, two, {"btdc": "28"})]
    assert told["as_left"]["max-advance"] == [
        true_angle({"btdc": "21"}, two, {"btdc": "23"}),
        true_angle({"btdc": "19"}, two, {"btdc": "21"}, state="running", at={"rpm": "5000"}),
    ]
    assert told["as_left"]["throttle-pickup"] == [true_angle({"atdc": "7"}, two, {"atdc": "5"})]
    assert told["as_left"]["cranking-correction"] == [{"cranking_earlier": "2", "at": {"rpm": "5000"}}]
    ends = sheets["over the centre"]["report"]["as_left"]
    assert ends["idle-timing"] == [true_angle({"from": {"btdc": "0.5"}, "to": {"atdc": "0.5"}}, less)]
    assert ends["throttle-pickup"] == [true_angle({"tdc": "0"}, less, {"btdc": "1.5"})]
    assert ends["max-advance"] == [true_angle({"btdc": ["20.5", "21.5"]}, less)]
    unseen = "The pointer was not checked at true top dead centre: angles are given as it showed them."
    assert [unseen in sheets[name]["lacks"] for name in JOBS] == [False, False, True, False]


def test_a_step_in_short_is_the_same_on_paper_and_on_the_phone() -> None:
    steps = {step.do for key in frozen_book().family_ids() for step in job(frozen_book(), key).steps}
    given = [(words, most) for words in sorted(steps) for most in (20, 60, 200)]
    done = run_node("leaf_words.mjs", ASSETS, given=json.dumps(given))
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout) == [[clipped(words, most), in_short(words)] for words, most in given]


def test_cautions_stand_once_in_full_the_worst_first(sheets: dict[str, Any]) -> None:
    severities = [one["severity"] for one in sheets["whole"]["cautions"]]
    assert severities == sorted(severities, key=["danger", "warning", "care"].index)
    titles = [one["title"] for one in sheets["whole"]["cautions"]]
    assert len(titles) == len(set(titles))
    named = {words.partition(": ")[2] for one in sheets["whole"]["steps"] for words in one["cautions"]}
    assert named == set(titles)
