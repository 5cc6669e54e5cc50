"""The bench in a real browser: typed by keys alone, filled from a family, refusing in words, on phone and desk."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from kb.publish.site.bench_fields import bench_aids
from kb.publish.site.bench_pages import bench_pages
from kb.publish.site.build import SITE
from tests.node import ASSETS, ROOT
from tests.served import Host, served

AIDS = [aid["aid"] for aid in bench_aids()]
FAMILY = {
    "name": "Ketch 47 </p><b>", "engine": {
        "stroke": {"mm": "64"}, "rod": {"mm": "120"}, "firing_order": ["1", "3", "2"], "cycle": "two-stroke",
        "even_fire": "true",
    },
    "flywheel": {"rim_diameter": {"mm": "240"}}, "adjusters": {
        "max-advance": {"turning_in": "later"}, "throttle-pickup": {"turning_in": "earlier"},
    },
}  # fmt: skip


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    files = {path: html.encode() for path, html in bench_pages(SITE / "theme")}
    files |= {f"assets/{path.relative_to(ASSETS).as_posix()}": path.read_bytes()
              for path in ASSETS.rglob("*") if path.is_file()}  # fmt: skip
    files["families/skerrow/ketch-47/page.json"] = json.dumps(FAMILY).encode()
    files["vectors.mjs"] = (ROOT / "tests" / "site" / "vectors.mjs").read_bytes()
    files |= {f"vectors/{path.name}": path.read_bytes() for path in (ROOT / "schema" / "vectors").glob("*.json")}
    with served(files) as running:
        yield running


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    """A phone; what goes wrong in its console, the policy's refusals among them, fails the test."""
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    opened = context.new_page()
    opened.set_default_timeout(10_000)
    wrong: list[str] = []
    opened.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: wrong.append(str(error)))
    yield opened
    context.close()
    assert not [line for line in wrong if "404" not in line]


def group(page: Page, label: str) -> Any:
    return page.get_by_role("group", name=label, exact=True)


def typed(page: Page, label: str, number: str, side: str = "") -> None:
    """Type into a field by its label, as a screen reader finds it, and press its key."""
    field = group(page, label)
    field.get_by_role("textbox").fill(number)
    if side:
        field.get_by_role("radio", name=side, exact=True).check()


def worked(page: Page) -> str:
    page.get_by_role("button", name="Work it out").click()
    return page.locator("#result").inner_text()


def test_dead_centre_by_keys_alone(page: Page, host: Host) -> None:
    page.goto(f"{host.address}bench/dead-centre/")
    page.get_by_role("textbox", name="First contact, degrees", exact=True).focus()
    for key in ("3", "1", "Tab", "Space", "Tab", "2", "7", "Tab", "Space", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    page.locator(".answer").wait_for()
    result = page.locator("#result")
    assert page.locator(".answer").inner_text() == "the pointer shows 2 before at true top dead centre"
    assert result.get_attribute("aria-live") == "polite"
    assert "take the stop out of the plug hole" in result.inner_text()
    assert page.url == f"{host.address}bench/dead-centre/"
    assert page.evaluate("localStorage.length + sessionStorage.length + document.cookie.length") == 0


def test_the_answer_is_never_older_than_what_is_typed(page: Page, host: Host) -> None:
    page.goto(f"{host.address}bench/dead-centre/")
    typed(page, "First contact", "31", "before")
    typed(page, "Second contact", "27", "after")
    assert "2 before" in worked(page)
    typed(page, "Second contact", "31")
    assert "the pointer shows 0" in page.locator("#result").inner_text()
    typed(page, "Second contact", "")
    assert page.locator(".refused").inner_text() == "Second contact: it is still empty"
    assert page.locator(".answer").count() == 0


REFUSALS = [
    ("dead-centre", [("First contact", "31", "")], "First contact: choose one of the two keys beside 31"),
    ("dead-centre", [("First contact", "1e3", "before")], "First contact: '1e3' is not a plain number"),
    ("dead-centre", [("First contact", "-31", "before")], "First contact: '-31' is not a plain number"),
    ("dead-centre", [("First contact", "36", "before"), ("Second contact", "27", "after")], "beyond 3 degrees stop"),
    ("premix", [("Petrol", "5", "")], "Parts of petrol to one of oil: it is still empty"),
    ("rim", [("Rim's diameter", "240", "")], "type degrees, or a distance by tape or by"),
    ("compression", [("Cylinder 1", "110", "")], "two cylinders at least are compared"),
    ("turn", [("Target on the light", "24", "before"), ("Light shows, 1", "20", "before")], "reading 1: one of its"),
    ("cylinders", [("Firing order", "1-3-2", "")], "nobody says that it fires at even distances"),
]  # fmt: skip


@pytest.mark.parametrize(("aid", "fields", "words"), REFUSALS)
def test_what_is_wrong_is_said_in_words(page: Page, host: Host, aid: str, fields: list[Any], words: str) -> None:
    page.goto(f"{host.address}bench/{aid}/")
    for field in fields:
        typed(page, *field)
    assert words in worked(page)
    assert page.locator(".answer").count() == 0


ANSWERS = [
    ("target", [("Printed figure", "24", "before"), ("Margin to the late side", "1", ""), ("Rim's diameter", "240", ""),
                ("Pointer shows at true top dead centre", "2", "before")], "set it to 25° BTDC on the light, printed"),
    ("judge", [("Printed figure", "24", "before"), ("Light shows now", "26,5", "before")], "2.5 degrees early (adv"),
    ("turn", [("Target on the light", "23", "before"), ("Turns from the start, 1", "0", ""),
              ("Light shows, 1", "20", "before"), ("Turns from the start, 2", "1", "in"),
              ("Light shows, 2", "22", "before")], "turn the screw 1/2 turn in"),
    ("piston", [("Stroke", "70", ""), ("Rod, between centres", "125", ""), ("Degrees of crank", "20", "before")],
     "at 20 before the piston stands 2.69 mm (0.106 in) below its top"),
    ("rim", [("Rim's diameter", "240", ""), ("Degrees between two marks", "10", "")], "20.94 mm (0.825 in) along"),
    ("premix", [("Petrol", "6", ""), ("Parts of petrol to one of oil", "50", "")], "455 mL of oil for 6 US gal"),
    ("compression", [("Cylinder 1", "110", ""), ("Cylinder 2", "122", "")], "12 psi apart: 9.8 % of the highest"),
    ("cylinders", [("Firing order", "1-3-2", ""), ], "a spark every 120° of the crank"),
]  # fmt: skip


@pytest.mark.parametrize(("aid", "fields", "words"), ANSWERS)
def test_each_aid_answers(page: Page, host: Host, aid: str, fields: list[Any], words: str) -> None:
    page.goto(f"{host.address}bench/{aid}/")
    for field in fields:
        typed(page, *field)
    if aid == "cylinders":
        group(page, "Fires at even distances").get_by_role("radio", name="yes").check()
    assert words in worked(page)
    page.get_by_text("How it was worked out").click()
    assert page.locator("details li").first.is_visible()


def test_numbers_of_a_family_are_filled_in(page: Page, host: Host) -> None:
    page.goto(f"{host.address}bench/piston/?family=skerrow/ketch-47")
    page.get_by_text("From the file of").wait_for()
    assert "Ketch 47 </p><b>: stroke, rod, between centres" in page.locator("#from-family").inner_text()
    typed(page, "Degrees of crank", "20", "before")
    assert "below its top" in worked(page)
    page.goto(f"{host.address}bench/cylinders/?family=skerrow/ketch-47")
    page.get_by_text("From the file of").wait_for()
    assert "a spark every 120°" in worked(page)
    page.goto(f"{host.address}bench/turn/?family=skerrow/ketch-47")
    page.get_by_text("From the file of").wait_for()
    works, maximum = group(page, "Turning in makes it"), group(page, "Is it a maximum?")
    assert works.get_by_role("radio", name="later").is_checked()
    maximum.get_by_role("radio", name="no").check()
    assert works.get_by_role("radio", name="not known").is_checked(), "another screw is not known by this one"
    page.goto(f"{host.address}bench/turn/?family=skerrow/ketch-47&figure=throttle-pickup")
    page.get_by_text("From the file of").wait_for()
    assert works.get_by_role("radio", name="earlier").is_checked()
    assert maximum.get_by_role("radio", name="no").is_checked()


@pytest.mark.parametrize("family", ["no/such", "../../x", "a"])
def test_a_family_that_can_not_be_read_is_said(page: Page, host: Host, family: str) -> None:
    page.goto(f"{host.address}bench/rim/?family={family}")
    page.get_by_text("could not be read here: type them").wait_for()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [320, 390, 1280])
def test_it_fits_and_can_be_hit(page: Page, host: Host, width: int, scheme: Any) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.emulate_media(color_scheme=scheme)
    for aid in ("", *(f"{aid}/" for aid in AIDS)):
        page.goto(f"{host.address}bench/{aid}")
        assert page.evaluate("document.documentElement.scrollWidth") <= width, aid
        small = page.evaluate(
            "[...document.querySelectorAll('a, button, select, summary, label.key, input:not([type=radio])')]"
            ".map(one => [one.outerHTML, one.getBoundingClientRect()])"
            ".filter(([, box]) => box.height < 48 || box.width < 48).map(([html]) => html)"
        )
        assert small == [], aid
    style = "(({color, backgroundColor}) => [color, backgroundColor])(getComputedStyle(document.body))"
    ink, paper = page.evaluate(style)
    assert (ink < paper) is (scheme == "light")


def test_without_scripts_it_says_what_it_needs(chromium: Browser, host: Host) -> None:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{host.address}bench/rim/")
    assert "needs scripts switched on" in page.locator("main").inner_text()
    assert not page.get_by_role("button").is_visible()
    context.close()


def test_every_vector_holds_in_the_browser(page: Page, host: Host) -> None:
    page.goto(f"{host.address}bench/rim/")
    faults = page.evaluate(
        """async (names) => {
            const { calculations, faultsOf } = await import("../../vectors.mjs");
            const works = await calculations(new URL("../../assets", location.href).href);
            const files = names.map(async (name) => (await fetch(`../../vectors/${name}`)).json());
            return (await Promise.all(files)).flatMap((held) => faultsOf(held, works));
        }""",
        sorted(path.name for path in (ROOT / "schema" / "vectors").glob("*.json") if path.stem != "schema"),
    )
    assert faults == []
