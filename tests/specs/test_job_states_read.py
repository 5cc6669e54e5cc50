"""A figure is set in the state that it is printed for: while cranking by the cranking figure, standing still without a
starter, running in the water."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from kb.book.store.in_memory import MemoryBook
from tests.specs.book import specs_book
from tests.support.job_entries import Entry, begin, entry, job_states, left
from tests.support.node import run_module
from tests.support.random_jobs import in_node

POINTER = [entry("dead-centre", reads="0", stops=["29", "-29"]), entry("pointer", answer="stays")]
MAXIMUM = "max-advance"


@cache
def book() -> MemoryBook:
    """The demonstration book, with a family whose maximum is printed running and nowhere else."""
    opened = specs_book()
    levanter = opened.documents["pellwater/levanter-19"]
    running = [one for one in levanter["figures"][MAXIMUM] if one["state"] == "running"]
    kept = {key: value for key, value in levanter["figures"].items() if key != "cranking-correction"}
    made = {**levanter, "name": "Levanter 20", "fits": [], "figures": {**kept, MAXIMUM: running}}
    return replace(opened, documents={**opened.documents, "pellwater/levanter-20": made})


def states(family: str, *entries: Entry, state: str = "running", serial: str = "") -> Any:
    """How a job stands whose engine was said to be set in this state."""
    name = book().documents[family]["name"]
    (stands,) = job_states([begin(family, name, state=state, serial=serial), *entries], book=book())
    return stands


def test_who_chose_running_aims_at_the_cranking_figure_while_cranking() -> None:
    """The figure when running is 32, and cranking reads 1 later: set to 32 while cranking, it would run at 33."""
    aims = states("pellwater/levanter-19", *POINTER)["aims"]
    assert aims["maximum"] == "cranking 30° BTDC"
    assert aims["full-speed"] == "running"


ENGINES = [
    (family, state)
    for family in sorted(key for key, one in book().documents.items() if "linkage" in one)
    for state in ("cranking", "static", "running")
]


@cache
def aims_of_all() -> Mapping[tuple[str, str], Any]:
    """What the steps of every job aim at, worked out in one run of Node."""
    names = {family: book().documents[family]["name"] for family, _ in ENGINES}
    jobs = [[begin(family, names[family], state=state, serial=""), *POINTER] for family, state in ENGINES]
    return dict(zip(ENGINES, job_states(*jobs, book=book()), strict=True))


@pytest.mark.parametrize("engine", ENGINES, ids=" ".join)
def test_no_step_aims_at_a_figure_of_another_state(engine: tuple[str, str]) -> None:
    for step, aim in aims_of_all()[engine].get("aims", {}).items():
        wanted = step.rpartition("-")[2] if step.endswith(("-static", "-running")) else "cranking"
        wanted = "running" if step == "full-speed" else wanted
        assert aim.partition(" ")[0] == wanted, (step, aim)


def test_a_maximum_printed_only_running_is_set_late_on_land_and_in_the_water_before_full_throttle() -> None:
    work = book().job("pellwater/levanter-20")
    names = [step.id for step in work.steps]
    assert "maximum" not in names
    late, running = work.by_id["maximum-late"], work.by_id["maximum-running"]
    assert "It is not set here" in late.do
    assert "at least ten degrees later" in late.do
    assert late.gate
    assert names.index("start") < names.index("maximum-running") < names.index("full-speed")
    assert running.state == "running"
    stands = states("pellwater/levanter-20", *POINTER)
    assert stands["aims"]["maximum-late"] == "cranking"
    assert stands["aims"]["maximum-running"] == "running 31° BTDC"


RUNNING_ONLY: list[tuple[str, list[Entry], str]] = [
    ("not read", [], "maximum spark advance: not read after locking"),
    (
        "early",
        [left(MAXIMUM, {"btdc": "34"}, "running", conditions={"rpm": "5000"})],
        "maximum spark advance: 34° BTDC running, early, 2° past the book's 32, 3° from your 31",
    ),
    ("late", [left(MAXIMUM, {"btdc": "31"}, "running", conditions={"rpm": "5000"})], ""),
]


@pytest.mark.parametrize(("case", "entries", "held"), RUNNING_ONLY, ids=[row[0] for row in RUNNING_ONLY])
def test_full_throttle_waits_for_a_maximum_that_is_only_read_running(
    case: str, entries: list[Entry], held: str
) -> None:
    stands = states("pellwater/levanter-20", *POINTER, left("premix", {"to_one": "40"}, "running"), *entries)
    assert "maximum spark advance" not in stands["held"].get("before-plugs", "")
    assert held in stands["held"].get("full-speed", ""), case
    assert "maximum spark advance" not in stands["held"].get("maximum-running", "")
    assert ("maximum-running" in stands["unread"]) == bool(held)


def test_a_maximum_set_on_land_may_be_left_unread_when_running_and_is_held_if_it_runs_early() -> None:
    by_cable = entry(
        "reading", step="maximum-with-cable", figure=MAXIMUM, when="left", value={"btdc": "30"}, state="cranking"
    )
    on_land = [*POINTER, left(MAXIMUM, {"btdc": "30"}), by_cable, left("premix", {"to_one": "40"}, "running")]
    early = left(MAXIMUM, {"btdc": "33"}, "running", conditions={"rpm": "5000"})
    unread, early_too = (states("pellwater/levanter-19", *on_land, *more) for more in ([], [early]))
    assert "full-speed" not in unread["unread"]
    assert "maximum spark advance" not in unread["held"].get("full-speed", "")
    assert early_too["unread"]["full-speed"] == "Set maximum spark advance again first: see what it reads"


def test_a_tag_says_that_the_maximum_was_not_read_running() -> None:
    on_land = [*POINTER, left(MAXIMUM, {"btdc": "30"})]
    running = left(MAXIMUM, {"btdc": "31"}, "running", conditions={"rpm": "5000"})
    line = ["maximum running", "not read"]
    assert line in states("pellwater/levanter-19", *on_land)["tag"]
    assert line not in states("pellwater/levanter-19", *on_land, running)["tag"]
    assert line not in states("skerrow/coble-8-3", *POINTER, left(MAXIMUM, {"btdc": "24"}, "static"))["tag"]


LAGS: list[tuple[str, str, str, dict[str, str], str]] = [
    # light shows, its lag in µs, rpm, kept, degrees: 6 N t
    ("30.8", "40", "5000", {"btdc": "32"}, "1.2"),
    ("20", "15", "4500", {"btdc": "20.41"}, "0.41"),
    ("-0.5", "40", "5000", {"btdc": "0.7"}, "1.2"),
    ("-1.2", "40", "5000", {"tdc": "0"}, "1.2"),
    ("-5", "100", "1000", {"atdc": "4.4"}, "0.6"),
    ("30", "0", "5000", {"btdc": "30"}, "0"),
]


@pytest.mark.parametrize(("shows", "lag", "rpm", "kept", "late"), LAGS)
def test_a_light_that_flashes_late_shows_a_spark_that_is_earlier(
    shows: str, lag: str, rpm: str, kept: dict[str, str], late: str
) -> None:
    script = f"""
        import {{ lagDegrees, withoutLag }} from ASSETS/job/reading/light-lag.js;
        import {{ Fraction }} from ASSETS/quantity/fraction.js;
        const late = lagDegrees("{lag}", "{rpm}");
        console.log(JSON.stringify([withoutLag(Fraction.of("{shows}"), late), late.toNumber()]));
    """
    assert json.loads(run_module(script)) == [kept, float(late)]


def test_a_reading_freed_of_the_lights_lag_is_judged_as_it_truly_is() -> None:
    """The light shows 31.5 and seems late of 32; 40 µs are 1.2 degrees at 5000 rpm."""
    early = left(MAXIMUM, {"btdc": "32.7"}, "running", conditions={"rpm": "5000"}, lag="40")
    stands = states("pellwater/levanter-19", *POINTER, left(MAXIMUM, {"btdc": "30"}), early)
    assert stands["unread"]["full-speed"] == "Set maximum spark advance again first: see what it reads"


def test_a_running_reading_is_none_of_the_maximum_while_cranking() -> None:
    stands = states(
        "pellwater/levanter-19", *POINTER, left(MAXIMUM, {"btdc": "30"}, "running", conditions={"rpm": "5000"})
    )
    assert "maximum spark advance: not read after locking" in stands["held"]["before-plugs"]
    assert stands["unread"]["maximum"] == "Read it with the nut tight first"


def test_a_gate_on_the_water_is_not_the_one_before_the_plugs() -> None:
    stands = states("ostmere/sanderling-93", *POINTER)
    assert "maximum spark advance" in stands["held"]["before-plugs"]
    assert "idle-module-on" not in stands["held"]


def test_a_static_maximum_is_judged_by_the_gauge_in_the_plug_hole() -> None:
    stands = states("ostmere/dunlin-6-7", *POINTER, left(MAXIMUM, {"btdc": {"mm": "3.40"}}, "static"))
    assert "early" in stands["held"]["before-plugs"]
    well = states("ostmere/dunlin-6-7", *POINTER, left(MAXIMUM, {"btdc": {"mm": "3.10"}}, "static"))
    assert "maximum spark advance" not in well["held"].get("before-plugs", "")


OCTANES: list[tuple[str, dict[str, Any] | None, str]] = [
    # Sanderling 93 wants 95 RON
    ("as printed", {"ron": "95"}, ""),
    ("more", {"ron": "98"}, ""),
    ("less", {"ron": "91"}, "octane 91 RON was filled, below the printed 95 RON"),
    ("another scale", {"aki": "96"}, "two scales that are not compared"),
    ("not noted", None, "no octane noted; 95 RON is printed"),
]


@pytest.mark.parametrize(("case", "octane", "held"), OCTANES, ids=[row[0] for row in OCTANES])
def test_petrol_of_too_low_an_octane_keeps_full_throttle_shut(
    case: str, octane: dict[str, Any] | None, held: str
) -> None:
    conditions = {"conditions": {"octane": octane}} if octane else {}
    filled = left("premix", {"to_one": "75"}, "running", **conditions)
    stands = states("ostmere/sanderling-93", *POINTER, filled)
    assert held in stands["held"]["full-speed"], case
    assert ("octane" in stands["held"]["full-speed"]) == bool(held), case
    assert "octane" not in stands["held"]["before-plugs"]
    assert "start" not in stands["unread"]


def test_petrol_filled_later_takes_the_place_of_the_petrol_before_or_an_override_lets_it_pass() -> None:
    low, high = (
        left("premix", {"to_one": "75"}, "running", conditions={"octane": {"ron": octane}}) for octane in ("91", "95")
    )
    passed = entry("override", figure="premix", danger="octane 91 RON", text="slow trip home")
    assert "octane" not in states("ostmere/sanderling-93", *POINTER, low, high)["held"]["full-speed"]
    stands = states("ostmere/sanderling-93", *POINTER, low, passed)
    assert "octane" not in stands["held"]["full-speed"]
    assert stands["tag"][0] == ["override", "octane 91 RON; left so: slow trip home"]


CYLINDERS: list[tuple[str, list[tuple[str, str]], str, str]] = [
    # Yawl 23, two sets of contacts, 26 to 27 standing still: what was read in which cylinder
    ("one", [("1", "25")], "not every cylinder read: 2 missing", "Read every cylinder first"),
    ("both", [("1", "25"), ("2", "26")], "", ""),
    (
        "the second early",
        [("1", "25"), ("2", "29")],
        "29° BTDC static, early, 2° past the book's 27",
        "Set it again first",
    ),
    ("the second early, then set", [("1", "25"), ("2", "29"), ("2", "26")], "", ""),
]


@pytest.mark.parametrize(("case", "read", "held", "undone"), CYLINDERS, ids=[row[0] for row in CYLINDERS])
def test_each_cylinder_with_its_own_contacts_is_read_and_the_earliest_counts(
    case: str, read: list[tuple[str, str]], held: str, undone: str
) -> None:
    readings = [left(MAXIMUM, {"btdc": degrees}, "static", cylinder=number) for number, degrees in read]
    stands = states("skerrow/yawl-23", *POINTER, *readings)
    before = stands["held"].get("before-plugs", "")
    assert held in before, case
    assert ("maximum spark advance" in before) == bool(held), case
    assert stands["unread"].get("maximum-static", "").startswith(undone), case
    unread = ["maximum in cylinder", "2 not read"]
    assert (unread in stands["tag"]) == (case == "one")


def test_one_reading_is_enough_of_one_trigger_that_serves_cylinders_that_fire_evenly() -> None:
    stands = states("pellwater/levanter-19", *POINTER, left(MAXIMUM, {"btdc": "30"}))
    assert "maximum" not in stands["unread"]
    assert not [line for line in stands["tag"] if line[0] == "maximum in cylinder"]


LOOSENED: list[tuple[str, str, list[Entry], str]] = [
    # what was read with the nut tight says nothing of how it is left once the nut was slack again
    ("tight", "skerrow/ketch-47", [left(MAXIMUM, {"btdc": "23"})], ""),
    (
        "slack again",
        "skerrow/ketch-47",
        [left(MAXIMUM, {"btdc": "23"}), entry("turn", figure=MAXIMUM, turns="1/2", reads="23.5")],
        "not read after locking",
    ),
    (
        "each cylinder, then slack, then one",
        "skerrow/yawl-23",
        [
            *(left(MAXIMUM, {"btdc": "25"}, "static", cylinder=number) for number in "12"),
            entry("turn", figure=MAXIMUM, turns="1/2", reads="26", cylinder="1"),
            left(MAXIMUM, {"btdc": "26"}, "static", cylinder="1"),
        ],
        "not every cylinder read: 2 missing",
    ),
]


@pytest.mark.parametrize(("case", "family", "read", "held"), LOOSENED, ids=[row[0] for row in LOOSENED])
def test_what_was_read_before_the_nut_was_slack_again_counts_no_more(
    case: str, family: str, read: list[Entry], held: str
) -> None:
    before = states(family, *POINTER, *read)["held"].get("before-plugs", "")
    assert held in before, case
    assert ("maximum spark advance: not" in before) == bool(held), case


def test_the_screw_is_turned_by_the_earliest_cylinder_and_begun_anew_at_another() -> None:
    by_one = entry("turn", figure=MAXIMUM, turns="0", reads="24", cylinder="1")
    by_two = entry("turn", figure=MAXIMUM, turns="1/2", reads="25", cylinder="2")
    (record,) = in_node(folds=[[begin("skerrow/yawl-23", "Yawl 23", serial=""), by_one, by_two]])["folds"]
    assert [(one["turns"], one["cylinder"]) for one in record["turns"][MAXIMUM]] == [("0", "2")]
