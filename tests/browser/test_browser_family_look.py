"""A family's page as it stands on a phone: what is in sight without scrolling, and nothing lost on any screen."""

from __future__ import annotations

import gzip
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.support.frozen import frozen_book
from tests.support.served import Host

FAMILIES = sorted(frozen_book().family_ids())
FAMILY = "skerrow/ketch-47"
DIGITS = 28  # px, and more
FIRST, PICKUP, ROWS = 250, 330, 8
TWIN = 80
"""What a family that has a twin says first, on five lines; pickup and rows then stand lower by that much."""

MEASURED = """() => {
  const box = (element) => element.getBoundingClientRect();
  const size = (element) => parseFloat(getComputedStyle(element).fontSize);
  const rows = [...document.querySelectorAll("main .row")];
  const digits = [...document.querySelectorAll(".big strong, .sides strong")];
  const first = document.querySelector(".row .big strong, .row .sides strong");
  const line = document.querySelector(".engine");
  const twin = document.querySelector(".twin")?.getBoundingClientRect().height ?? 0;
  const pickup = [...document.querySelectorAll(".top .row")].at(-1).querySelector(".big strong, .sides strong, .said");
  return {
    first: [box(first).top, box(first).height, size(first)],
    above: ["strip", "h1", ".engine .serial", ".engine .state"].map((one) =>
      box(document.querySelector(one === "strip" ? ".strip" : one)).bottom),
    words: line.textContent, small: digits.filter((one) => size(one) < 28).map((one) => one.textContent),
    pickup: box(pickup).top - twin,
    inSight: rows.filter((row) => box(row).bottom <= innerHeight + twin).length, rows: rows.length, twin,
    targets: [...document.querySelectorAll(".row summary, .job a, .job summary, .engine button")]
      .map((one) => Math.min(box(one).height, box(one).width)),
    wide: document.documentElement.scrollWidth,
  };
}"""


@pytest.fixture(scope="module")
def phone(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    yield page
    context.close()


def shown(page: Page, host: Host, family: str = FAMILY, more: str = "") -> Any:
    page.goto(f"{host.address}families/{family}/{more}")
    page.locator(".engine button").first.wait_for()
    return page.evaluate(MEASURED)


@pytest.mark.parametrize("family", FAMILIES)
def test_the_figure_stands_high_and_eight_rows_are_in_sight(phone: Page, demonstration_site: Host, family: str) -> None:
    found = shown(phone, demonstration_site, family)
    top, height, size = found["first"]
    assert top < FIRST
    assert min(height, size) >= DIGITS
    assert found["small"] == []
    assert max(found["above"]) < top
    assert found["words"].split()[0] == "serial"
    assert found["twin"] < TWIN
    assert found["pickup"] < PICKUP
    assert found["inSight"] >= min(ROWS, found["rows"])
    assert min(found["targets"]) >= 48
    assert found["wide"] <= 390


@pytest.mark.parametrize("family", FAMILIES)
def test_it_is_small_and_the_figure_waits_for_one_answer_alone(
    demonstration_files: Mapping[str, bytes], family: str
) -> None:
    page = demonstration_files[f"families/{family}/index.html"]
    assert len(gzip.compress(page, 9)) <= 8000
    assert b'rel="stylesheet"' not in page
    assert page.count(b"<script ") == page.count(b'<script type="module" ')  # which never holds up what is shown


@pytest.mark.parametrize("family", FAMILIES)
def test_the_maximum_never_stands_without_the_printed_figure(
    demonstration_files: Mapping[str, bytes], family: str
) -> None:
    page = demonstration_files[f"families/{family}/index.html"].decode()
    first = page.partition('class="row maximum"')[2].partition("<details>")[0]
    assert "printed" in first or "piston travel" in first  # by the depth gauge the printed figure itself stands big


@pytest.mark.parametrize(("width", "scheme"), [(320, "dark"), (1280, "light")])
def test_nothing_runs_off_the_side(chromium: Browser, demonstration_site: Host, width: int, scheme: Any) -> None:
    context = chromium.new_context(
        viewport={"width": width, "height": 800}, color_scheme=scheme, service_workers="block", reduced_motion="reduce"
    )
    page = context.new_page()
    for family in (FAMILY, "pellwater/gregale-58", "hollin-drake/gimlet-6-1"):
        found = shown(page, demonstration_site, family)
        page.locator(".engine button").first.click()
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        sizes = page.evaluate(
            "[...document.querySelectorAll('.choose :is(input, select)')]"
            ".map(one => one.getBoundingClientRect().height)"
        )
        assert min(sizes) >= 48
        assert found["first"][0] < FIRST
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
    context.close()


def test_larger_type_loses_nothing(phone: Page, demonstration_site: Host) -> None:
    shown(phone, demonstration_site)
    phone.evaluate("document.documentElement.style.fontSize = '200%'")
    found = phone.evaluate(MEASURED)
    assert found["wide"] <= 390
    assert found["first"][2] >= 2 * DIGITS
    covered = phone.evaluate("""() => [...document.querySelectorAll(".row > *, .sides li")].filter((one) => {
      const next = one.nextElementSibling, box = (element) => element.getBoundingClientRect();
      return next && next.tagName !== "DETAILS" && box(next).top < box(one).bottom - 1;
    }).map((one) => one.textContent)""")
    assert covered == []


def test_on_paper_everything_is_open(phone: Page, demonstration_site: Host) -> None:
    shown(phone, demonstration_site)
    phone.emulate_media(media="print")
    sources = phone.locator(".cited")
    heights = [one.bounding_box() for one in sources.all()]
    assert all(box is not None and box["height"] > 10 for box in heights)
    assert not phone.locator("nav").is_visible()
    assert not phone.locator("#choices form").is_visible()
    phone.emulate_media(media="screen")
    phone.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert phone.locator("details:not([open])").count() == 0
    phone.evaluate("dispatchEvent(new Event('afterprint'))")
    assert phone.locator(".row details[open]").count() == 0


def test_more_contrast_and_forced_colours(phone: Page, demonstration_site: Host) -> None:
    colour = "getComputedStyle(document.querySelector('.row h2 span')).color"
    shown(phone, demonstration_site)
    usual = phone.evaluate(colour)
    phone.emulate_media(contrast="more")
    assert phone.evaluate(colour) != usual
    assert phone.evaluate(colour) == phone.evaluate("getComputedStyle(document.body).color")
    phone.emulate_media(contrast="no-preference", forced_colors="active")
    circle = phone.evaluate("getComputedStyle(document.querySelector('.dots circle')).fill")
    assert circle == phone.evaluate("getComputedStyle(document.body).color")
    phone.emulate_media(forced_colors="none")


def test_without_scripts_every_row_opens(chromium: Browser, demonstration_site: Host) -> None:
    context = chromium.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{demonstration_site.address}families/{FAMILY}/")
    row = page.locator("#plug-gap")
    assert not row.locator(".cited").is_visible()
    row.locator("h2").click(force=True)  # the whole row is the target
    assert row.locator(".cited").is_visible()
    context.close()
