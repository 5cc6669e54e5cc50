"""The finding box and what a phone keeps, in a real browser: the host there, stopped, hung, half sent; storage full."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from kb.publish.site.offline.phone_copy import NO_DRAWING
from tests.support.served import Host, served
from tests.support.small_site import small_site

RENEWED = """async (hash) => {
  const worker = await navigator.serviceWorker.getRegistration(), names = await caches.keys();
  const copies = names.filter((name) => name.startsWith("copy-"));
  const isNew = copies.length === 1 && copies[0] === `copy-${hash}`;
  return isNew && worker.active.state === "activated" && !worker.installing;
}"""
SEEN = """() => caches.match(new URL("withdrawn.json", location.href), { cacheName: "seen" })
  .then((answer) => answer?.text()).then((text) => text?.includes("ketch-47"))"""
KEPT = re.compile(r"All \d+ families are on this phone")


@pytest.fixture
def host() -> Iterator[Host]:
    with served(small_site()) as running:
        yield running


@pytest.fixture
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    yield context
    context.close()


def opened(phone: BrowserContext, host: Host, path: str = "") -> Page:
    page = phone.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(host.address + path)
    assert faults == []
    return page


def with_copy(phone: BrowserContext, host: Host) -> Page:
    """The start page once the copy is whole."""
    page = opened(phone, host)
    expect(page.locator("#copy-state")).to_have_text(KEPT)
    return page


def until(page: Page, holds: str, given: str = "") -> None:
    """Wait until what a script answers later on holds: the page's own waiting takes a promise for an answer."""
    page.evaluate(
        f"""async (given) => {{
          const holds = {holds};
          for (let tries = 0; !(await holds(given)); tries++) {{
            if (tries > 1000) throw new Error("it does not hold");
            await new Promise((done) => setTimeout(done, 50));
          }}
        }}""",
        given,
    )


def hash_of(host: Host) -> str:
    """What a phone keeps of what the host has now is known by this."""
    told: str = json.loads(host.files["version.json"])["hash"]
    return told


def test_five_letters_find_a_family_and_a_tap_opens_it(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    page.get_by_label("Find your engine").fill("kecth")
    rows = page.locator(".finding-rows a")
    expect(rows).to_have_count(2)
    expect(page.get_by_role("status")).to_have_text("2 found")
    boxes = [rows.nth(at).bounding_box() for at in range(2)]
    assert all(box and box["height"] >= 48 for box in boxes)
    rows.first.click()
    expect(page.locator("h1")).to_have_text("Ketch 47")


def test_what_was_left_out_and_nothing_are_said(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    box, said = page.get_by_label("Find your engine"), page.get_by_role("status")
    box.fill("skerrow yawl manual")
    expect(said).to_have_text("Nothing has all of these words; tried without “manual”: 1 found")
    box.fill("xyzzy qwrtz")
    expect(said).to_have_text("Nothing found. Try fewer words, or the maker and the power.")
    box.fill("")
    expect(said).to_have_text("")
    expect(page.locator(".finding-rows li")).to_have_count(0)


def test_choices_narrow_with_counts(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    page.get_by_text("Or narrow by choice").click()
    maker, cylinders = page.get_by_label("Maker", exact=True), page.get_by_label("Cylinders")
    expect(maker.locator("option", has_text="Skerrow (7)")).to_have_count(1)
    maker.select_option("skerrow")
    expect(page.locator(".finding-rows li")).to_have_count(7)
    cylinders.select_option("3")
    expect(maker.locator("option:checked")).to_have_text(re.compile(r"Skerrow \([1-6]\)"))
    page.get_by_label("Years").select_option("1970")
    count = page.locator(".finding-rows li").count()
    expect(page.get_by_role("status")).to_have_text(f"{count} found")


def test_keys_alone_are_enough(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    page.get_by_label("Find your engine").focus()
    page.keyboard.type("skerrow")
    expect(page.locator(".finding-rows a")).not_to_have_count(0)
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    expect(page.locator(".finding-rows a").first).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.get_by_label("Find your engine")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator(".finding-rows a").first).to_be_focused()


def test_every_page_finds_another_engine(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host, "families/skerrow/yawl-23/")
    assert "finding/index.bin" not in host.asked[:4]
    expect(page.locator("#copy-state")).to_have_text(KEPT)
    page.get_by_text("Find another engine").click()
    expect(page.get_by_label("Find your engine")).to_be_focused()
    page.keyboard.type("kecth")
    page.locator(".finding-rows a").first.click()
    expect(page.locator("h1")).to_have_text("Ketch 47")


@pytest.fixture
def low(chromium: Browser) -> Iterator[Page]:
    """As much of a phone as its keyboard leaves."""
    context = chromium.new_context(viewport={"width": 390, "height": 480}, service_workers="block")
    yield context.new_page()
    context.close()


KINDS = [
    "families/skerrow/yawl-23/",
    "families/skerrow/",
    "bench/",
    "bench/rim/",
    "job/",
    "read/what/",
    "coverage/",
    "figures/max-advance/",
    "rules/tag/",
]


@pytest.mark.parametrize("path", KINDS)
def test_on_every_kind_of_page_what_is_found_is_in_sight(low: Page, demonstration_site: Host, path: str) -> None:
    low.goto(demonstration_site.address + path)
    low.get_by_text("Find another engine").click()
    box = low.locator("#find-again-box")
    expect(box).to_be_focused()
    box.press_sequentially("kecth")
    row = low.locator(".finding-rows a").first
    expect(row).to_contain_text("Skerrow Ketch 47")
    expect(row).to_be_in_viewport(ratio=1)
    size = box.bounding_box()
    assert size
    assert size["width"] > 340
    low.keyboard.press("Enter")
    low.keyboard.press("Enter")
    expect(low.locator("h1")).to_contain_text("Ketch 47")


def test_coming_back_what_was_looked_for_stands_there_again(low: Page, demonstration_site: Host) -> None:
    low.goto(demonstration_site.address)
    low.get_by_label("Find your engine").fill("19")
    low.get_by_text("Or narrow by choice").click()
    low.get_by_label("Maker", exact=True).select_option("skerrow")
    rows = low.locator(".finding-rows a")
    expect(rows).not_to_have_count(0)
    before = rows.all_inner_texts()
    rows.first.click()
    expect(low.locator("h1")).to_contain_text("Skerrow")
    low.go_back()
    expect(rows).to_have_count(len(before))
    assert rows.all_inner_texts() == before
    expect(low.get_by_label("Find your engine")).to_have_value("19")
    expect(low.get_by_label("Maker", exact=True)).to_have_value("skerrow")
    low.wait_for_url(demonstration_site.address)


def test_choices_stay_where_they_are_while_rows_come_and_go(low: Page, demonstration_site: Host) -> None:
    low.goto(demonstration_site.address)
    low.get_by_text("Or narrow by choice").click()
    years = low.get_by_label("Years")
    expect(years.locator("option")).not_to_have_count(1)
    before = years.bounding_box()
    low.get_by_label("Maker", exact=True).select_option("skerrow")
    expect(low.locator(".finding-rows li")).to_have_count(7)
    assert years.bounding_box() == before


@pytest.mark.parametrize("width", [320, 390, 1280])
def test_nothing_runs_out_of_the_page(phone: BrowserContext, host: Host, width: int) -> None:
    page = opened(phone, host)
    page.set_viewport_size({"width": width, "height": 844})
    page.get_by_label("Find your engine").fill("hollin drake")
    expect(page.locator(".finding-rows a")).not_to_have_count(0)
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_without_scripts_the_list_is_there(chromium: Browser, host: Host) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(host.address)
    page.get_by_role("link", name="Yawl 23").click()
    expect(page.locator("h1")).to_have_text("Yawl 23")
    context.close()


@pytest.mark.parametrize("mode", ["stopped", "hung"])
def test_a_page_never_visited_opens_without_the_network(phone: BrowserContext, host: Host, mode: str) -> None:
    """How soon is measured by the benchmarks; a host that hangs never answers, so that nobody waits for it here."""
    page = with_copy(phone, host)
    there = host.files["families/pellwater/levanter-19/index.html"].decode()
    host.mode = mode
    answer = page.goto(f"{host.address}families/pellwater/levanter-19/", wait_until="commit")
    assert answer is not None
    assert answer.text() == there, "the worker draws what the server has"
    age = re.compile("From the copy on this phone, data of 2026-11-01, .* old")
    expect(page.locator("#copy-state")).to_have_text(age)
    drawing = page.evaluate("fetch('rim.svg').then(async (it) => [it.headers.get('content-type'), await it.text()])")
    assert drawing == ["image/svg+xml", NO_DRAWING], "no broken picture, but one that says why"
    page.goto(host.address)
    page.get_by_label("Find your engine").fill("kecth")
    expect(page.locator(".finding-rows a")).to_have_count(2)
    page.goto(f"{host.address}read/what-it-is/")
    expect(page.locator("h1")).to_have_text("Not in this copy")
    page.get_by_role("link", name="Find a family").click()
    expect(page.locator("h1")).to_have_text("Stopscrew")


def test_a_newer_one_reaches_the_phone_and_the_old_one_says_its_age(phone: BrowserContext, host: Host) -> None:
    page = with_copy(phone, host)
    host.files = dict(small_site("2026-11-20"))
    page.reload()
    until(page, RENEWED, hash_of(host))
    host.mode = "stopped"
    page.goto(f"{host.address}families/skerrow/yawl-23/")
    expect(page.locator("#copy-state")).to_have_text(re.compile("data of 2026-11-20"))


def test_an_older_copy_says_so_when_the_newer_one_cannot_be_fetched(phone: BrowserContext, host: Host) -> None:
    page = with_copy(phone, host)
    newer = small_site("2026-11-20")
    host.files["version.json"] = newer["version.json"]
    page.goto(f"{host.address}families/skerrow/yawl-23/")
    said = "^Out of date: the copy on this phone, data of 2026-11-01, .* that of 2026-11-20"
    expect(page.locator("#copy-state")).to_have_text(re.compile(said))


def test_a_withdrawn_figure_is_shown_once_the_phone_has_seen_the_network(phone: BrowserContext, host: Host) -> None:
    page = with_copy(phone, host)
    host.files["withdrawn.json"] = small_site("2026-11-20", "skerrow/ketch-47")["withdrawn.json"]
    page.reload()
    until(page, SEEN)
    host.mode = "stopped"
    page.goto(f"{host.address}families/skerrow/ketch-47/")
    expect(page.locator("#max-advance .withdrawn-since")).to_have_text(
        "Withdrawn since 2026-11-20, do not use: max-advance cranking of a-handbook, page 42. two digits changed places"
    )
    page.goto(f"{host.address}families/skerrow/yawl-23/")
    expect(page.locator(".withdrawn-since")).to_have_count(0)


def test_a_page_drawn_anew_for_a_choice_still_says_it(
    chromium: Browser, demonstration_files: Mapping[str, bytes]
) -> None:
    wrong = small_site("2026-11-20", "skerrow/ketch-47")["withdrawn.json"]
    with served({**demonstration_files, "withdrawn.json": wrong}) as host:
        context = chromium.new_context(service_workers="block")
        page = context.new_page()
        page.goto(f"{host.address}families/skerrow/ketch-47/")
        expect(page.locator(".withdrawn-since")).to_have_count(1)
        expect(page.locator("#copy-state")).not_to_be_empty()
        page.locator(".engine button").first.click()
        page.get_by_label("Margin").select_option("1")
        expect(page.locator(".maximum .how")).to_contain_text("1° kept to the late side")
        expect(page.locator(".withdrawn-since")).to_have_count(1)
        expect(page.locator("#copy-state")).not_to_be_empty()
        expect(page.get_by_text("Find another engine")).to_be_visible()
        context.close()


def test_a_half_finished_download_goes_on(phone: BrowserContext, host: Host) -> None:
    host.mode = "cut"
    page = opened(phone, host)
    expect(page.locator("#copy-state")).to_have_text(re.compile("is not complete"))
    page.get_by_label("Find your engine").fill("kecth")
    expect(page.locator(".finding-rows a")).to_have_count(2)
    host.mode, host.asked = "ok", []
    page.reload()
    expect(page.locator("#copy-state")).to_have_text(KEPT)
    assert "offline/shapes.bin" not in host.asked, "what was whole is not fetched again"
    assert "offline/part-0.bin" in host.asked


def test_storage_full_loses_nothing_and_says_so(phone: BrowserContext, host: Host) -> None:
    page = phone.new_page()
    session = phone.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": host.address.split("/some")[0], "quotaSize": 100})
    page.goto(host.address)
    expect(page.locator("#copy-state")).to_have_text(re.compile("No room on this phone for a copy"))
    page.get_by_label("Find your engine").fill("kecth")
    expect(page.locator(".finding-rows a")).to_have_count(2)


def test_a_browser_that_keeps_nothing_says_so(phone: BrowserContext, host: Host) -> None:
    phone.add_init_script("delete Navigator.prototype.serviceWorker")
    page = opened(phone, host)
    expect(page.locator("#copy-state")).to_have_text(re.compile("This browser cannot store a copy"))
    page.get_by_label("Find your engine").fill("kecth")
    expect(page.locator(".finding-rows a")).to_have_count(2)


def test_two_tabs_keep_working_over_an_update(phone: BrowserContext, host: Host) -> None:
    first = with_copy(phone, host)
    second = opened(phone, host)
    first.get_by_label("Find your engine").fill("ketch")
    host.files = dict(small_site("2026-11-20"))
    second.reload()
    until(second, RENEWED, hash_of(host))
    expect(first.get_by_label("Find your engine")).to_have_value("ketch")
    host.mode = "stopped"
    first.get_by_label("Find your engine").fill("yawl")
    expect(first.locator(".finding-rows a")).to_have_count(1)
    first.locator(".finding-rows a").click()
    expect(first.locator("h1")).to_have_text("Yawl 23")
    second.goto(f"{host.address}families/skerrow/ketch-47/")
    expect(second.locator("h1")).to_have_text("Ketch 47")
