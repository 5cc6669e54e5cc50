"""The choices on a family's page in a real browser: they redraw it, stand in the address, are kept, lose nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from jinja2 import Environment, StrictUndefined
from playwright.sync_api import Browser, BrowserContext, Page, expect

from kb.publish.site.frame import Frame
from kb.publish.site.page import family_page
from kb.publish.site.shared import shared_document
from kb.publish.site.view import view
from tests.node import ASSETS, ROOT
from tests.served import Host, served
from tests.test_aim_properties import book

FAMILY = "skerrow/ketch-47"


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    template = (ROOT / "site" / "theme" / "family.html").read_text(encoding="utf-8")
    shared = shared_document(book())
    server = Environment(autoescape=True, undefined=StrictUndefined).from_string(template)
    frame = Frame((ASSETS / "page.css").read_text(encoding="utf-8"))
    files = {f"assets/{path.relative_to(ASSETS).as_posix()}": path.read_bytes()
             for path in ASSETS.rglob("*") if path.is_file()}  # fmt: skip
    files |= {"shared.json": json.dumps(shared).encode(), "assets/family.template": template.encode()}
    for family in book().family_ids():
        page = family_page(book(), family)
        body = server.render(view(page, shared))
        html = frame.page(family, body, "../../../", ("family.js",), ("family.css",))
        files[f"families/{family}/index.html"] = html.encode()
        files[f"families/{family}/page.json"] = json.dumps(page).encode()
        files[f"families/{family}/rim.svg"] = b'<svg xmlns="http://www.w3.org/2000/svg"/>'
    with served(files) as running:
        yield running


@pytest.fixture
def phone(chromium: Browser) -> Iterator[BrowserContext]:
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    context.set_default_timeout(10_000)
    yield context
    context.close()


def opened(phone: BrowserContext, host: Host, more: str = "", family: str = FAMILY) -> Page:
    page = phone.new_page()
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    page.goto(f"{host.address}families/{family}/{more}")
    page.locator("form.choose").wait_for()
    page.locator("form.choose summary").click()
    return page


def maximum(page: Page) -> Any:
    return page.locator(".maximum .big strong")


def test_a_margin_redraws_the_target_and_stands_in_the_address(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    before = float(maximum(page).inner_text().removesuffix("°"))
    page.get_by_label("Margin").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(maximum(page)).to_have_text(f"{before - 1:g}°")
    expect(page.locator(".maximum .how")).to_contain_text("1° kept to the late side")
    expect(page.locator(".maximum .how")).to_contain_text(f"{before:g}° BTDC")
    expect(page.locator("p.chosen")).to_contain_text(f"{before - 1:g}°")
    assert page.url.endswith("#margin=1")
    assert page.evaluate("document.activeElement.name") == "margin"
    shared = phone.browser.new_context().new_page() if phone.browser else phone.new_page()
    shared.goto(page.url)
    expect(maximum(shared)).to_have_text(f"{before - 1:g}°")
    shared.context.close()
    again = opened(phone, host)
    expect(again.get_by_label("Margin")).to_have_value("1")


def test_a_serial_number_settles_or_is_refused_in_the_same_words(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    box = page.get_by_label("Serial number", exact=True)
    box.fill("301455")
    box.press("Tab")
    expect(page.locator(".engine span")).to_have_text("serial 301455")
    box.fill("999999")
    box.press("Tab")
    expect(page.get_by_role("alert")).to_contain_text(f"no range of {FAMILY} holds the serial number 999999")
    expect(page.locator(".engine span")).to_have_text("serial 301455")


def test_cranking_or_running_begins_anew_for_each_engine(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host)
    choice = page.locator(".choose [name=state]")
    choice.select_option("running")
    expect(page.locator(".engine strong")).to_have_text("set running")
    assert page.url.endswith("#state=running")
    expect(opened(phone, host).locator(".choose [name=state]")).to_have_value("")


STRANGE = ["#margin=99", "#margin=-1", "#state=flying", "#serial=", "#margin=%3Cb%3E", "#max-advance"]


@pytest.mark.parametrize("address", STRANGE)
def test_a_strange_address_changes_nothing(phone: BrowserContext, host: Host, address: str) -> None:
    plain = opened(phone, host)
    strange = opened(phone, host, address)
    assert maximum(strange).inner_text() == maximum(plain).inner_text()


def test_a_hostile_serial_number_is_only_text(phone: BrowserContext, host: Host) -> None:
    page = opened(phone, host, "#serial=%3Cimg%20src%3Dx%20onerror%3D1%3E")
    assert page.locator("#choices img").count() == 0
    expect(page.get_by_role("alert")).to_contain_text("<img src=x")


def test_a_refused_storage_says_so_and_loses_nothing(phone: BrowserContext, host: Host) -> None:
    phone.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }})")
    page = opened(phone, host)
    page.get_by_label("Margin").select_option("1")
    expect(page.locator(".maximum .how")).to_contain_text("1° kept to the late side")
    expect(page.locator("p.chosen")).to_contain_text("does not keep your choice")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_it_fits_and_the_figures_stay_high(chromium: Browser, host: Host, width: int, scheme: Any) -> None:
    context = chromium.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)
    page = context.new_page()
    page.goto(f"{host.address}families/{FAMILY}/")
    page.locator("form.choose").wait_for()
    top = maximum(page).bounding_box()
    assert top is not None
    assert top["y"] < 250
    page.locator("form.choose summary").click()
    sizes = page.evaluate("[...document.querySelectorAll('.choose :is(input, select, summary)')]"
                          ".map(one => one.getBoundingClientRect().height)")  # fmt: skip
    assert min(sizes) >= 48
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    context.close()
