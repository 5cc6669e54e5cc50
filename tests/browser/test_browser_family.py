"""The choices on a family's page in a real browser: they redraw it, stand in the address, are kept, lose nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.support.served import Host, served

FAMILY = "skerrow/ketch-47"
SERIALS = "pellwater/gregale-58"  # its maximum depends on the serial number


@pytest.fixture
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    yield context
    context.close()


def opened(phone: BrowserContext, host: Host, more: str = "", family: str = FAMILY) -> Page:
    """A family's page with its choices open."""
    page = phone.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(f"{host.address}families/{family}/{more}")
    key = page.locator(".engine button").first
    key.wait_for()
    if key.get_attribute("aria-expanded") == "false":
        key.click()
    expect(page.locator("form.choose")).to_be_visible()
    return page


def maximum(page: Page) -> Any:
    return page.locator(".maximum .big strong").first


def choose(page: Page, name: str, value: str) -> None:
    page.locator(f".choose [name={name}]").select_option(value)


def type_serial(page: Page, serial: str) -> None:
    box = page.get_by_label("Serial number", exact=True)
    box.fill(serial)
    box.press("Tab")


def test_a_margin_redraws_the_target_and_stands_in_the_address(
    phone: BrowserContext, demonstration_site: Host, chromium: Browser
) -> None:
    page = opened(phone, demonstration_site)
    before = float(maximum(page).inner_text().removesuffix("°"))
    page.get_by_label("Margin").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(maximum(page)).to_have_text(f"{before - 1:g}°")
    how = page.locator(".maximum .how")
    expect(how).to_contain_text("1° kept to the late side")
    expect(how).to_contain_text("printed 22° BTDC running + correction 2° earlier cranking")
    expect(page.locator("p.chosen")).to_contain_text(f"{before - 1:g}°")
    page.wait_for_url(lambda url: url.endswith("#margin=1"))
    assert page.evaluate("document.activeElement.name") == "margin"
    other = chromium.new_context(service_workers="block")
    shared = other.new_page()
    shared.goto(page.url)
    expect(maximum(shared)).to_have_text(f"{before - 1:g}°")
    other.close()
    again = opened(phone, demonstration_site)
    expect(again.get_by_label("Margin")).to_have_value("1")


def test_a_serial_number_settles_or_is_refused(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site, family=SERIALS)
    expect(page.locator(".maximum .sides li")).to_have_count(2)
    type_serial(page, "GR39000")
    expect(page.locator(".engine .serial")).to_have_text("serial GR39000")
    expect(maximum(page)).to_have_text("21°")
    assert "serial=GR39000" in str(page.locator(".maximum .links a").first.get_attribute("href"))
    type_serial(page, "999999")
    expect(page.get_by_role("alert")).to_contain_text(f"no range of {SERIALS} holds the serial number 999999")
    expect(page.locator(".engine .serial")).to_have_text("serial GR39000")
    expect(page.locator(".choose [name=serial]")).to_have_value("999999")  # what was typed is not lost


def test_each_engine_begins_anew_and_keeps_its_own(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site)
    choose(page, "state", "running")
    expect(page.locator(".engine .state")).to_have_text("set running")
    page.wait_for_url(lambda url: url.endswith("#state=running"))
    type_serial(page, "301455")
    other = opened(phone, demonstration_site, family="skerrow/smack-71")
    expect(other.locator(".engine .state")).to_have_text("set while cranking")
    expect(other.locator(".engine .serial")).to_have_text("serial not given")
    again = opened(phone, demonstration_site)
    expect(again.locator(".choose [name=state]")).to_have_value("")
    expect(again.locator(".engine .serial")).to_have_text("serial 301455")


def test_units_change_what_stands_big_beside_the_printed(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site)
    gap = page.locator("#trigger-gap .big")
    expect(gap).to_have_text("0.030 in 0.76 mm agreed")
    choose(page, "units", "metric")
    expect(gap).to_have_text("0.76 mm printed 0.030 in agreed")
    page.wait_for_url(lambda url: url.endswith("#units=metric"))
    other = opened(phone, demonstration_site, family="ostmere/redshank-27")
    expect(other.locator("#plug-gap .big strong")).to_have_text("0.85")  # units are this phone's, for every family
    choose(other, "units", "inch")
    expect(other.locator("#plug-gap .big")).to_have_text("0.0335 in printed 0.85 mm agreed")


def test_going_back_brings_what_was_chosen(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site)
    choose(page, "state", "running")
    choose(page, "margin", "1.5")
    page.get_by_role("link", name="Work through the job").click()
    page.wait_for_url("**/job/#new=skerrow/ketch-47")
    page.go_back()
    expect(page.locator(".engine .state")).to_have_text("set running")
    expect(page.locator(".maximum .how")).to_contain_text("1.5° kept to the late side")


def test_a_link_to_a_figure_carries_the_choices(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site)
    choose(page, "margin", "1")
    page.locator("#idle-stop summary").click()
    page.locator("#idle-stop a[href*='#']").click()
    page.wait_for_url(lambda url: url.endswith("#margin=1&at=idle-stop"))
    expect(page.locator("#idle-stop")).to_be_in_viewport()
    again = phone.new_page()
    again.goto(page.url)
    expect(again.locator("#idle-stop.pointed")).to_be_in_viewport()
    expect(maximum(again)).to_have_text("23°")
    plain = opened(phone, demonstration_site, "#idle-stop")  # with the margin that this phone keeps
    expect(plain.locator("#idle-stop.pointed")).to_have_count(1)
    expect(maximum(plain)).to_have_text("23°")


STRANGE = ["margin=-1", "state=flying", "serial=", "margin=%3Cb%3E", "max-advance", "units=ells", "at=no", "margin=99"]


def test_a_strange_address_changes_nothing(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site, "#state=flying&margin=0.7")
    plain = page.locator("main .row").all_inner_texts()
    assert plain == opened(phone, demonstration_site).locator("main .row").all_inner_texts()
    for address in STRANGE:
        page.evaluate(f"location.hash = '#{address}'")
        expect(page).to_have_url(re.compile(f"#{address}$"))
        assert page.locator("main .row").all_inner_texts() == plain, address
    expect(page.get_by_role("alert")).to_contain_text("a margin of 99 degrees is too wide")


def test_a_hostile_serial_number_is_only_text(phone: BrowserContext, demonstration_site: Host) -> None:
    page = opened(phone, demonstration_site, "#serial=%3Cimg%20src%3Dx%20onerror%3D1%3E")
    assert page.locator("#choices img").count() == 0
    expect(page.get_by_role("alert")).to_contain_text("<img src=x")


REFUSED = "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }})"
FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }"


@pytest.mark.parametrize("fault", [REFUSED, FULL])
def test_a_refused_or_full_storage_says_so_and_loses_nothing(
    phone: BrowserContext, demonstration_site: Host, fault: str
) -> None:
    phone.add_init_script(fault)
    page = opened(phone, demonstration_site)
    choose(page, "margin", "1")
    expect(page.locator(".maximum .how")).to_contain_text("1° kept to the late side")
    expect(page.locator("p.chosen")).to_contain_text("does not store your choice")
    page.wait_for_url(lambda url: url.endswith("#margin=1"))


def test_what_others_wrote_into_the_page_outlives_a_choice(phone: BrowserContext, demonstration_site: Host) -> None:
    entry = {"family": FAMILY, "figure": "throttle-pickup", "since": "2026-09-01", "told": "it", "because": "bad line"}
    phone.route("**/withdrawn.json", lambda route: route.fulfill(json={"withdrawn": [entry]}))
    page = opened(phone, demonstration_site)
    expect(page.locator("#throttle-pickup .withdrawn-since")).to_contain_text("bad line")
    page.locator("#plug-gap summary").click()
    choose(page, "margin", "1")
    expect(maximum(page)).to_have_text("23°")
    expect(page.locator("#throttle-pickup .withdrawn-since")).to_contain_text("bad line")
    expect(page.locator("#plug-gap .cited")).to_be_visible()
    expect(page.locator(".find-again")).to_have_count(1)


def test_without_its_documents_the_page_stays_and_says_so(phone: BrowserContext, demonstration_site: Host) -> None:
    phone.route("**/page.json", lambda route: route.abort())
    page = phone.new_page()
    page.goto(f"{demonstration_site.address}families/{FAMILY}/")
    expect(page.locator("#choices")).to_contain_text("cannot be chosen now")
    expect(maximum(page)).to_have_text("24°")


def test_a_family_never_visited_answers_to_choices_without_a_signal(
    chromium: Browser, demonstration_files: Mapping[str, bytes]
) -> None:
    with served(demonstration_files) as host:
        context = chromium.new_context(viewport={"width": 390, "height": 844})
        page = context.new_page()
        page.goto(host.address)  # which asks for nothing that a family is drawn with
        expect(page.locator("#copy-state")).to_have_text(re.compile("families are on this phone"))
        host.mode = "stopped"
        page = opened(context, host)
        choose(page, "margin", "1")
        expect(maximum(page)).to_have_text("23°")
        type_serial(page, "301455")
        expect(page.locator(".engine .serial")).to_have_text("serial 301455")
        context.close()
