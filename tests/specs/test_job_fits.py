"""At every step where something is read, all that the reading needs is in sight of a phone, without scrolling."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from playwright.sync_api import Browser, Page

from kb.publish.site.build import build_site
from tests.specs.book import families, specs_book
from tests.support.frozen import frozen_book
from tests.support.kinds_of_page import meets
from tests.support.node import SCRIPTS
from tests.support.served import Host, files_below, served

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
    if (!kind && step.id !== "dead-centre") continue;
    const job = newId();
    const add = (kind, said) => newEntry(job, kind, said);
    const entries = [
      add("begin", { family, name: page.name, maker: page.maker, invented: true, data_of: shared.date, routine,
        serial: family === "skerrow/ketch-47" ? "301455" : "", year: "", state: "", margin: "1" }),
      ...(page.twins ? [add("which", { answer: "stamp", serial: "", year: "" })] : []),
    ];
    const stands = (place) => {  // what was moved since it was done is found as it was
      const before = steps.slice(0, place);
      const moved = before.filter((one) => before.some(({ makes_stale }) => makes_stale.includes(one.id)));
      for (const one of moved) if (!one.puts_in.length) entries.push(add("done", { step: one.id, stood: true }));
    };
    for (const [place, earlier] of steps.slice(0, steps.indexOf(step)).entries()) {
      if (earlier.gate.length) stands(place);
      if (earlier.id === "dead-centre")
        entries.push(add("dead-centre", { reads: "2", stops: ["31", "-27"] }), add("pointer", { answer: "stays" }));
      for (const tick of earlier.gate) entries.push(add("tick", { step: earlier.id, tick, on: true }));
      entries.push(add("done", { step: earlier.id }));
    }
    if (step.leads_back) stands(steps.indexOf(step));
    const asked = Object.keys(shared.figures).filter((one) => shared.figures[one].safest_end);
    for (const passed of ["carburettor-synchronisation", ...asked])
      if (passed !== figure || !isAngle || passed === "max-advance")
        entries.push(add("override", { figure: passed, danger: "not read", text: "to see the screen" }));
    if (isAngle) {
      const [held] = page.figures.find(({ id }) => id === figure)?.rows ?? [];
      const state = step.state || held?.state || kind.states[0];
      const said = { step: step.id, figure, when: "found", value: { btdc: "40" }, state };
      entries.push(add("reading", said), add("turn", { figure, turns: "0", reads: "40" }));
    }
    const began = Date.now() - 3_600_000;
    for (const [place, one] of entries.entries()) one.at = new Date(began + place * 1000).toISOString();
    await kept.appendAll(entries);
    begun.push([job, step.id, isAngle || step.id === "dead-centre"]);
  }
  return begun;
}"""
"""A job for each step of a family where something is read, gone as far as that step; where an angle is read, an early
reading stands there."""
PARTS = {
    "instruction": ".do",
    "box": "#reading, #first",
    "sides": "[name$=-side] + span",
    "nut": "[name=nut] + span",
    "keys": ".digit",
    "keep": "#store",
    "done": "#done",
}
SOMETIMES = ("sides", "keys")
"""Not there where words or plain numbers are read."""
MEASURE = """(parts) => Object.fromEntries(Object.entries(parts).map(([name, query]) => {
  const boxes = [...document.querySelectorAll(query)].map((one) => one.getBoundingClientRect());
  const low = (name === "instruction" ? 0 : Math.min(...boxes.map(({ height }) => height)));
  return [name, { many: boxes.length, top: Math.min(...boxes.map(({ top }) => top)),
    bottom: Math.max(...boxes.map(({ bottom }) => bottom)), low }];
}))"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Host]:
    with served(files_below(build_site(specs_book(), tmp_path_factory.mktemp("fits") / "site").place)) as running:
        yield running


@pytest.fixture(scope="module")
def page(chromium: Browser, site: Host) -> Iterator[Page]:
    context = chromium.new_context(
        viewport={"width": WIDE, "height": HIGH}, service_workers="block", reduced_motion="reduce"
    )
    made = context.new_page()
    made.goto(f"{site.address}job/")
    yield made
    context.close()


def opened(page: Page, host: Host, job: str, step: str) -> bool:
    """The step of a job, its dangers met; whether it is open, since some are only after the engine ran."""
    page.goto(f"{host.address}job/#{job}/{step}")
    page.locator(f'#screen[data-route="{job}/{step}"]').wait_for()
    meets(page)
    return page.locator("#store").count() > 0


KETCH = "skerrow/ketch-47"
FAMILIES = [
    family
    for family in families()
    if family in frozen_book().family_ids() and "linkage" in specs_book().documents[family]
] or [KETCH]
"""Those of the demonstration: how long the texts of a new family are is nobody's fault."""


def fits(page: Page, step: str, is_angle: bool) -> None:
    """All that a reading needs is in sight, in its order, and large enough for a thumb."""
    found: dict[str, Any] = page.evaluate(MEASURE, PARTS)
    print(step, page.locator("[name=figure]:checked + span").all_inner_texts(), round(found["done"]["bottom"]))
    assert page.evaluate("scrollY") == 0, step
    for part, at in found.items():
        if not at["many"] and (part == "nut" or (part in SOMETIMES and not is_angle)):
            continue
        assert at["many"], (step, part)
        assert at["top"] >= 0, (step, part)
        assert at["bottom"] <= HIGH, (step, part, at)
        assert part == "instruction" or at["low"] >= 48, (step, part, at)
    tops = [found[part]["top"] for part in ("instruction", "box", "keys", "keep") if found[part]["many"]]
    assert tops == sorted(tops), step


@pytest.mark.parametrize("family", FAMILIES)
def test_all_that_a_reading_needs_is_in_sight(family: str, page: Page, site: Host) -> None:
    seen: list[str] = []
    for job, step, is_angle in page.evaluate(JOBS, family):
        if not opened(page, site, job, step):
            continue
        seen.append(step)
        for figure in range(page.locator("[name=figure]").count() or 1):
            if page.locator("[name=figure]").count():
                page.locator(f"label:has([name=figure]) >> nth={figure}").click()
            fits(page, step, is_angle)
        if step == "maximum":
            assert page.locator(".last").count(), "an early reading stands there"
            box = page.locator(".last").bounding_box()
            assert box
            reading = page.locator("#reading").bounding_box()
            assert reading
            assert box["y"] + box["height"] < reading["y"]
    assert "dead-centre" in seen
    assert len(seen) > 1, "at least one figure is read"


def test_the_step_of_the_maximum_is_for_everyone(page: Page, site: Host) -> None:
    # its whole name and years stand beside the number of the step
    jobs = {step: job for job, step, _ in page.evaluate(JOBS, KETCH)}
    asked = page.evaluate_handle((SCRIPTS / "page_faults.js").read_text(encoding="utf-8"))
    page.evaluate(AXE.read_text(encoding="utf-8"))
    for step in ("maximum", "dead-centre"):
        job = jobs[step]
        page.goto(f"{site.address}job/#{job}/{step}")
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
