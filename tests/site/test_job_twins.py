"""A job asks which of the twins its engine is, and where nothing tells it sets what is safe for all of them."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.job_entries import Entry, begin, entry, job_states, left

FIRST, SECOND = "pellwater/ponente-37", "pellwater/ponente-37-second"
PLATES = {FIRST: ("PN12000", "1975"), SECOND: ("PS12000", "1980")}
POINTER = [("dead-centre", {"reads": "0"}), ("pointer", {"answer": "stays"})]


def job(family: str, *more: Entry, serial: str = "", year: str = "") -> list[Entry]:
    said = {"serial": serial, "year": year, "routine": "plates-cracked-at-idle", "margin": ""}
    return [begin(family, "Ponente 37", **said), *(entry(kind, **keys) for kind, keys in POINTER), *more]


def which(answer: str, **plate: str) -> Entry:
    return entry("which", answer=answer, **plate)


ASKED: list[tuple[str, list[Entry], bool, str]] = [
    ("not told yet", job(FIRST), True, ""),
    ("a serial number alone does not tell", job(FIRST, serial="PN12000", year="1975"), True, ""),
    ("told by the stamp", job(FIRST, which("stamp")), False, ""),
    ("the plate fits the stamp", job(FIRST, which("stamp"), serial="PN12000"), False, ""),
    ("the plate is the other's", job(FIRST, which("stamp"), serial="PS12000"), True, "1978 to 1984, serials PS11000"),
    ("the year is the other's", job(FIRST, which("stamp"), year="1980"), True, "1978 to 1984"),
    ("the plate is nobody's", job(FIRST, which("stamp"), serial="7"), True, "no engine of this name has that"),
    ("typed later", job(FIRST, which("stamp"), entry("engine", serial="PS12000")), True, "1978 to 1984"),
    ("the plate set aside", job(FIRST, which("stamp", serial="PS12000")), False, ""),
    ("nothing to tell by", job(FIRST, which("nothing")), False, ""),
    ("taken back", job(FIRST, wrong := which("stamp"), entry("take-back", entry=wrong["id"])), True, ""),
    ("a family without a twin", [begin("ostmere/godwit-62", "Godwit 62", serial="")], False, ""),
]


@pytest.mark.parametrize(("case", "entries", "asks", "misfit"), ASKED, ids=[one[0] for one in ASKED])
def test_a_job_asks_which_engine_it_is_and_again_where_the_plate_does_not_fit(
    case: str, entries: list[Entry], asks: bool, misfit: str
) -> None:
    (state,) = job_states(entries)
    assert (state["asksWhich"], misfit in state["misfit"]) == (asks, True), case
    assert bool(state["misfit"]) == bool(misfit), case


@pytest.mark.parametrize("family", [FIRST, SECOND])
def test_with_nothing_to_tell_by_the_later_maximum_is_taken_and_no_target_where_they_differ(family: str) -> None:
    own, unknown = job_states(job(family, which("stamp")), job(family, which("nothing")))
    assert unknown["targets"] == {"max-advance": "24° BTDC"}
    assert own["targets"].keys() >= {"max-advance", "throttle-pickup", "idle-timing"}


def test_a_reading_between_the_two_maxima_is_early_where_nothing_tells() -> None:
    between = left("max-advance", {"btdc": "27"})
    (known,) = job_states(job(FIRST, which("stamp"), between))
    (unknown,) = job_states(job(FIRST, which("nothing"), between))
    assert [off for *_, off, _ in known["readings"]] == ["inside"]
    assert [off for *_, off, _ in unknown["readings"]] == ["early"]


def test_tag_and_sheet_say_first_that_the_engine_was_not_told_and_no_report_is_made() -> None:
    (state,) = job_states(job(FIRST, which("nothing", serial="PS12000"), left("max-advance", {"btdc": "24"})))
    words = "not told from its twin: the later maximum taken, no target where they differ"
    assert state["tag"][0] == ["which engine", words]
    assert state["sheet"][0] == f"which engine: {words}"
    assert any("no report can say what it is of" in words for words in state["lacks"])


def test_the_tag_says_that_the_plate_is_another_engines() -> None:
    (state,) = job_states(job(FIRST, which("stamp", serial="PS12000")))
    assert state["tag"][0] == ["which engine", "by the stamp; the plate is another engine's: serial PS12000"]


STRANGE: list[tuple[dict[str, str], dict[str, str]]] = [
    ({"serial": "PN12000", "year": "1975"}, {}),
    ({"serial": "PS12000", "year": "1980"}, {"serial": "PS12000", "year": "1980"}),
    ({"serial": "PS12000", "year": "1975"}, {"serial": "PS12000"}),
    ({"serial": "PN12000", "year": "1980"}, {"year": "1980"}),
]


@pytest.mark.parametrize(("plate", "strange"), STRANGE)
def test_only_what_does_not_fit_is_set_aside(plate: dict[str, Any], strange: dict[str, str]) -> None:
    (state,) = job_states(job(FIRST, **plate))
    assert state["strange"] == strange
