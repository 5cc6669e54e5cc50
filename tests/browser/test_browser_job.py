"""A job on a phone, from the list to its report: gates, readings, the coach, the starter's timer, bad days."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Literal

import axe_playwright_python
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.test_browser_finding import KEPT
from tests.pictures import JOB
from tests.support.frozen import frozen_book
from tests.support.kinds_of_page import meets, tells_which
from tests.support.node import SCRIPTS
from tests.support.served import Host, served

FAMILY = "skerrow/ketch-47"
AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
SOME = """async ([job, wanted]) => {
  const at = (path) => new URL(path, location.href).href;
  const { openJobLog } = await import(at("../assets/job/log/job-log.js"));
  const { newEntry } = await import(at("../assets/job/log/entries.js"));
  const kept = await openJobLog();
  await kept.entriesOf(job);
  await kept.appendAll(wanted.map(([kind, said]) => newEntry(job, kind, said)));
}"""
GATES = """async () => {
  const { jobOf } = await import(new URL("../assets/book/job.js", location.href).href);
  const asked = ["../families/%s/page.json", "routines.json"].map(async (path) => (await fetch(path)).json());
  return jobOf(...(await Promise.all(asked))).steps.map(({ id, gate }) => ({ id, gate }));
}"""

Found = dict[str, Any]
SCHEMES: tuple[tuple[Literal["light", "dark"], str], ...] = (
    ("light", "{}"),
    ("dark", "{ runOnly: ['color-contrast'] }"),
)
"""By day everything is asked, by night the colours."""


@pytest.fixture
def context(chromium: Browser) -> Iterator[BrowserContext]:
    made = chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block", accept_downloads=True)
    yield made
    made.close()


@pytest.fixture
def phone(context: BrowserContext) -> Iterator[Page]:
    """A phone; what goes wrong in its console, the policy's refusals among them, fails the test."""
    yield from watched(context)


def watched(context: BrowserContext) -> Iterator[Page]:
    page = context.new_page()
    wrong: list[str] = []
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    yield page
    assert not [line for line in wrong if "404" not in line]


def begun(page: Page, host: Host, family: str = FAMILY, serial: str = "361204", margin: str = "1") -> str:
    """A job begun from the address that a family's page links to; the address of the job without its step."""
    page.goto(f"{host.address}job/#new={family}")
    page.get_by_label("Serial number").fill(serial)
    page.get_by_label("Your initials, for the report").fill("mk")
    if margin:
        page.locator(f'[name=margin][value="{margin}"]').check()
    page.get_by_role("button", name="Begin the job").click()
    tells_which(page)
    page.locator("#done").wait_for()
    return page.url.rpartition("/")[0]


def some(page: Page, job: str, *wanted: tuple[str, Mapping[str, Any]]) -> None:
    """Entries as if they had been made step by step."""
    page.evaluate(SOME, [job.partition("#")[2], [list(one) for one in wanted]])
    page.reload()
    page.locator("#screen > *").first.wait_for()


def through_the_gates(page: Page, job: str, family: str = FAMILY) -> list[str]:
    """Every line of every gate ticked; the ids of the steps."""
    steps = page.evaluate(GATES % family)
    lines = [(step["id"], tick) for step in steps for tick in step["gate"]]
    some(page, job, *(("tick", {"step": step, "tick": tick, "on": True}) for step, tick in lines))
    return [step["id"] for step in steps]


def at(page: Page, job: str, step: str) -> None:
    """A step, its dangers met."""
    page.goto(f"{job}/{step}")
    page.locator(f'#screen[data-route="{job.partition("#")[2]}/{step}"]').wait_for()
    meets(page)


def again(page: Page) -> None:
    """The page loaded anew; its dangers are met once more."""
    page.reload()
    page.locator("#screen > *").first.wait_for()
    page.locator("#met").or_(page.locator("#done, #stood")).first.wait_for()
    meets(page)


def goes_on(page: Page, to: str) -> None:
    """By the key that says that the step is done, to the next and past its dangers."""
    page.locator("#done").click()
    page.wait_for_url(to)
    page.locator("#met").or_(page.locator("#done")).first.wait_for()


def unfolds(page: Page, words: str) -> None:
    """A part that is folded away is opened."""
    page.locator("summary", has_text=words).first.click()


def keyed(page: Page, digits: str) -> None:
    """Typed by the large keys on the screen."""
    for digit in digits:
        page.locator(".digits").get_by_role("button", name={".": "point"}.get(digit, digit), exact=True).click()


def noted(page: Page, digits: str, words: str, side: str = "", nut: str = "") -> None:
    """A reading keyed in with its side and how the nut is, if it has them, and kept; the verdict, told at once, and not
    that of the reading before."""
    keyed(page, digits)
    if side:
        assert page.locator("[name=reading-side]:checked").count() == 0, "a side is chosen by hand"
        page.get_by_role("radio", name=f"{side} TDC").click()
    if nut:
        assert page.locator("[name=nut]:checked").count() == 0, "nobody says for a hand how the nut is"
        page.get_by_role("radio", name=f"nut {nut}").click()
    page.locator(".told").evaluate("(told) => { told.textContent = ''; }")
    page.locator("#store").click()
    expect(page.locator(".told")).to_contain_text(words)


def test_a_whole_job_from_the_engine_to_the_report(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    assert re.search(r"#[0-9a-f-]{36}$", job)
    expect(page.locator("#job-title")).to_have_text("Plugs")
    expect(page.locator(".strip")).to_contain_text("Invented demonstration data")
    first, second = (page.locator(one).bounding_box() for one in (".step-cautions", ".do"))
    assert first is not None
    assert second is not None
    assert first["y"] < second["y"], "what can hurt stands before what to do"
    for step in ("make-ready", "starter-battery", "cable-off", "leads", "leads-high-voltage", "before-cranking"):
        goes_on(page, f"{job}/{step}")
        expect(page.locator("#job-title")).to_be_focused()
        meets(page)
    page.locator("#starter").press("Enter")
    expect(page.locator(".starter .refused")).to_have_text("Do not crank yet: tick every line above first.")
    ticks = page.get_by_role("checkbox")
    for place in range(ticks.count()):
        expect(page.locator("#done")).to_have_text("Tick every line first")
        ticks.nth(place).check()
        expect(page.locator(".gate-state")).to_contain_text(
            "all ticked" if place + 1 == ticks.count() else f"{ticks.count() - place - 1} of {ticks.count()}"
        )
    page.locator("#done").click()
    page.wait_for_url(f"{job}/compression")
    for pressure, words in (("118", "inside"), ("112", "inside"), ("98", "7 psi below")):
        noted(page, pressure, f"{pressure} psi: {words} 105 to 125 psi")
    expect(page.locator(".spread")).to_contain_text("20 psi apart")
    through_the_gates(page, job)
    at(page, job, "dead-centre")
    page.locator("#first").click()
    keyed(page, "31")
    page.locator("#second").click()
    keyed(page, "27")
    page.locator("#store").click()
    expect(page.locator(".refused").last).to_have_text("First contact: choose before TDC or after TDC for 31")
    page.get_by_role("radio", name="contact before TDC").first.click()
    page.get_by_role("radio", name="contact after TDC").last.click()
    page.locator("#store").click()
    expect(page.locator(".answer")).to_have_text("The pointer shows 2 before at true top dead centre")
    assert "2" not in page.url.rpartition("/")[2], "no reading is in the address"
    at(page, job, "pointer")
    expect(page.locator("#done")).to_have_text("Answer first: moved, or it stays")
    page.get_by_role("button", name="It stays: it shows 2 before").click()
    expect(page.locator("#done")).to_have_text("Done")
    at(page, job, "maximum")
    figure = page.locator(".figure")
    expect(figure.locator(".target").first).to_have_text("25° BTDC")
    expect(figure.locator(".printed").first).to_contain_text("24° BTDC")
    expect(figure.locator(".in-state")).to_have_text("cranking")
    behind = page.locator(".behind")
    expect(behind.locator(".evidence > summary").first).to_contain_text("bulletin p. 2; handbook p. 42 (single)")
    expect(behind.locator(".evidence li", has_text=", page 2").first).to_be_attached()
    expect(behind.locator(".how-list").first).to_contain_text("corrected for the pointer, which shows 2 before")
    expect(behind.locator(".how-list").first).to_contain_text("on the rim: ")
    words = "early, 2° past the book's 24 (26 on this pointer), 3° from your 25"
    noted(page, "28", f"{words}. turn the upper stop screw on the spark lever 1/2 turn in", "before", "tight")
    verdict = page.locator(".noted .verdict").first
    expect(verdict).to_have_class(re.compile("alarm"))
    expect(verdict.locator(".sign")).to_have_text("◀")
    expect(verdict).to_contain_text("make it later: turn the upper stop screw on the spark lever in")
    expect(verdict).to_contain_text("detonates under load")
    expect(page.locator(".coach .answer")).to_contain_text("1/2 turn in")
    noted(page, "26.5", "1/2 turn in", "before", "slack")
    noted(page, "25", "on target, leave it", "before", "slack")
    expect(page.locator("#done")).to_have_text("Read it with the nut tight first")
    dragged = "locking moved it 1.5° earlier: slacken it, set that much later, lock it and read again"
    noted(page, "26.5", dragged, "before", "tight")
    again(page)
    expect(page.locator(".coach .answer")).to_have_text(dragged.capitalize())
    assert page.get_by_text("leave it").count() == 0, "nothing stands of the reading with the nut slack"
    words = "24.5° BTDC: on target, 1.5° late of the book's 24 (26 on this pointer)"
    noted(page, "24.5", words, "before", "tight")
    expect(page.locator(".last .judged")).to_contain_text(words.replace(":", " as left:"))
    expect(page.locator(".coach")).to_have_count(0)
    page.get_by_role("radio", name="running", exact=True).click()
    page.locator("#rpm").fill("5000")
    noted(page, "23", "23° BTDC", "before", "tight")
    expect(page.locator(".measured")).to_contain_text("reads 1.5° earlier cranking than at 5000 rpm")
    for step in ("full-throttle", "free-play"):
        goes_on(page, f"{job}/{step}")
        meets(page)
    at(page, job, "steps")
    expect(page.get_by_role("link", name="check again: maximum")).to_be_visible()
    at(page, job, "end")
    expect(page.locator(".end-warning")).to_contain_text("A step was moved by what you did after")
    assert page.get_by_text("The report", exact=True).count() == 0
    page.get_by_role("link", name="check again: maximum").click()
    expect(page.locator("#stood")).to_have_text("Read it again with the nut tight first")
    page.get_by_role("radio", name="cranking", exact=True).click()
    noted(page, "24.5", words, "before", "tight")
    page.locator("#stood").click()
    at(page, job, "end")
    expect(page.locator(".end-warning")).to_contain_text("carburettor synchronisation: not read after locking")
    at(page, job, "plates-together")
    expect(page.locator("#done")).to_have_text("Read it as left first")
    page.get_by_role("radio", name="as left").click()
    noted(page, "0.5", "inside at most 0.5°")
    at(page, job, "fuel")
    noted(page, "50", "inside 50:1")
    at(page, job, "end")
    expect(page.locator(".end-warning")).to_have_count(0)
    page.get_by_role("textbox", name="How it ran").fill("pulls away: clean")
    page.get_by_role("button", name="Save").click()
    expect(page.locator(".told")).to_have_text("Saved")
    sides = page.locator(".found-left", has_text="Maximum spark advance").locator("> div")
    expect(sides.nth(0)).to_contain_text("28° BTDC cranking")
    expect(sides.nth(1)).to_contain_text("24.5° BTDC cranking, truly 22.5° BTDC")
    with page.expect_download() as downloaded:
        page.locator("#report-download").click()
    text = Path(downloaded.value.path()).read_text(encoding="utf-8")
    assert "{btdc: 22.5, state: cranking, " in text, "the true angle: the pointer shows 2 before at top dead centre"
    assert re.search(r"btdc: 22.5, state: cranking, .*24.5", text), "and what was shown"
    assert "cranking_earlier: 1.5" in text
    assert "ran: 'pulls away: clean'" in text.replace('"', "'")
    expect(page.locator("[aria-label='The report'] code")).to_contain_text(f"specs/reports/{FAMILY}/")
    page.locator("#tag-show").click()
    expect(page.locator(".tag")).to_contain_text("22.5°")
    page.locator("#sheet-show").click()
    expect(page.locator("[aria-label='The sheet']")).to_contain_text("Tie the lever forward")
    page.locator("#close").click()
    page.goto(f"{demonstration_site.address}job/#")
    expect(page.locator(".jobs li")).to_contain_text("serial 361204")
    expect(page.locator(".stands")).to_contain_text("closed")


def test_only_a_reading_with_the_nut_tight_counts_as_left(phone: Page, demonstration_site: Host) -> None:
    """Who reads with the nut slack to the end has nothing as left, whatever the light shows."""
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    some(page, job, ("dead-centre", {"reads": "0"}), ("pointer", {"answer": "stays"}))
    at(page, job, "maximum")
    assert page.locator("[name=nut]:checked").count() == 0
    keyed(page, "23")
    page.get_by_role("radio", name="before TDC").click()
    page.locator("#store").click()
    expect(page.locator(".take .refused").first).to_have_text("tap nut slack or nut tight for 23")
    expect(page.locator("#reading")).to_have_value("23")
    expect(page.locator(".noted > li")).to_have_count(0)
    page.get_by_role("radio", name="nut slack").click()
    expect(page.locator("#store")).to_have_text("Keep as found")
    page.locator("#store").click()
    expect(page.locator(".noted > li")).to_have_count(1)
    for _ in range(2):
        noted(page, "23", "on target, leave it", "before", "slack")
        expect(page.locator("#done")).to_have_text("Read it with the nut tight first")
    expect(page.locator(".noted > li")).to_have_count(1)
    at(page, job, "before-plugs")
    expect(page.locator(".held")).to_contain_text("maximum spark advance: not read after locking")
    at(page, job, "maximum")
    page.get_by_role("radio", name="nut tight").click()
    expect(page.locator("#store")).to_have_text("Keep as left")
    page.get_by_role("radio", name="nut slack").click()
    expect(page.locator(".turned")).to_be_visible()
    page.get_by_role("radio", name="nut tight").click()
    keyed(page, "23")
    page.get_by_role("radio", name="before TDC").click()
    page.locator("#store").click()
    expect(page.locator("#done")).to_have_text("Done")
    page.locator("#readings > summary").click()
    page.locator(".noted summary").last.click()
    page.locator(".noted > li").last.get_by_role("button", name="Replace").click()
    keyed(page, "24")
    page.get_by_role("radio", name="before TDC").click()
    page.get_by_role("radio", name="nut slack").click()
    page.locator("#store").click()
    expect(page.locator(".take .refused").first).to_have_text(
        "with the nut slack nothing counts as left: lock it, and read again"
    )


def test_digits_that_nobody_kept_keep_a_step_from_being_done(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    for step, box in (("compression", "#reading"), ("dead-centre", "#first")):
        at(page, job, step)
        done = page.locator("#done")
        page.locator(box).click()
        keyed(page, "118")
        expect(done).to_have_text("Keep or clear 118 first")
        expect(done).to_have_attribute("aria-disabled", "true")
        done.press("Enter")
        assert page.url == f"{job}/{step}"
        for _ in "118":
            page.get_by_role("button", name="take the last one back").click()
        expect(done).not_to_have_text("Keep or clear 118 first")


AT_ONCE = """async (readings) => {
  const happen = (box, name) => box.dispatchEvent(new Event(name, { bubbles: true }));
  for (const degrees of readings) {
    const box = document.querySelector("#reading");
    box.value = degrees;
    happen(box, "input");
    for (const chosen of ["#reading-side-btdc", "#nut-slack"]) happen(document.querySelector(chosen), "change");
    document.querySelector("#store").click();
    await new Promise((later) => queueMicrotask(later));
    await new Promise((later) => queueMicrotask(later));
  }
}"""


def test_a_reading_kept_while_the_last_is_being_written_is_reckoned_after_it(
    phone: Page, demonstration_site: Host
) -> None:
    """Half a turn in was advised and made before each of them: 28, 26.5, 25."""
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    some(page, job, ("dead-centre", {"reads": "2", "stops": ["31", "-27"]}), ("pointer", {"answer": "stays"}))
    at(page, job, "maximum")
    noted(page, "28", "1/2 turn in", "before", "tight")
    page.evaluate(AT_ONCE, ["26.5", "25"])
    expect(page.locator(".coach .answer")).to_contain_text("On target, leave it")


DANGERS = ("Too much advance", "Open flywheel", "Untie the lever")


def test_a_danger_is_met_whole_once_and_then_is_one_line(context: BrowserContext, demonstration_site: Host) -> None:
    """Whole again at a tap, after a reload, by another hand, on a new day; who taps past nothing sees no step."""
    for page in watched(context):
        page.clock.install()
        job = begun(page, demonstration_site)
        through_the_gates(page, job)
        page.goto(f"{job}/maximum")
        whole, line = page.locator(".step-cautions p"), page.locator(".step-cautions summary")
        expect(page.locator("#met")).to_be_visible()
        for title in DANGERS:
            expect(whole.filter(has_text=title)).to_be_visible()
        assert page.locator(".target, #store, #done").count() == 0
        page.locator("#met").click()
        for title in DANGERS:
            expect(line).to_contain_text(title)
        expect(whole.first).to_be_hidden()
        line.click()
        expect(whole.first).to_be_visible()
        at(page, job, "steps")
        page.goto(f"{job}/maximum")
        expect(page.locator("#store")).to_be_visible()
        assert page.locator("#met").count() == 0, "met once"
        page.reload()
        page.locator("#met").click()
        at(page, job, "engine")
        page.get_by_label("Your initials").fill("ro")
        page.get_by_role("button", name="Save").click()
        page.wait_for_url(f"{job}/steps")
        page.goto(f"{job}/maximum")
        page.locator("#met").click()
        expect(page.locator("#store")).to_be_visible()
        page.clock.fast_forward("24:00:00")
        at(page, job, "steps")
        page.goto(f"{job}/maximum")
        expect(page.locator("#met")).to_be_visible()


def test_contacts_beyond_the_numbers_are_measured_along_the_rim(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    at(page, job, "dead-centre")
    unfolds(page, "How it is found")
    page.get_by_role("radio", name="by the stop, with pencil marks and a tape").click()
    for box, digits, side in (("#first", "65", "before"), ("#second", "56.5", "after")):
        page.locator(box).click()
        keyed(page, digits)
        page.locator(f"{box}-side-{'btdc' if side == 'before' else 'atdc'}").click()
    page.locator("#store").click()
    expect(page.locator(".answer")).to_have_text("The pointer shows 2.03 before at true top dead centre")
    at(page, job, "pointer")
    page.locator("#pointer-moved").click()
    expect(page.locator(".told")).to_have_text("Moved: now read both contacts again")
    assert page.get_by_role("radio", name="pointer read at TDC").count() == 0
    at(page, job, "maximum")
    expect(page.locator(".figure .refused").first).to_contain_text("no figure to set by: the pointer was moved")
    assert page.locator(".target").count() == 0


def test_who_sees_a_gate_again_meets_its_dangers_whole(phone: Page, demonstration_site: Host) -> None:
    """After a reload, and by another hand, with every line ticked already."""
    job = begun(phone, demonstration_site)
    through_the_gates(phone, job)
    for step in ("before-cranking", "before-plugs"):
        at(phone, job, step)
        some(phone, job, ("engine", {"by": f"not {step}"}))
        cautions = [frozen_book().cautions[name] for name in frozen_book().job(FAMILY).by_id[step].cautions]
        expect(phone.locator(".step-cautions p")).to_have_count(len(cautions))
        for caution in cautions:
            whole = " ".join(caution["text"].split())
            expect(phone.locator(".step-cautions p").filter(has_text=whole)).to_be_visible()


def test_no_step_beyond_an_open_gate_and_no_pointer_far_out(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    at(page, job, "compression")
    expect(page.get_by_role("alert").last).to_contain_text(
        "tick every line of “before cranking” first; 7 of 7 still to tick"
    )
    assert page.locator(".do, #store, #done").count() == 0
    through_the_gates(page, job)
    meets(page)
    expect(page.locator(".do")).to_contain_text("Hold the throttle wide open")
    at(page, job, "before-cranking")
    page.get_by_role("checkbox", name="fuel shut off").uncheck()
    expect(page.locator("#done")).to_have_text("Tick every line first")
    at(page, job, "compression")
    expect(page.get_by_role("alert").last).to_contain_text("1 of 7 still to tick")
    through_the_gates(page, job)
    at(page, job, "pointer")
    keyed(page, "3.5")
    page.locator("#store").click()
    expect(page.locator(".refused").last).to_have_text("The pointer shows: choose before TDC or after TDC for 3.5")
    page.get_by_role("radio", name="before TDC").click()
    page.locator("#store").click()
    expect(page.get_by_role("alert").last).to_contain_text("beyond 3 degrees stop, and look at the flywheel key")
    at(page, job, "maximum")
    expect(page.get_by_role("alert").last).to_contain_text("beyond 3 degrees stop")
    at(page, job, "dead-centre")
    expect(page.locator("#done")).to_have_text("The job stops here")
    page.locator("#centre-back").click()
    expect(page.locator("#done")).to_have_text("Note the dead-centre reading first")


OVERRIDES = [
    ("override", {"figure": figure, "danger": f"{figure}: not read", "text": "as the owner left it"})
    for figure in ("max-advance", "carburettor-synchronisation")
]
BAD = [
    ("maximum", "", "it is empty: type degrees, such as 22.5"),
    ("maximum", "2-3", "'2-3' is not a plain number"),
    ("maximum", "95", "95 degrees cannot be right"),
    ("maximum", "tdc", "tap nut slack or nut tight for tdc"),
    ("idle", "750", "choose the gear too: without it the reading cannot be compared"),
    ("trigger", "abc", "'abc' is not a plain number; write plain digits"),
    ("idle-stop", "", "write what you see, in your own words"),
]


def test_bad_input_says_what_to_type_and_loses_nothing(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    some(page, job, *OVERRIDES)
    for step, text, words in BAD:
        at(page, job, step)
        page.locator("#reading").fill(text)
        page.locator("#store").click()
        expect(page.locator(".take .refused").first).to_contain_text(words)
        expect(page.locator("#reading")).to_have_value(text)
        expect(page.locator("#reading")).to_be_focused()
    page.locator("#reading").fill("<b>arrow</b> in line")
    page.keyboard.press("Enter")
    expect(page.locator(".noted")).to_contain_text("<b>arrow</b> in line")
    page.locator("#readings > summary").click()
    page.locator(".noted summary").click()
    page.get_by_role("button", name="Replace").click()
    page.locator("#reading").fill("two marks apart")
    page.locator("#store").click()
    expect(page.locator(".noted li")).to_have_count(1)
    expect(page.locator(".noted")).to_contain_text("two marks apart")
    for left in (1, 0):
        page.locator(".noted summary").click()
        page.get_by_role("button", name="Take back").click()
        expect(page.locator(".noted li", has_text="<b>arrow</b> in line")).to_have_count(left)
    expect(page.locator(".noted")).to_have_count(0)


def test_a_piston_depth_is_judged_through_the_crank_and_a_slip_of_the_unit_is_asked_about(
    phone: Page, demonstration_site: Host
) -> None:
    page = phone
    job = begun(page, demonstration_site, "ostmere/dunlin-6-7", "")
    through_the_gates(page, job, "ostmere/dunlin-6-7")
    some(page, job, ("dead-centre", {"reads": "2"}), ("pointer", {"answer": "stays"}))
    at(page, job, "maximum")
    expect(page.locator(".printed").first).to_contain_text("3.20 mm of piston travel BTDC")
    unfolds(page, "Another way to read")
    page.get_by_role("radio", name="mm below the top").click()
    noted(page, "3.20", "3.20 mm of piston travel BTDC: inside", "before", "tight")
    noted(page, "3.60", "past the book's", "before", "tight")
    keyed(page, "3.2")
    page.get_by_role("radio", name="before TDC").click()
    page.get_by_role("radio", name="nut slack").click()
    page.locator("#store").click()
    expect(page.locator(".take .refused").first).to_contain_text("with the nut slack nothing counts as left")
    assert page.locator(".screw").count() == 0, "the coach goes by the light"
    at(page, job, "compression")
    noted(page, "118", "noted; far from at least 5.6 kgf/cm²: is kgf/cm² what you read?")
    page.get_by_role("radio", name="psi").click()
    noted(page, "118", "118 psi: inside at least 5.6 kgf/cm²")


def test_readings_that_contradict_are_refused_and_taken_back(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    turns = (("0", "28"), ("1/2", "29"))
    some(page, job, *(("turn", {"figure": "max-advance", "turns": one, "reads": reads}) for one, reads in turns))
    at(page, job, "maximum")
    expect(page.locator(".coach .refused")).to_contain_text("the reading moves against what the screw is known to do")
    page.get_by_role("radio", name="nut slack").click()
    unfolds(page, "Turned since the last reading")
    page.locator("#turned").fill("half way")
    keyed(page, "26")
    page.get_by_role("radio", name="before TDC").click()
    page.locator("#store").click()
    expect(page.locator(".take .refused").first).to_contain_text(
        "'half way' is not a number of turns: type for example 1/2"
    )
    page.locator("#readings > summary").click()
    page.locator("#coach-back").click()
    expect(page.locator(".coach .answer")).to_contain_text("1/2 turn in")
    page.locator("#coach-forget").click()
    expect(page.locator(".coach")).to_have_count(0)


def test_ten_seconds_and_two_minutes_by_the_clock(context: BrowserContext, demonstration_site: Host) -> None:
    for page in watched(context):
        page.clock.install()
        job = begun(page, demonstration_site)
        through_the_gates(page, job)
        at(page, job, "compression")
        starter, count, told = page.locator("#starter"), page.locator(".count"), page.locator(".told")
        page.clock.pause_at(page.evaluate("Date.now()") + 60_000)  # from here only the test moves it
        starter.click()
        page.clock.run_for(4000)
        expect(count).to_have_text("6")
        page.clock.run_for(6200)
        expect(page.locator(".starter-words")).to_contain_text("STOP")
        expect(told).to_have_text("Stop. The starter rests for two minutes")
        starter.press("Enter")
        expect(page.locator(".starter .refused")).to_contain_text("let it rest 2:00 minutes more")
        page.reload()
        page.locator("#met").click()
        starter.wait_for()  # the store has answered; moved before, the clock would run out on it
        page.clock.run_for(60_000)
        expect(count).to_have_text("1:00")
        at(page, job, "cranking-speed")
        starter.press("Enter")
        expect(page.locator(".starter .refused")).to_contain_text("Do not crank")
        page.clock.run_for(61_000)
        expect(told).to_have_text("The starter has rested")
        starter.click()
        expect(count).to_have_text("10")
        page.clock.run_for(3000)
        starter.click()
        expect(page.locator(".starter-words")).to_contain_text("STOP")
        at(page, job, "plates-shut")
        assert starter.count() == 0, "nothing is cranked there"


def test_a_page_opened_anew_and_a_second_window_know_all(
    phone: Page, context: BrowserContext, demonstration_site: Host
) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    at(page, job, "maximum")
    keyed(page, "2")
    other = context.new_page()
    other.goto(job)
    other.wait_for_url(job)
    expect(other.locator("#job-title")).to_have_text("Maximum")
    meets(other)
    noted(other, "28", "early", "before", "tight")
    expect(page.locator(".noted")).to_contain_text("28° BTDC")
    expect(page.locator("#reading")).to_have_value("2")
    again(page)
    expect(page.locator(".noted")).to_contain_text("28° BTDC")
    other.goto(f"{demonstration_site.address}job/#")
    other.get_by_role("button", name="Remove the job").click()
    other.get_by_role("button", name="No, keep it").click()
    expect(other.locator(".jobs li")).to_have_count(1)
    other.get_by_role("button", name="Remove the job").click()
    other.get_by_role("button", name="Yes, remove it").click()
    expect(other.get_by_text("No job on this phone yet.")).to_be_visible()
    page.wait_for_url(f"{demonstration_site.address}job/#")


def test_half_typed_digits_survive_a_reload(phone: Page, context: BrowserContext, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    at(page, job, "maximum")
    box, before = page.locator("#reading"), page.get_by_role("radio", name="before TDC")
    keyed(page, "2.5")
    before.click()
    page.locator("#notes summary").click()
    page.locator("#note").fill("cracked lead")
    again(page)
    expect(box).to_have_value("2.5")
    expect(before).to_be_checked()
    expect(page.locator("#note")).to_have_value("cracked lead")
    other = context.new_page()
    at(other, job, "maximum")
    expect(other.locator("#reading")).to_have_value("")
    page.get_by_role("radio", name="nut tight").click()
    page.locator("#store").click()
    expect(page.locator(".noted")).to_contain_text("2.5° BTDC")
    again(page)
    expect(box).to_have_value("")
    assert page.locator("[name=reading-side]:checked, [name=nut]:checked").count() == 0
    page.evaluate("for (const name of Object.keys(sessionStorage)) sessionStorage.setItem(name, '{\"broken')")
    again(page)
    expect(page.locator("#note")).to_have_value("")


LOCKS = """
globalThis.locks = [];
globalThis.refuses = false;
const lock = () => ({ released: false, async release() { this.released = true; } });
const request = async (kind) => {
  if (refuses || kind !== "screen") throw new DOMException("low battery", "NotAllowedError");
  locks.push(lock());
  return locks.at(-1);
};
Object.defineProperty(Navigator.prototype, "wakeLock", { value: { request }, configurable: true });
Object.defineProperty(Document.prototype, "hidden", { get: () => globalThis.away ?? false, configurable: true });
globalThis.look = (away) => {
  globalThis.away = away;
  if (away) for (const one of locks) one.released = true;  // as a browser does
  document.dispatchEvent(new Event("visibilitychange"));
};
globalThis.held = () => locks.filter(({ released }) => !released).length;
"""


def test_the_screen_stays_on_while_a_job_is_in_sight(phone: Page, demonstration_site: Host) -> None:
    page = phone
    page.add_init_script(LOCKS)
    job = begun(page, demonstration_site)
    page.wait_for_function("held() === 1")
    goes_on(page, f"{job}/make-ready")
    meets(page)
    assert page.evaluate("locks.length") == 1, "one is enough"
    page.evaluate("look(true)")
    assert page.evaluate("held()") == 0
    page.evaluate("look(false)")
    page.wait_for_function("held() === 1")
    page.evaluate("refuses = true; look(true); look(false)")
    goes_on(page, f"{job}/starter-battery")
    assert page.evaluate("held()") == 0
    page.evaluate("refuses = false; look(true); look(false)")
    page.wait_for_function("held() === 1")
    page.goto(f"{demonstration_site.address}job/#")
    page.wait_for_function("held() === 0")
    page.evaluate("look(true); look(false)")
    assert page.evaluate("held()") == 0, "the list of jobs may go dark"


def test_a_phone_that_cannot_keep_its_screen_on_works_as_ever(phone: Page, demonstration_site: Host) -> None:
    phone.add_init_script("delete Navigator.prototype.wakeLock")
    job = begun(phone, demonstration_site)
    phone.locator("#done").click()
    phone.wait_for_url(f"{job}/make-ready")


def test_a_storage_that_is_refused_is_said_and_nothing_is_lost(phone: Page, demonstration_site: Host) -> None:
    page = phone
    page.add_init_script(
        "const no = () => { throw new DOMException('no', 'SecurityError'); };"
        "Object.defineProperty(globalThis, 'indexedDB', { get: no });"
        "Object.defineProperty(globalThis, 'localStorage', { get: no });"
        "Object.defineProperty(globalThis, 'sessionStorage', { get: no });"
    )
    job = begun(page, demonstration_site)
    expect(page.get_by_role("alert").first).to_contain_text("This browser does not let the site store jobs")
    page.locator("#done").click()
    page.wait_for_url(f"{job}/make-ready")
    page.get_by_role("link", name="Steps").click()
    expect(page.locator(".all-steps .done")).to_have_count(1)


def test_a_job_goes_to_another_phone_and_comes_back(phone: Page, chromium: Browser, demonstration_site: Host) -> None:
    job = begun(phone, demonstration_site)
    through_the_gates(phone, job)
    some(phone, job, ("note", {"step": "plugs", "text": "number two oily"}))
    at(phone, job, "end")
    phone.locator("#anyway").click()
    with phone.expect_download() as downloaded:
        phone.locator("#export-download").click()
    file = downloaded.value.path()
    other = chromium.new_context(service_workers="block")
    page = other.new_page()
    page.goto(f"{demonstration_site.address}job/")
    page.locator("#import").set_input_files({"name": "x.json", "mimeType": "application/json", "buffer": b"{}"})
    expect(page.locator(".refused").last).to_contain_text("Not imported: this is not a job")
    for words in ("Imported: ", "Nothing new"):
        page.locator("#import").set_input_files(file)
        expect(page.locator(".told")).to_contain_text(words)
    page.get_by_role("link", name="Skerrow Ketch 47").click()
    page.locator("#met").wait_for()
    at(page, job, "plugs")
    expect(page.locator("#notes")).to_contain_text("number two oily")
    other.close()


def test_a_job_without_the_network(chromium: Browser, demonstration_files: Mapping[str, bytes]) -> None:
    context = chromium.new_context()
    page = context.new_page()
    with served(demonstration_files) as host:
        page.goto(host.address)
        expect(page.locator("#copy-state")).to_have_text(KEPT)
        host.mode, host.tools = "stopped", ("assets/job/",)
        job = begun(page, host)
        through_the_gates(page, job)
        at(page, job, "maximum")
        expect(page.locator(".target").first).to_have_text("23° BTDC")
        noted(page, "23", "on target", "before", "tight")
        at(page, job, "end")
        page.locator("#anyway").click()
        page.locator("#tag-show").click()
        expect(page.locator(".tag")).to_be_visible()
    context.close()


def test_the_job_of_the_pictures_has_come_to_its_step(phone: Page, demonstration_site: Host) -> None:
    phone.goto(f"{demonstration_site.address}job/")
    job = phone.evaluate(JOB)
    at(phone, f"{demonstration_site.address}job/#{job}", "pickup")
    expect(phone.locator(".target").first).to_have_text("3° ATDC")


def test_without_scripts_the_commands_are_named(chromium: Browser, demonstration_site: Host) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{demonstration_site.address}job/")
    expect(page.locator("main")).to_contain_text("needs scripts switched on")
    expect(page.locator("main")).to_contain_text("stopscrew sheet skerrow/ketch-47")
    context.close()


REFUSED = [
    ("#new=skerrow/no-such", "this site has no such family"),
    ("#new=../../etc", "the address names no family"),
    ("#00000000-0000-4000-8000-000000000000/maximum", "this job is not on this phone"),
    ("#new=", "names no family"),
    ("#%E0%A4%A", "this job is not on this phone"),
]


def test_an_address_that_leads_nowhere_says_so(phone: Page, demonstration_site: Host) -> None:
    for address, words in REFUSED:
        phone.goto(f"{demonstration_site.address}job/{address}")
        expect(phone.get_by_role("alert").last).to_contain_text(words)
    phone.goto(f"{demonstration_site.address}job/#new=skerrow/yawl-23")
    phone.get_by_label("Serial number").fill("999999")
    phone.get_by_label("Your initials, for the report").fill("mk")
    phone.get_by_role("button", name="Begin the job").click()
    expect(phone.get_by_role("alert").last).to_contain_text(
        "no range of skerrow/yawl-23 holds the serial number 999999"
    )


def test_a_job_on_a_twin_asks_which_engine_it_is_and_again_where_the_plate_does_not_fit(
    phone: Page, demonstration_site: Host
) -> None:
    phone.goto(f"{demonstration_site.address}job/#new=pellwater/ponente-37")
    expect(phone.locator("#job-title")).to_contain_text("1974 to 1977, serials PN11000 to PN18640")
    phone.get_by_label("Serial number").fill("PS12000")
    phone.get_by_label("Your initials, for the report").fill("mk")
    phone.get_by_role("button", name="Begin the job").click()
    expect(phone.locator("#job-title")).to_have_text("Which engine")
    expect(phone.locator("#take-which")).to_have_count(0)
    this, take = phone.locator("label:has(#which-this)"), phone.locator("#take-which")
    this.click()
    take.click()
    expect(phone.get_by_role("alert").last).to_contain_text("that is the Ponente 37 of 1978 to 1984")
    expect(take).to_have_count(0)
    phone.locator("label.choice", has_text="PS before the serial number").click()
    expect(phone.get_by_role("link", name="Begin a job for that engine")).to_be_visible()
    this.click()
    expect(take).to_have_text("The stamp says so: the plate is another engine's")
    take.click()
    phone.locator("#met").wait_for()
    expect(phone.locator("p.engine").first).to_contain_text("serial not given")


SPOKEN: list[tuple[str, Found | None]] = [
    ("twenty two before", {"text": "22", "side": "btdc"}),
    ("It reads 22 1/2 ATDC.", {"text": "22.5", "side": "atdc"}),
    ("twenty-two point five before top dead centre", {"text": "22.5", "side": "btdc"}),
    ("22,5 before", {"text": "22.5", "side": "btdc"}),
    ("four and a quarter degrees after", {"text": "4.25", "side": "atdc"}),
    ("top dead centre", {"text": "0", "side": ""}),
    ("twenty two", {"text": "22", "side": ""}),
    ("twenty two before after", None),
    ("five or six before", None),
    ("one hundred before", None),
    ("twenty two late", None),
    ("twenty twenty before", None),
    ("minus two", None),
    ("", None),
]
TURNED: list[tuple[str, str | None]] = [
    ("minus a quarter", "-1/4"),
    ("a quarter out", "-1/4"),
    ("one and a half in", "1 1/2"),
    ("half a turn in", "1/2"),
    ("one turn and a half out", "-1 1/2"),
    ("three quarters of a turn in", "3/4"),
    ("a turn in", "1"),
    ("two out", "-2"),
    ("not at all", "0"),
    ("no turn", "0"),
    ("a quarter", None),
    ("in and out a half", None),
    ("clockwise a half", None),
    ("thirty in", None),
    ("1 1/2 turns out", "-1 1/2"),
    ("", None),
]


def test_what_is_said_is_heard_for_certain_or_not_at_all(phone: Page, demonstration_site: Host) -> None:
    phone.goto(f"{demonstration_site.address}job/")

    def ask(call: str) -> str:
        voice = "const voice = await import(new URL('../assets/job/reading/spoken-reading.js', location.href).href);"
        return f"async (said) => {{ {voice} return said.map((words) => {call}); }}"

    heard = phone.evaluate(ask("voice.spokenReading(words)"), [words for words, _ in SPOKEN])
    assert heard == [wanted for _, wanted in SPOKEN]
    turned = phone.evaluate(
        ask("{ const turns = voice.spokenTurns(words); return turns && voice.turnsText(turns); }"),
        [words for words, _ in TURNED],
    )
    assert turned == [wanted for _, wanted in TURNED]


def test_an_early_maximum_keeps_the_gate_shut_until_an_override_stands_first(
    phone: Page, demonstration_site: Host
) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    early = {"step": "maximum", "figure": "max-advance", "when": "left", "value": {"btdc": "26"}, "state": "cranking"}
    some(page, job, ("dead-centre", {"reads": "0"}), ("pointer", {"answer": "stays"}), ("reading", early))
    at(page, job, "maximum")
    expect(page.locator("#done")).to_have_text("Set it again first: see what it reads")
    at(page, job, "plugs-in")
    danger = "maximum spark advance: 26° BTDC cranking, early, 2° past the book's 24, 3° from your 23"
    expect(page.locator(".held")).to_contain_text(danger)
    at(page, job, "before-plugs")
    expect(page.locator("#done")).to_have_text("A figure keeps this shut: see above")
    assert page.get_by_role("link", name="Skip").count() == 0
    page.get_by_text("Go on all the same").click()
    page.locator("#keep-override").click()
    expect(page.locator(".told")).to_have_text("Say in words why it is left so")
    page.get_by_label("Why it is left so").fill("a race tomorrow")
    page.locator("#keep-override").click()
    expect(page.locator("#done")).to_have_text("Done")
    words = f"{danger}; left so: a race tomorrow"
    at(page, job, "end")
    page.locator("#anyway").click()
    expect(page.locator(".first-lines li").first).to_have_text(f"override: {words}")
    page.locator("#tag-show").click()
    expect(page.locator(".tag p").first).to_have_text(f"override: {words}")
    page.locator("#sheet-show").click()
    expect(page.locator(".sheet-worst").first).to_have_text(f"override: {words}")
    page.goto(f"{demonstration_site.address}job/#")
    expect(page.locator(".jobs .override").first).to_contain_text(words)


def test_what_was_chosen_on_the_family_page_stands_in_the_job(chromium: Browser, demonstration_site: Host) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    for page in watched(context):
        page.goto(f"{demonstration_site.address}families/{FAMILY}/#serial=361204&margin=1&state=running")
        page.locator(".engine button").first.click()
        page.locator(".choose [name=margin]").select_option("1.5")
        page.get_by_role("link", name="Work through the job").click()
        expect(page.get_by_label("Serial number")).to_have_value("361204")
        expect(page.get_by_role("radio", name="1.5° late")).to_be_checked()
        expect(page.get_by_role("radio", name="running, in the water")).to_have_count(0)  # no one chooses the state
        assert "361204" not in page.url
    context.close()


def test_a_margin_chosen_later_moves_the_target(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    at(page, job, "engine")
    page.get_by_role("radio", name="2° late", exact=True).click()
    page.get_by_label("Year").fill("79")
    page.get_by_role("button", name="Save").click()
    expect(page.locator(".take .refused")).to_contain_text("'79' is not a year: type four digits, such as 1979")
    page.get_by_label("Year").fill("1979")
    page.get_by_role("button", name="Save").click()
    page.wait_for_url(f"{job}/steps")
    at(page, job, "maximum")
    expect(page.locator(".target").first).to_have_text("22° BTDC")
    expect(page.locator(".how-list").first).to_contain_text("2° kept to the late side, by your choice")


HEARD = """
globalThis.SpeechRecognition = class {
  start() {
    const words = globalThis.heard.shift();
    setTimeout(() => {
      if (words) this.onresult({ results: [[{ transcript: words }]] });
      else this.onerror({ error: "no-speech" });
      this.onend();
    });
  }
};
globalThis.said = [];
Object.defineProperty(globalThis, "speechSynthesis", { value: { cancel() {}, speak: ({ text }) => said.push(text) } });
globalThis.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
"""


def test_by_ear_and_aloud(phone: Page, demonstration_site: Host) -> None:
    page = phone
    page.add_init_script(HEARD)
    job = begun(page, demonstration_site)
    through_the_gates(page, job)
    at(page, job, "maximum")
    page.evaluate(
        "globalThis.heard = ['hello', 'twenty eight before', '', 'nut slack, a quarter in', 'twenty seven before']"
    )
    listen, box = page.locator("#listen"), page.locator("#reading")
    unfolds(page, "Another way to read")
    listen.click()
    expect(page.locator(".take .refused").first).to_contain_text("heard “hello”: say the degrees and before or after")
    listen.click()
    expect(box).to_have_value("28")
    assert page.evaluate("said") == [], "off until it is wanted"
    listen.click()
    expect(listen).to_contain_text("not heard: no-speech; type it")
    page.locator("#store").click()
    expect(page.locator(".take .refused").first).to_have_text("tap nut slack or nut tight for 28")
    page.get_by_role("radio", name="nut tight").click()
    page.locator("#store").click()
    expect(page.locator(".told")).to_contain_text("early, 4° past the book's 24")
    listen.click()
    expect(page.locator("#turned")).to_have_value("1/4")
    expect(page.get_by_role("radio", name="nut slack")).to_be_checked()
    at(page, job, "steps")
    page.locator("#aloud").click()
    expect(page.locator("#aloud")).to_have_text("Reading aloud: on")
    at(page, job, "maximum")
    unfolds(page, "Another way to read")
    listen.click()
    expect(box).to_have_value("27")
    page.locator("#store").click()
    expect(page.locator(".told")).to_contain_text("the target is 23 before")
    said = page.evaluate("said")
    assert said[0] == "Reading aloud"
    assert "the target is 23 before" in said[-1]
    page.reload()
    at(page, job, "steps")
    expect(page.locator("#aloud")).to_have_text("Reading aloud: on")


def test_a_browser_without_an_ear_has_no_key_for_it(phone: Page, demonstration_site: Host) -> None:
    phone.add_init_script("delete globalThis.SpeechRecognition; delete globalThis.webkitSpeechRecognition;")
    job = begun(phone, demonstration_site)
    through_the_gates(phone, job)
    at(phone, job, "maximum")
    assert phone.locator("#listen").count() == 0


def test_every_screen_fits_and_can_be_hit_and_read_by_day_and_night(phone: Page, demonstration_site: Host) -> None:
    page = phone
    page.emulate_media(reduced_motion="reduce")
    job = begun(page, demonstration_site)
    steps = through_the_gates(page, job)
    reading = {"figure": "max-advance", "value": {"btdc": "28"}, "state": "cranking"}
    some(
        page,
        job,
        *(("done", {"step": step}) for step in steps if step != "record"),
        ("turn", {"figure": "max-advance", "turns": "0", "reads": "28"}),
        *(("reading", {"step": "maximum", "when": when, **reading}) for when in ("found", "left")),
    )
    page.evaluate(AXE.read_text(encoding="utf-8"))
    asked = page.evaluate_handle((SCRIPTS / "page_faults.js").read_text(encoding="utf-8"))
    for step in ("maximum", "before-cranking", "before-plugs", "pointer", "dead-centre", "steps", "end", "engine", ""):
        page.goto(f"{job}/{step}" if step else f"{demonstration_site.address}job/#")
        page.locator(f'#screen[data-route="{f"{job}/{step}".partition("#")[2] if step else ""}"]').wait_for()
        meets(page)
        if page.locator("#anyway").count():
            page.locator("#anyway").click()
            page.locator(".found-left").first.wait_for()
        for width, height in ((1280, 800), (320, 568), (390, 844)):
            page.set_viewport_size({"width": width, "height": height})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (step, width)
            assert asked.evaluate("(asked) => asked.smallTargets()") == [], (step, width)
        for scheme, rules in SCHEMES:
            page.emulate_media(color_scheme=scheme)
            found = page.evaluate(f"axe.run(document, {rules})")["violations"]
            assert [(one["id"], [node["html"] for node in one["nodes"]]) for one in found] == [], (step, scheme)


def test_a_late_maximum_is_asked_about_before_anything_is_made_earlier(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site, margin="")
    through_the_gates(page, job)
    speed = {"step": "", "figure": "cranking-speed", "when": "found", "value": {"rpm": "310"}, "state": "cranking"}
    some(page, job, ("dead-centre", {"reads": "0"}), ("pointer", {"answer": "stays"}), ("reading", speed))
    at(page, job, "maximum")
    expect(page.locator(".target").first).to_have_text("23° BTDC")  # one degree is kept where nobody chose otherwise
    noted(page, "20", "4° late of the book's 24, 3° from your 23, still on the safe side", "before", "tight")
    verdict = page.locator(".noted .verdict").first
    expect(verdict).to_have_class(re.compile("safe"))
    expect(verdict.locator(".sign")).to_have_text("▶")
    expect(page.locator(".coach .answer")).to_have_text(
        "First see that it is not a false late reading: 6 of 6 to answer below"
    )
    assert page.locator(".cause input:checked").count() == 0, "nothing is chosen beforehand"
    assert page.get_by_text("make it earlier").count() == 0
    expect(page.locator(".cause").nth(4)).to_contain_text("cranking speed: 310 rpm")
    for cause in ("lever", "clip", "dial", "supply", "speed"):
        page.locator(f"#cause-{cause}-so").check()
    page.locator("#cause-mark-not").check()
    expect(page.locator(".coach .answer")).to_contain_text("Find the marks before top dead centre")
    again(page)
    expect(page.locator("#cause-mark-not")).to_be_checked()
    expect(page.locator("#cause-dial-so")).to_be_checked()
    page.locator("#cause-mark-so").check()
    expect(page.locator(".coach .answer")).to_contain_text("Read it anew")
    noted(page, "21", "nothing is made earlier on one reading", "before", "slack")
    noted(page, "21", "1/2 turn in", "before", "slack")
    noted(page, "19.5", "nothing is made earlier on one reading", "before", "slack")
    noted(page, "19.5", "turn the upper stop screw on the spark lever 1/2 turn out", "before", "slack")


def test_what_no_screw_mends_is_put_right_and_read_anew(phone: Page, demonstration_site: Host) -> None:
    page = phone
    job = begun(page, demonstration_site, margin="")
    through_the_gates(page, job)
    some(page, job, ("dead-centre", {"reads": "0"}), ("pointer", {"answer": "stays"}))
    at(page, job, "maximum")
    for _ in range(2):
        noted(page, "17", "more than 5° late is a fault to find, not a screw to turn", "before", "slack")
        assert page.get_by_text(re.compile("turns? (in|out)")).count() == 0
    page.get_by_role("button", name="It is put right: read anew").click()
    expect(page.locator("#coach-anew")).to_have_count(0)
    for cause in ("lever", "clip", "dial", "supply", "speed", "mark"):
        some(page, job, ("false-late", {"cause": cause, "ruled_out": True}))
    at(page, job, "maximum")
    noted(page, "21", "nothing is made earlier on one reading", "before", "slack")
    noted(page, "21", "1/2 turn in", "before", "slack")
