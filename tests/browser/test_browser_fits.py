"""At every step where an angle is read, all that the reading needs is in sight of a phone, without scrolling."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from playwright.sync_api import Browser, Page

from kb.errors import RoutineNotFound
from tests.support.frozen import frozen_book
from tests.support.kinds_of_page import meets
from tests.support.node import SCRIPTS
from tests.support.served import Host

AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
WIDE, HIGH = 390, 844
JOBS = """async (family) => {
  const load = (name) => import(new URL(`../assets/${name}.js`, location.href).href);
  const [{ openJobLog }, { newEntry, newId }, { jobOf }] =
    await Promise.all(["job/log/job-log", "job/log/entries", "book/job"].map(load));
  const get = async (path) => (await fetch(path)).json();
  const page = await get(`../families/${family}/page.json`);
  const shared = await get("../shared.json");
  const { steps, routine } = jobOf(page, await get("routines.json"));
  const kept = await openJobLog();
  const begun = [];
  for (const step of steps) {
    const [figure = ""] = step.figures;
    const kind = shared.figures[figure];
    const isAngle = kind?.units.includes("btdc") && step.records.includes("as-left");
    if (!isAngle && step.id !== "dead-centre") continue;
    const job = newId();
    const add = (kind, said) => newEntry(job, kind, said);
    const entries = [
      add("begin", { family, name: page.name, maker: page.maker, invented: true, data_of: shared.date, routine,
        serial: family === "skerrow/ketch-47" ? "301455" : "", year: "", state: "", margin: "1" }),
      ...(page.twins ? [add("which", { answer: "stamp", serial: "", year: "" })] : []),
    ];
    for (const earlier of steps.slice(0, steps.indexOf(step))) {
      if (earlier.id === "dead-centre") entries.push(add("dead-centre", { reads: "2", stops: ["31", "-27"] }));
      if (earlier.id === "pointer") entries.push(add("pointer", { answer: "stays" }));
      for (const tick of earlier.gate) entries.push(add("tick", { step: earlier.id, tick, on: true }));
      entries.push(add("done", { step: earlier.id }));
    }
    if (isAngle) {
      const [held] = page.figures.find(({ id }) => id === figure)?.rows ?? [];
      const state = step.state || held?.state || kind.states[0];
      for (const passed of ["max-advance", "carburettor-synchronisation"])
        entries.push(add("override", { figure: passed, danger: "not read", text: "to see the screen" }));
      const said = { step: step.id, figure, when: "found", value: { btdc: "40" }, state };
      entries.push(add("reading", said), add("turn", { figure, turns: "0", reads: "40" }));
    }
    await kept.appendAll(entries);
    begun.push([job, step.id]);
  }
  return begun;
}"""
"""A job for each step of a family where an angle is read, gone as far as that step; an early reading stands there."""
PARTS = {
    "instruction": ".do",
    "box": "#reading, #first",
    "sides": "[name$=-side] + span",
    "nut": "[name=nut] + span",
    "keys": ".digit",
    "keep": "#store",
    "done": "#done",
}
MEASURE = """(parts) => Object.fromEntries(Object.entries(parts).map(([name, query]) => {
  const boxes = [...document.querySelectorAll(query)].map((one) => one.getBoundingClientRect());
  const low = (name === "instruction" ? 0 : Math.min(...boxes.map(({ height }) => height)));
  return [name, { many: boxes.length, top: Math.min(...boxes.map(({ top }) => top)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)), low }];
}))"""


@pytest.fixture(scope="module")
def page(chromium: Browser, demonstration_site: Host) -> Iterator[Page]:
    context = chromium.new_context(
        viewport={"width": WIDE, "height": HIGH}, service_workers="block", reduced_motion="reduce"
    )
    made = context.new_page()
    made.goto(f"{demonstration_site.address}job/")
    yield made
    context.close()


def opened(page: Page, host: Host, job: str, step: str) -> bool:
    """The step of a job, its dangers met; whether it is open, since some are only after the engine ran."""
    page.goto(f"{host.address}job/#{job}/{step}")
    page.locator(f'#screen[data-route="{job}/{step}"]').wait_for()
    meets(page)
    return page.locator("#store").count() > 0


def has_job(family: str) -> bool:
    try:
        return bool(frozen_book().job(family).steps)
    except RoutineNotFound:
        return False


FAMILIES = [family for family in frozen_book().family_ids() if has_job(family)]


@pytest.mark.parametrize("family", FAMILIES)
def test_all_that_a_reading_needs_is_in_sight(family: str, page: Page, demonstration_site: Host) -> None:
    seen: list[str] = []
    for job, step in page.evaluate(JOBS, family):
        if not opened(page, demonstration_site, job, step):
            continue
        seen.append(step)
        found: dict[str, Any] = page.evaluate(MEASURE, PARTS)
        print(family, step, round(found["done"]["bottom"]), page.locator(".last").count())
        assert page.evaluate("scrollY") == 0, step
        for part, at in found.items():
            if part == "nut" and (step == "dead-centre" or not at["many"]):
                continue
            assert at["many"], (step, part)
            assert at["top"] >= 0, (step, part)
            assert at["bottom"] <= HIGH, (step, part, at)
            assert part == "instruction" or at["low"] >= 48, (step, part, at)
        tops = [found[part]["top"] for part in ("instruction", "box", "keys", "keep")]
        assert tops == sorted(tops), step
        if step == "maximum":
            assert page.locator(".last").count(), "an early reading stands there"
            box = page.locator(".last").bounding_box()
            assert box
            assert box["y"] + box["height"] < found["box"]["top"]
    assert "dead-centre" in seen
    assert len(seen) > 1, "at least one figure is read"


def test_the_step_of_the_maximum_is_for_everyone(page: Page, demonstration_site: Host) -> None:
    # its whole name and years stand beside the number of the step
    jobs = {step: job for job, step in page.evaluate(JOBS, "skerrow/ketch-47")}
    asked = page.evaluate_handle((SCRIPTS / "page_faults.js").read_text(encoding="utf-8"))
    page.evaluate(AXE.read_text(encoding="utf-8"))
    for step in ("maximum", "dead-centre"):
        job = jobs[step]
        page.goto(f"{demonstration_site.address}job/#{job}/{step}")
        for _ in range(2):  # its dangers whole, then the step
            page.locator("#met, #store").first.wait_for()
            for scheme in ("light", "dark"):
                page.emulate_media(color_scheme=scheme)
                found = page.evaluate("axe.run(document, { resultTypes: ['violations'] })")["violations"]
                assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in found] == [], (step, scheme)
            page.emulate_media(color_scheme="light")
            assert asked.evaluate("(asked) => asked.smallTargets()") == [], step
            assert asked.evaluate("(asked) => asked.overlaps()") == [], step
            engine, number = (page.locator(one).first.bounding_box() for one in ("p.engine", ".where"))
            assert engine
            assert number
            beside, below = engine["x"] + engine["width"] <= number["x"], engine["y"] + engine["height"] <= number["y"]
            assert beside or below, "the engine's name and the number of the step"
            meets(page)
