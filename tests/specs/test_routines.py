"""The orders of work: which steps and ticks apply to which engine, and that nothing that hurts someone falls out."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

from kb.book.setting.job import Job, JobStep
from kb.errors import FamilyNotFound, FamilyRetired, RoutineNotFound, StepNotFound
from kb.intake.check.file_kinds import read_files
from kb.intake.check.one_file import check_file
from kb.intake.check.whole_book import make_context
from tests.specs.book import specs_book
from tests.support.engines import IGNITIONS, LINKAGES, Engine, engine, every_engine, ids, job_of
from tests.support.folders import SPECS

BOOK = specs_book()
BREAKERS = {"breaker-magneto", "breaker-battery"}
FLYWHEEL_FED = {"breaker-magneto", "capacitor-discharge"}
BATTERY_FED = {"breaker-battery", "battery-capacitor-discharge"}
DEAD = {"stop-lead-grounded", "battery-off", "ignition-dead"}
LIVE = {"stop-lead-released", "battery-on", "ignition-live"}
BY_STOP = {"dead-centre"}
STANDING_STILL = {"idle-timing-static", "pickup-static", "maximum-static", "spark-static"}
BY_HAND = {"breakers", "trigger", "degree-tape", "dead-centre", "lamp"} | STANDING_STILL
BY_LIGHT = {"idle-timing", "pickup", "maximum", "spark"}
LATE = {"maximum-late", "spark-late"}
TIMED = {"idle-timing": "idle-timing", "throttle-pickup": "pickup", "max-advance": "maximum"}


CAMS = {
    "cam-touches-at-idle": "roller-contact",
    "cam-clear-at-idle": "cam-clearance",
    "roller-on-mark": "roller-mark",
    "plates-cracked-at-idle": "idle-opening",
}
"""The step of each linkage at which the lever's idle stop, the cam and the plates are set to each other."""


@cache
def jobs(linkage: str) -> list[tuple[Engine, Job]]:
    """The jobs of every engine by hand of a linkage, and of every family of the book that has it."""
    families = [document for document in BOOK.documents.values() if document.get("linkage") == linkage]
    return [(made, job_of(BOOK, made)) for made in (*every_engine(linkage), *families)]


def ways_set(made: Engine) -> dict[str, str]:
    """The state in which each figure of the light is set: on land where the file has it so, else running."""

    def way(figure: str) -> str:
        stated = made["figures"].get(figure, ())
        states = {one["state"] for one in stated if "state" in one}
        corrected = [one for one in made["figures"].get("cranking-correction", ()) if "absent" not in one]
        if figure == "max-advance" and "running" in states and corrected:
            return "cranking"
        return next((state for state in ("cranking", "static", "running") if state in states), "")

    lever = made.get("linkage") != "fixed-spark"
    return {one: way(one) or way("max-advance") or "cranking" for one in TIMED if lever or one == "max-advance"}


def read_in(step: JobStep) -> set[str]:
    """The states in which the figures of a step are read."""
    return {state for figure in step.figures for state in BOOK.figures[figure].states}


def place(work: Job, *names: str) -> int:
    """Where the first of these steps stands; behind all of them if there is none."""
    return min((ids(work).index(name) for name in names if name in work.by_id), default=len(work.steps))


def test_the_book_has_families_of_every_linkage_and_ignition() -> None:
    families = BOOK.documents.values()
    assert {document["linkage"] for document in families if "linkage" in document} == set(LINKAGES)
    assert {document["ignition"]["type"] for document in families if "ignition" in document} == set(IGNITIONS)


@pytest.mark.parametrize("family", BOOK.family_ids())
def test_every_family_that_says_its_linkage_has_an_order_of_work(family: str) -> None:
    if "linkage" not in BOOK.documents[family]:
        with pytest.raises(RoutineNotFound, match="does not say how"):
            BOOK.job(family)
        return
    work = BOOK.job(family)
    assert (work.family, work.routine) == (family, BOOK.documents[family]["linkage"])
    assert not [step.id for step in work.steps if step.do.startswith("If the ignition is ")]
    for step in work.steps:
        assert set(step.cautions) <= set(BOOK.cautions), step.id
        assert set(step.figures) <= set(BOOK.figures), step.id


def test_there_is_one_routine_for_each_linkage_and_every_step_says_why() -> None:
    assert {key: routine["linkage"] for key, routine in BOOK.routines.items()} == {key: key for key in LINKAGES}
    for routine in BOOK.routines.values():
        for step in routine["steps"]:
            assert step.get("why"), (routine["name"], step["id"])
            assert step.get("records") if {"figure", "figures"} & set(step) else True, (routine["name"], step["id"])


def test_every_caution_belongs_somewhere() -> None:
    for key, routine in BOOK.routines.items():
        used = {caution for step in routine["steps"] for caution in step.get("cautions", ())}
        assert used == set(BOOK.cautions) - ({"lever-untied"} if key == "fixed-spark" else set())


WARNED: list[tuple[str, set[str]]] = [
    # at these steps, as far as the kind of linkage has them, nobody goes on without having read these
    ("make-ready", {"unexpected-start", "sparks-near-plug-holes"}),
    ("before-cranking", {"unexpected-start", "open-flywheel", "sparks-near-plug-holes", "starter-rest"}),
    ("compression", {"open-flywheel", "starter-rest"}),
    ("stop-lead-grounded", {"unexpected-start"}),
    ("dead-centre", {"never-crank-into-the-stop", "no-water-pump-backward", "open-flywheel"}),
    ("leads-high-voltage", {"sparks-near-plug-holes", "capacitor-discharge-voltage"}),
    ("stop-lead-released", {"open-flywheel", "never-crank-into-the-stop", "sparks-near-plug-holes"}),
    ("battery-on", {"open-flywheel", "never-crank-into-the-stop", "sparks-near-plug-holes"}),
    ("ignition-live", {"open-flywheel", "never-crank-into-the-stop", "sparks-near-plug-holes"}),
    ("maximum", {"too-much-advance", "open-flywheel", "lever-untied"}),
    ("spark", {"too-much-advance", "open-flywheel"}),
    ("start", {"cooling-water-first", "carbon-monoxide", "unexpected-start", "flushing-adaptor"}),
    ("full-speed", {"on-the-water", "too-much-advance", "flushing-adaptor", "open-flywheel", "carbon-monoxide"}),
]


@pytest.mark.parametrize(("name", "cautions"), WARNED)
def test_what_can_hurt_is_said_where_it_can(name: str, cautions: set[str]) -> None:
    told = [step["cautions"] for routine in BOOK.routines.values() for step in routine["steps"] if step["id"] == name]
    assert told
    assert all(cautions <= set(found) for found in told)


@pytest.mark.parametrize("linkage", LINKAGES)
def test_every_gate_stands_where_it_must(linkage: str) -> None:
    """The states that a figure is read in come from the catalogue."""
    for made, work in jobs(linkage):
        ways = ways_set(made)
        light, late = "cranking" in ways.values() or ways["max-advance"] == "running", ways["max-advance"] == "running"
        modules = ways.get("idle-timing") == "running" and ("ignition" not in made or "modules" in made["ignition"])
        gates = [step.id for step in work.steps if step.gate and step.id not in LATE]
        assert gates == [
            "before-cranking",
            *["before-light"] * light,
            "before-plugs",
            *["idle-module-off", "idle-module-on"] * modules,
        ], made
        assert any(step.gate for step in work.steps if step.id in LATE) == late
        first, second = place(work, "before-cranking"), place(work, "before-plugs")
        for number, step in enumerate(work.steps):
            states = (step.state,) if step.state else read_in(step)
            if "cranking" in states:
                assert first < number < second, (step.id, made)
            elif set(states) == {"running"} or step.id in ("plugs-in", "start", "idle"):
                assert number > second, (step.id, made)
            elif step.id in BY_HAND:
                assert first < number < second, (step.id, made)
        assert all(len(step.gate) >= 6 for step in work.steps if step.id.startswith("before"))


@pytest.mark.parametrize("linkage", LINKAGES)
def test_a_module_that_is_disconnected_is_connected_again_and_ticked(linkage: str) -> None:
    for made, work in jobs(linkage):
        steps = work.steps[: place(work, "before-plugs") + 1]
        off = [number for number, step in enumerate(steps) if step.module == "disconnected"]
        on = [number for number, step in enumerate(steps) if step.module == "connected"]
        ticks = [tick for tick in work.by_id["before-plugs"].gate if "module" in tick]
        fitted = "ignition" not in made or bool(made["ignition"].get("modules"))
        assert [len(off), len(on), len(ticks)] == [fitted] * 3, made
        if fitted:
            assert off[0] < place(work, *BY_LIGHT, *STANDING_STILL) < place(work, "before-plugs"), made
            assert any("unplugged" in tick for tick in work.by_id["before-cranking"].gate), made
            assert all(number < on[0] for number, step in enumerate(steps) if step.state), made


@pytest.mark.parametrize("linkage", LINKAGES)
def test_the_ignition_is_dead_by_hand_and_live_by_light(linkage: str) -> None:
    """A magneto's stop lead is grounded, a battery's feed never is; where a file does not say which, both are told."""
    for made, work in jobs(linkage):
        fitted = made.get("ignition", {}).get("type")
        kinds = {
            "stop-lead-grounded": FLYWHEEL_FED,
            "stop-lead-released": FLYWHEEL_FED,
            "battery-off": BATTERY_FED,
            "battery-on": BATTERY_FED,
            "ignition-dead": {"transistor"},
            "ignition-live": {"transistor"},
        }
        light = "before-light" in work.by_id
        wanted = {step for step, ignitions in kinds.items() if fitted is None or fitted in ignitions}
        wanted -= set() if light else LIVE
        assert wanted == (DEAD | LIVE) & set(ids(work)), made
        assert place(work, "compression") < place(work, *DEAD) < place(work, *BY_HAND), made
        assert place(work, "dead-centre") < place(work, "lamp", *LIVE), made
        assert place(work, *LIVE) < place(work, *BY_LIGHT) or not light, made
        assert place(work, "lamp") == len(work.steps) or place(work, "lamp") < place(work, *LIVE), made
        for step in work.steps:
            if step.id in ("battery-off", "ignition-dead"):
                assert "ground nothing" in step.do.lower() or "nothing grounded" in step.do, made
        ticks = [tick for tick in work.by_id["before-plugs"].gate if "stop lead" in tick or "battery" in tick]
        assert len(ticks) == (1 if fitted else 3), made


@pytest.mark.parametrize("linkage", LINKAGES)
def test_the_stop_is_out_before_the_ignition_is_live_and_the_starter_turns(linkage: str) -> None:
    for made, work in jobs(linkage):
        assert {step.id for step in work.steps if step.puts_in} == BY_STOP | {"lamp"} & set(ids(work)), made
        out = {step.id: step.takes_out for step in work.steps if step.id.startswith("before")}
        assert set(out.pop("before-cranking")) == {"piston-stop"}, made
        assert set(out.values()) == {("piston-stop", "depth-gauge")}, made
        if "before-light" in work.by_id:
            assert place(work, "dead-centre") < place(work, "before-light") < place(work, *LIVE), made
            assert any(tick.startswith("piston stop out") for tick in work.by_id["before-light"].gate), made


@pytest.mark.parametrize("linkage", LINKAGES)
def test_each_step_says_how_the_flywheel_is_turned_and_how_it_leaves_the_ignition(linkage: str) -> None:
    for made, work in jobs(linkage):
        have = set(ids(work))
        cranked = {step.id for step in work.steps if "cranking" in ((step.state,) if step.state else read_in(step))}
        assert {step.id for step in work.steps if step.turned == "by-hand"} == BY_HAND & have, made
        assert {step.id for step in work.steps if step.turned == "by-starter"} == cranked, made
        assert {step.id for step in work.steps if step.ignition == "dead"} == DEAD & have, made
        assert {step.id for step in work.steps if step.ignition == "live"} == LIVE & have, made


def found_without(routine: str, step: str) -> set[str]:
    """The rules that report a routine of the book without one of its steps."""
    files = read_files(SPECS)
    file = f"routines/{routine}.yaml"
    whole = files[file].decode()
    changed = re.sub(rf"(?ms)^  - id: {step}\n.*?(?=^  - id: )", "", whole)
    assert len(changed) < len(whole)
    context = make_context(files, files.__getitem__)
    return {finding.rule for finding in check_file(file, changed.encode(), context).findings}


@pytest.mark.parametrize("linkage", LINKAGES)
def test_a_routine_without_its_gate_after_the_stop_is_reported(linkage: str) -> None:
    assert found_without(linkage, "before-light") == {"gate-missing"}
    assert found_without(linkage, "degree-tape") == set()


def high_voltage(ignition: str) -> bool:
    """Whether an ignition has a capacitor charged to some hundred volts."""
    return "capacitor-discharge" in ignition


@pytest.mark.parametrize("linkage", LINKAGES)
def test_each_step_is_for_engines_that_have_the_part(linkage: str) -> None:
    for made, work in jobs(linkage):
        have, fitted = set(ids(work)), made.get("ignition", {}).get("type")
        if fitted:
            assert ("breakers" in have) == (fitted in BREAKERS), made
            assert ("trigger" in have) == (fitted not in BREAKERS), made
            assert ("leads-high-voltage" in have, "leads" in have) == (high_voltage(fitted), not high_voltage(fitted))
            assert ("capacitor-discharge-voltage" in {caution for step in work.steps for caution in step.cautions}) == (
                high_voltage(fitted)
            ), made
            assert any("coil-gap" in step.figures for step in work.steps) == (fitted not in BATTERY_FED), made
            assert len([tick for tick in work.by_id["before-cranking"].gate if "12.4 V" in tick]) == 1, made
        several = made["engine"].get("carburettors")
        if several is None and made["engine"]["cylinders"] == "1":
            several = "1"
        together = any("carburettor-synchronisation" in step.figures for step in work.steps)
        assert together == (several is None or int(several) > 1), made
        wheel = made.get("flywheel")
        bare = wheel is None or not wheel.get("numbered_marks")
        assert ("degree-tape" in have) == bare, made
        assert any("degree tape" in tick for tick in work.by_id["before-plugs"].gate) == bare, made


@pytest.mark.parametrize("linkage", LINKAGES)
def test_each_figure_of_the_light_is_set_in_one_state_at_one_step(linkage: str) -> None:
    """A figure of a running engine is not set while cranking, nor one of a standing engine with the starter."""
    for made, work in jobs(linkage):
        have = set(ids(work))
        for figure, way in ways_set(made).items():
            name = "spark" if linkage == "fixed-spark" else TIMED[figure]
            steps = {"cranking": name, "static": f"{name}-static", "running": f"{name}-running"}
            set_at = {state for state in ("cranking", "static") if steps[state] in have}
            assert set_at == {way} - {"running"}, (figure, made)
            assert all(work.by_id[step].state == state for state, step in steps.items() if step in have), made
            if figure == "max-advance":
                stated = {one.get("state") for one in made["figures"].get(figure, ())}
                assert (f"{name}-running" in have, f"{name}-late" in have) == ((way == "running",) * 2), made
                checked = "running" in stated or made_up(made, way)
                assert ("max-advance" in work.by_id["full-speed"].figures) == (checked and way != "running"), made
            else:
                assert (f"{name}-running" in have) == (way == "running"), made


def made_up(made: Engine, way: str) -> bool:
    """Whether the maximum when running can be worked out from the one while cranking."""
    corrections = made["figures"].get("cranking-correction", ())
    return way == "cranking" and any("absent" not in one for one in corrections)


STATIC = [key for key, made in BOOK.documents.items() if "static" in ways_set(made).values() and "linkage" in made]


@pytest.mark.parametrize("family", STATIC)
def test_what_is_set_standing_still_is_read_with_a_dead_ignition_and_no_starter(family: str) -> None:
    work = BOOK.job(family)
    left = ""
    for step in work.steps:
        left = step.ignition or left
        if step.state == "static":
            assert left == "dead", step.id
            assert step.turned == "by-hand", step.id
            assert "contacts part" in step.do, step.id
            assert not re.search(r"[Cc]rank|starter", step.do), step.id
    assert place(work, "lamp") < place(work, *STANDING_STILL)
    if set(ways_set(BOOK.documents[family]).values()) == {"static"}:
        assert (LIVE | BY_LIGHT | {"before-light"}).isdisjoint(ids(work))
        assert not [step.id for step in work.steps[place(work, "lamp") :] if step.turned == "by-starter"]


def test_the_running_maximum_is_read_in_the_water_with_its_own_cautions() -> None:
    for linkage in LINKAGES:
        for made, work in jobs(linkage):
            for step in work.steps:
                if step.state != "running":
                    continue
                if step.id == "full-speed":
                    assert "a second person at the helm" in step.more
                    continue
                assert place(work, "start") < place(work, step.id) < place(work, "full-speed"), made
                assert {"open-flywheel", "cooling-water-first", "carbon-monoxide", "on-the-water"} <= set(step.cautions)
                assert "a second person at the helm" in step.do
                assert "only with the engine stopped" in step.do
                if "max-advance" in step.figures:
                    assert "never on a flushing adaptor" in step.do
                    assert {"flushing-adaptor", "too-much-advance"} <= set(step.cautions)


def test_the_jet_is_for_the_lowest_and_coldest_place_and_the_octane_is_noted_with_its_scale() -> None:
    for routine in BOOK.routines.values():
        steps = {step["id"]: step for step in routine["steps"]}
        (plates,) = steps.keys() & {"plates-shut", "plates-free"}
        jets = " ".join(steps[plates]["more"].split())
        assert "the lowest and coldest place in which the engine will run" in jets
        assert "RON or (R+M)/2" in " ".join(steps["start"]["more"].split())


def test_an_idle_timing_read_running_without_its_module_has_a_gate_before_and_after() -> None:
    work = BOOK.job("ostmere/sanderling-93")
    names = ids(work)
    at = names.index("idle-timing-running")
    assert names[at - 1 : at + 2] == ["idle-module-off", "idle-timing-running", "idle-module-on"]
    off, on = work.steps[at - 1], work.steps[at + 1]
    assert (off.module, on.module) == ("disconnected", "connected")
    assert all("engine stopped, key out" in step.gate for step in (off, on))
    assert {"idle-module-off", "idle-module-on"}.isdisjoint(ids(BOOK.job("pellwater/levanter-19")))


@pytest.mark.parametrize("linkage", LINKAGES)
def test_what_is_made_stale_is_done_on_this_engine(linkage: str) -> None:
    for made, work in jobs(linkage):
        assert len(set(work.by_id)) == len(work.steps)
        for step in work.steps:
            assert set(step.makes_stale) <= set(work.by_id) - {step.id}, (step.id, made)
            assert len(set(step.makes_stale)) == len(step.makes_stale)


@pytest.mark.parametrize("linkage", LINKAGES)
def test_whoever_ties_the_lever_is_told_of_it_three_times(linkage: str) -> None:
    work = job_of(BOOK, engine(linkage))
    said = {step.id for step in work.steps if any("tie" in words for words in (step.do.lower(), *step.gate))}
    if linkage == "fixed-spark":
        assert {"idle-stop", "idle-timing", "pickup", "maximum"}.isdisjoint(ids(work))
        assert not any(tick.startswith("lever") for step in work.steps for tick in step.gate)
    else:
        assert said >= {"before-cranking", "maximum", "before-plugs"}
        assert "Untie the lever" in work.by_id["maximum"].do
        assert "Untie the lever" in work.by_id["maximum-with-cable"].more
        assert "tie clear of the flywheel" in work.by_id["maximum"].do
        assert "lever-untied" in work.by_id["before-plugs"].cautions


PARTS: list[tuple[str, set[str], set[str]]] = [
    # part of the order of work, its steps where the spark moves, and where it does not
    ("1 compression, plugs, battery, cranking speed", {"plugs", "compression"}, set()),
    ("2 before cranking", {"before-cranking"}, set()),
    ("3 true top dead centre", {"dead-centre"}, set()),
    ("4 idle stop, cam and roller", {"cam-clearance"}, {"cam-clearance"}),
    ("5 by the light", {"stop-lead-released", "idle-timing", "pickup"}, {"idle-timing", "pickup"}),
    ("6 full throttle", {"full-throttle"}, set()),
    ("7 all that was moved, and the cable", {"maximum-with-cable"}, {"maximum-with-cable"}),
    ("8 before the plugs go back", {"before-plugs"}, set()),
    ("9 run", {"start", "idle", "full-speed"}, set()),
    ("10 an hour later, and the record", {"after-an-hour"}, set()),
]
"""The parts of the order of work; the third column is what a spark that stands still has no use for."""


@pytest.mark.parametrize("linkage", LINKAGES)
def test_all_parts_are_there_and_in_order(linkage: str) -> None:
    work = job_of(BOOK, engine(linkage, modules=True))
    last = -1
    for part, steps, moving in PARTS:
        wanted = steps - (moving if linkage == "fixed-spark" else set())
        if "cam-clearance" in wanted:
            wanted = {CAMS[linkage]}
        assert wanted <= set(ids(work)), (part, wanted - set(ids(work)))
        if part.startswith("1 "):
            continue  # its cranked half stands behind the gate of part two, since it is cranked for
        for step in wanted:
            assert place(work, step) > last, (part, step)
        last = max((place(work, step) for step in wanted), default=last)


HEAD = ["plugs", "make-ready", "leads", "before-cranking", "compression"]
LATER = ["idle-timing", "pickup", "maximum", "full-throttle", "maximum-with-cable", "before-plugs"]
RUN = ["plugs-in", "start", "idle", "full-speed", "after-an-hour"]
MAGNETO = ["stop-lead-grounded", "breakers", "degree-tape", "dead-centre"]
PLAIN: list[tuple[str, list[str]]] = [
    ("cam-touches-at-idle", ["plates-shut", CAMS["cam-touches-at-idle"]]),
    ("cam-clear-at-idle", ["plates-shut", CAMS["cam-clear-at-idle"]]),
    ("roller-on-mark", ["plates-shut", CAMS["roller-on-mark"]]),
    ("plates-cracked-at-idle", ["plates-free", CAMS["plates-cracked-at-idle"]]),
]


@pytest.mark.parametrize(("linkage", "own"), PLAIN)
def test_the_steps_of_a_plain_engine(linkage: str, own: list[str]) -> None:
    """A breaker magneto, one carburettor, a flywheel without numbers, no module."""
    made = engine(linkage, "breaker-magneto", carburettors="1", marks=False)
    wanted = [*HEAD, *MAGNETO, *own, "before-light", "stop-lead-released", *LATER, *RUN]
    assert ids(job_of(BOOK, made)) == wanted


def test_the_steps_of_a_plain_engine_whose_spark_stands_still() -> None:
    made = engine("fixed-spark", "breaker-magneto", carburettors="1", cylinders="1", marks=False)
    work = job_of(BOOK, made)
    middle = ["plates-shut", "before-light", "stop-lead-released", "spark", "full-throttle", "before-plugs"]
    assert ids(work) == [*HEAD, *MAGNETO, *middle, *RUN]
    assert [step.id for step in work.steps if "spark" in step.makes_stale] == ["breakers"]
    assert work.by_id["spark"].makes_stale == ()


TO_BATTERY = (["battery-off", "battery-on"], ["stop-lead-grounded", "stop-lead-released"])
TO_DISCHARGE = (["leads-high-voltage", "trigger"], ["leads", "breakers"])
CHANGES: list[tuple[dict[str, Any], list[str], list[str]]] = [
    # beside the plain engine, the steps that come and those that go
    ({}, [], []),
    ({"marks": True}, [], ["degree-tape"]),
    ({"marks": None}, [], []),
    ({"carburettors": "2"}, [], []),
    ({"carburettors": None}, [], []),
    ({"modules": True}, [], []),
    ({"ignition": "breaker-battery"}, *TO_BATTERY),
    ({"ignition": "capacitor-discharge"}, *TO_DISCHARGE),
    (
        {"ignition": "battery-capacitor-discharge"},
        [*TO_BATTERY[0], *TO_DISCHARGE[0]],
        [*TO_BATTERY[1], *TO_DISCHARGE[1]],
    ),
    (
        {"ignition": "transistor"},
        ["trigger", "ignition-dead", "ignition-live"],
        ["breakers", "stop-lead-grounded", "stop-lead-released"],
    ),
    (
        {"ignition": None},
        ["battery-off", "battery-on", "leads-high-voltage", "trigger", "ignition-dead", "ignition-live"],
        [],
    ),
]


@pytest.mark.parametrize(("change", "more", "less"), CHANGES, ids=[str(row[0]) for row in CHANGES])
@pytest.mark.parametrize("linkage", LINKAGES)
def test_what_comes_and_goes_with_the_engine(linkage: str, change: Any, more: list[str], less: list[str]) -> None:
    plain = {"ignition": "breaker-magneto", "carburettors": "1", "marks": False}
    before, after = (ids(job_of(BOOK, engine(linkage, **made))) for made in (plain, {**plain, **change}))
    assert set(after) - set(before) == set(more)
    assert set(before) - set(after) == set(less)
    assert [name for name in after if name in before] == [name for name in before if name in after]


UNSAID: list[tuple[dict[str, Any], str, str]] = [
    ({"marks": None}, "degree-tape", "If the flywheel or its scale has no numbered marks: Wrap a degree tape"),
    ({"ignition": None}, "breakers", "If the ignition is breaker magneto or breaker battery: Turn to where"),
    ({"ignition": None}, "ignition-dead", "If the ignition is transistor: From here on turn by hand"),
    ({"marks": False}, "degree-tape", "Wrap a degree tape"),
]


@pytest.mark.parametrize(("change", "step", "words"), UNSAID)
def test_a_step_that_may_apply_is_kept_and_says_for_whom(change: dict[str, Any], step: str, words: str) -> None:
    work = job_of(BOOK, engine("cam-clear-at-idle", **change))
    assert work.by_id[step].do.startswith(words)


def test_a_tick_that_may_apply_is_kept_and_says_for_whom() -> None:
    ticks = job_of(BOOK, engine("cam-clear-at-idle", None)).by_id["before-plugs"].gate
    assert any(tick.startswith("If a module changes the advance: every module plugged in again") for tick in ticks)


ROUTINE = {
    "name": "Short",
    "linkage": "roller-on-mark",
    "steps": [
        {"id": "one", "do": "Do  the\nfirst."},
        {"id": "two", "do": "Do.", "when": {"modules": "none", "numbered_marks": "present"}, "makes_stale": ["one"]},
        {"id": "three", "do": "Do.", "when": {"modules": "fitted"}, "module": "connected"},
        {"id": "four", "do": "Do.", "when": {"carburettors": {"at_least": "4"}}, "gate": [{"tick": "a"}]},
        {
            "id": "five",
            "do": "Do.",
            "makes_stale": ["two", "one", "three"],
            "figure": "plug-gap",
            "gate": [{"tick": "a", "when": {"modules": "fitted"}}, {"tick": "b"}],
            "turned": "by-starter",
            "ignition": "live",
            "puts_in": ["gauge"],
            "takes_out": ["piston-stop"],
        },
    ],
}


def test_a_routine_is_found_by_its_linkage_whatever_it_is_called() -> None:
    work = job_of(
        BOOK, engine("roller-on-mark"), {"roller-on-mark": {**ROUTINE, "linkage": "fixed-spark"}, "short": ROUTINE}
    )
    assert (work.routine, work.name, work.about) == ("short", "Short", "")
    assert work.steps == (
        JobStep("one", "Do the first."),
        JobStep("two", "Do.", makes_stale=("one",)),
        JobStep(
            "five",
            "Do.",
            figures=("plug-gap",),
            makes_stale=("two", "one"),
            gate=("b",),
            turned="by-starter",
            ignition="live",
            puts_in=("gauge",),
            takes_out=("piston-stop",),
        ),
    )
    assert work.to_document()["steps"][2] == {
        "id": "five",
        "do": "Do.",
        "figures": ["plug-gap"],
        "makes_stale": ["two", "one"],
        "gate": ["b"],
        "turned": "by-starter",
        "ignition": "live",
        "puts_in": ["gauge"],
        "takes_out": ["piston-stop"],
    }


@pytest.mark.parametrize("linkage", LINKAGES)
def test_what_is_easily_left_on_the_engine_is_ticked_before_the_plugs(linkage: str) -> None:
    for made, work in jobs(linkage):
        gate = work.by_id["before-plugs"].gate
        tested, off = (
            next(place for place, line in enumerate(gate) if line.startswith(words))
            for words in ("stop switch tested", "remote starter switch")
        )
        assert tested < off, (made, "it is cranked with it for the test")
        assert linkage == "fixed-spark" or gate[0].startswith("lever untied"), made


@pytest.mark.parametrize("linkage", sorted(set(LINKAGES) - {"fixed-spark"}))
def test_the_maximum_is_read_once_more_with_the_cable_back_and_before_the_module_and_the_plugs(linkage: str) -> None:
    for made, work in jobs(linkage):
        assert ("maximum-with-cable" in work.by_id) == ("maximum" in work.by_id), made
        if "maximum" not in work.by_id:
            continue  # standing still it is seen where the lever rests, and running it is read by the control
        last = place(work, "maximum-with-cable")
        assert place(work, "full-throttle") < last < place(work, "before-plugs"), made
        assert work.by_id["maximum-with-cable"].leads_back, made
        assert "Put the throttle cable back" in work.by_id["maximum-with-cable"].do
        later = [step.id for step in work.steps[:last] if "maximum-with-cable" in step.makes_stale]
        assert {"maximum", "full-throttle"} <= set(later), made


@pytest.mark.parametrize("linkage", LINKAGES)
def test_one_step_leads_back_to_all_that_was_moved_before_the_plugs_go_in(linkage: str) -> None:
    for made, work in jobs(linkage):
        (back,) = [number for number, step in enumerate(work.steps) if step.leads_back]
        assert place(work, "full-throttle") < back <= place(work, "before-plugs"), made


def test_a_third_hand_and_a_wet_pump_are_asked_for_before_the_starter_turns_again_and_again() -> None:
    for routine in BOOK.routines.values():
        (gate,) = (step for step in routine["steps"] if step["id"] == "before-light")
        assert "a helper, or a remote starter button" in gate["more"]
        assert any("pump wetted" in line["tick"] for line in gate["gate"])


def test_steps_with_one_reading_between_them_are_one() -> None:
    """What is measured at one standing of the engine, or of one part, stands on one screen."""
    work = BOOK.job("skerrow/ketch-47")
    assert work.by_id["compression"].figures == ("compression", "cranking-speed", "cranking-voltage")
    assert work.by_id["trigger"].figures == ("trigger-gap", "coil-gap", "flywheel-nut-torque")
    assert work.by_id["plugs-in"].figures == ("plug-gap", "plug-torque")
    assert "pointer" not in work.by_id


def test_the_idle_in_the_water_is_the_last_word() -> None:
    """What it moves was only a first setting on land; nothing asks for a reading with the plugs out after it."""
    for routine in BOOK.routines.values():
        (idle,) = (step for step in routine["steps"] if step["id"] == "idle")
        assert "makes_stale" not in idle


STALE: list[tuple[list[str], tuple[str, ...]]] = [
    ([], ()),
    (["roller-contact"], ()),
    (["plates-shut", "roller-contact"], ("plates-shut",)),
    (["plates-shut", "roller-contact", "plates-shut"], ("roller-contact",)),
    (["plates-shut", "roller-contact", "pickup", "maximum"], ("plates-shut", "roller-contact")),
    (["pickup", "roller-contact", "pickup", "roller-contact"], ("pickup",)),
    (["roller-contact", "idle-timing"], ("roller-contact",)),
    (["roller-contact", "idle-timing", "idle"], ("roller-contact",)),  # the later setting is the last word
    (["full-throttle", "pickup"], ("full-throttle",)),
    (["maximum-with-cable", "maximum"], ("maximum-with-cable",)),  # gone back to
]


@pytest.mark.parametrize(("done", "stale"), STALE)
def test_what_must_be_checked_again(done: list[str], stale: tuple[str, ...]) -> None:
    assert job_of(BOOK, engine("cam-touches-at-idle")).stale_after(done) == stale


def test_a_step_that_there_is_not_is_told() -> None:
    work = job_of(BOOK, engine("cam-touches-at-idle"))
    with pytest.raises(StepNotFound, match="the job on skerrow/made-30 has no step breakers") as raised:
        work.stale_after(["plates-shut", "breakers"])
    assert raised.value.candidates == tuple(ids(work))


def test_a_family_that_does_not_say_its_linkage() -> None:
    words = "skerrow/made-30 does not say how .* write linkage: and one of these in families/skerrow/made-30.yaml"
    with pytest.raises(RoutineNotFound, match=words) as raised:
        job_of(BOOK, engine(None))
    assert raised.value.candidates == tuple(sorted(LINKAGES))


def test_a_book_without_a_routine_for_the_linkage() -> None:
    words = "has linkage: fixed-spark, and no routine is for that; add routines/fixed-spark.yaml"
    with pytest.raises(RoutineNotFound, match=words) as raised:
        job_of(BOOK, engine("fixed-spark"), {"short": ROUTINE})
    assert raised.value.candidates == ("short",)


def test_a_family_is_asked_for_by_id_or_name() -> None:
    assert BOOK.job("Ketch 47", serial=301455) == BOOK.job("skerrow/ketch-47")
    with pytest.raises(FamilyNotFound, match="did you mean skerrow/ketch-47"):
        BOOK.job("skerrow/ketch-4")
    retired = next(key for key, entry in BOOK.retired.items() if entry["kind"] == "family")
    with pytest.raises(FamilyRetired, match="retired"):
        BOOK.job(retired)


@pytest.mark.parametrize("linkage", LINKAGES)
def test_how_far_late_a_maximum_is_set_is_the_mechanics_choice(linkage: str) -> None:
    """The step says no number of its own, which would stand against the margin that was chosen."""
    for _, work in jobs(linkage):
        for step in work.steps:
            if step.id in ("maximum", "maximum-static", "spark", "spark-static"):
                assert not re.search(r"\bdegrees?\b|late side", step.do), step.do
                assert "less what is kept in hand" in step.more


LINKAGES_OWN = {
    "plates-shut": {"makes_stale"},
    "idle-timing-static": {"makes_stale"},
    "idle-timing": {"makes_stale"},
    "pickup-static": {"makes_stale", "do", "more", "why"},
    "pickup": {"makes_stale", "do", "more", "why"},
    "pickup-running": {"do", "why"},
    "idle": {"do", "more", "why"},
}
"""What one linkage says otherwise than another, of the steps that all linkages with a lever share."""


def test_steps_that_linkages_share_are_word_for_word_alike() -> None:
    routines = [routine for key, routine in sorted(BOOK.routines.items()) if key != "fixed-spark"]
    alike: dict[str, dict[str, Any]] = {}
    for routine in routines:
        for step in routine["steps"]:
            kept = {key: value for key, value in step.items() if key not in LINKAGES_OWN.get(step["id"], ())}
            assert alike.setdefault(step["id"], kept) == kept, (routine["name"], step["id"])
    assert len(alike) > len(routines[0]["steps"])
