"""The bench in a real browser: typed by keys alone, filled in from a family, refusing beside the field, on phone and
desk."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from kb.publish.site.bench.pages import bench_pages
from kb.publish.site.build import SITE
from kb.publish.site.family.document import family_page
from kb.publish.site.family.shared import shared_document
from kb.publish.site.finding.index_files import finding_files
from kb.publish.site.frame import Frame
from tests.support.folders import ASSETS, SCHEMA, TESTS
from tests.support.frozen import frozen_book
from tests.support.served import Host, served

KETCH, BARQUE, LEVANTER = "skerrow/ketch-47", "skerrow/barque-113", "pellwater/levanter-19"
GREGALE = "pellwater/gregale-58"
HOSTILE = "Ketch </p><b>47"


@pytest.fixture(scope="module")
def host() -> Iterator[Host]:
    book = frozen_book()
    shared = shared_document(book)
    shared["invented"] = False
    files = {
        path: html.encode()
        for path, html in bench_pages(SITE / "theme", Frame((ASSETS / "page.css").read_text("utf-8")), shared)
    }
    files |= {
        f"assets/{path.relative_to(ASSETS).as_posix()}": path.read_bytes()
        for path in ASSETS.rglob("*")
        if path.is_file()
    }
    for key in (KETCH, BARQUE, LEVANTER, GREGALE):
        files[f"families/{key}/page.json"] = json.dumps(family_page(book, key)).encode()
    hostile = {**family_page(book, KETCH), "name": HOSTILE, "look_for": HOSTILE}
    files["families/skerrow/hostile/page.json"] = json.dumps(hostile).encode()
    files["shared.json"] = json.dumps(shared).encode()
    files |= finding_files(book, book.date)
    files["vectors.mjs"] = (TESTS / "site" / "vectors.mjs").read_bytes()
    files |= {f"vectors/{path.name}": path.read_bytes() for path in (SCHEMA / "vectors").glob("*.json")}
    with served(files) as running:
        yield running


@pytest.fixture(scope="module")
def phone(chromium: Browser) -> Iterator[tuple[Page, list[str]]]:
    """A phone, and what went wrong in its console, the policy's refusals among them."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    wrong: list[str] = []
    page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: wrong.append(str(error)))
    yield page, wrong
    context.close()


@pytest.fixture
def page(phone: tuple[Page, list[str]]) -> Iterator[Page]:
    opened, wrong = phone
    wrong.clear()
    yield opened
    assert not [line for line in wrong if "404" not in line]


def group(page: Page, label: str) -> Any:
    return page.get_by_role("group", name=label, exact=True)


TYPED = """([label, number, side]) => {
    const field = document.querySelector(`[data-label="${label}"]`), box = field.querySelector("input[type=text]");
    if (number) box.value = number;
    const key = [...field.querySelectorAll(".key")].find((one) => one.textContent === side);
    if (side) key.querySelector("input").checked = true;
    field.querySelector("input").dispatchEvent(new Event("input", { bubbles: true }));
}"""


def typed(page: Page, label: str, number: str, side: str = "") -> None:
    """Type into a field by its label, and press its key; at once, since one test does it by keys alone."""
    page.evaluate(TYPED, [label, number, side])


def worked(page: Page) -> str:
    page.evaluate("document.querySelector('form[data-aid]').requestSubmit()")
    return page.locator("#result").inner_text()


def opened(page: Page, host: Host, aid: str, **address: str) -> None:
    """An aid, bare or from a family whose numbers have come."""
    asked = "&".join(f"{name}={value}" for name, value in address.items())
    page.goto(f"{host.address}bench/{aid}/{'?' + asked if asked else ''}")
    page.locator(".from-engine" if address else "form").first.wait_for()


def test_dead_centre_by_keys_alone(page: Page, host: Host) -> None:
    opened(page, host, "dead-centre")
    assert "take the stop out of the plug hole" in page.locator("main").inner_text().lower(), "from the start"
    page.get_by_role("textbox", name="First contact, degrees", exact=True).focus()
    for key in ("3", "1", "Tab", "Space", "Tab", "2", "7", "Tab", "Space", "ArrowRight", "Enter"):
        page.keyboard.press(key)
    page.locator(".answer").wait_for()
    assert page.locator(".answer").inner_text() == "the pointer shows 2 before at true top dead centre"
    assert page.locator("#result").get_attribute("aria-live") == "polite"
    page.wait_for_url(f"{host.address}bench/dead-centre/")
    assert page.evaluate("localStorage.length + sessionStorage.length + document.cookie.length") == 0
    typed(page, "Second contact", "31")
    assert "the pointer shows 0" in page.locator("#result").inner_text(), "never older than what is typed"
    typed(page, "Second contact", "")
    page.get_by_role("textbox", name="Second contact, degrees", exact=True).fill("")
    assert "Second contact: it is empty" in group(page, "Second contact").inner_text()
    assert page.locator(".refused").inner_text() == "Not worked out yet: see “Second contact”."
    assert page.locator(".answer").count() == 0


OPEN_ALL = (
    "document.querySelectorAll('details:not(.choose-engine, .find-again)').forEach((one) => { one.open = true; })"
)

BEFORE, AFTER = "contact before TDC", "contact after TDC"
REFUSALS: list[tuple[str, list[Any], str, str]] = [
    ("dead-centre", [("First contact", "31", "")], "first", "First contact: choose one of the two keys beside 31"),
    ("dead-centre", [("First contact", "1e3", BEFORE)], "first", "First contact: '1e3' is not a plain number"),
    ("dead-centre", [("First contact", "-31", BEFORE)], "first", "has a sign; type the number alone, and choose"),
    ("dead-centre", [("First contact", "36", BEFORE), ("Second contact", "27", AFTER)], "second", "beyond 3"),
    ("premix", [("Petrol", "5", "")], "parts", "type the parts of petrol to one of oil, or the oil"),
    ("premix", [("Petrol", "0", "")], "petrol", "Petrol: '0' is not a size above zero; type one such as 62.5"),
    ("rim", [("Rim's diameter", "240", "")], "degrees", "type one thing: degrees between two marks, or"),
    ("compression", [("Cylinder 1", "110", "")], "cylinder_1", "a comparison needs at least two cylinders"),
    ("turn", [("Target on the light", "24", "before"), ("Light shows, 1", "20", "before")], "turns_1", "it is empty"),
    ("cylinders", [("Firing order", "1-3-2", "")], "even", "it is not known to fire at even intervals"),
    ("target", [("Printed figure", "24", "before"), ("Margin to the late side", "3", "")], "margin", "0 to 2 degrees"),
    ("target", [("Printed figure", "24", "before"), ("You set it", "", "running")], "correction_1", "no sourced corr"),
    ("rpm", [("Pulses a second", "250", "")], "pulses", "type pulses in one turn of the crank too"),
    ("plates", [("First plate", "5", ""), ("Second plate", "12", "")], "first_plate", "write more than that and up"),
]


ANSWERS: list[tuple[str, list[Any], str]] = [
    (
        "target",
        [
            ("Printed figure", "24", "before"),
            ("Margin to the late side", "1", ""),
            ("Rim's diameter", "240", ""),
            ("Pointer shows at true top dead centre", "2", "before"),
        ],
        "set it to 25° BTDC on the light; printed",
    ),
    ("judge", [("Printed figure", "24", "before"), ("Light shows now", "26,5", "before")], "early, 2.5° past the book"),
    (
        "turn",
        [
            ("Target on the light", "23", "before"),
            ("Turns from the start, 1", "0", ""),
            ("Light shows, 1", "20", "before"),
            ("Turns from the start, 2", "1", "in"),
            ("Light shows, 2", "22", "before"),
        ],
        "turn the screw 1/2 turn in",
    ),
    (
        "piston",
        [("Stroke", "70", ""), ("Rod, between centres", "125", ""), ("Degrees of crank", "20", "before")],
        "at 20 before the piston is 2.69 mm (0.106 in) below its top",
    ),
    ("rim", [("Rim's diameter", "240", ""), ("Degrees between two marks", "10", "")], "20.94 mm (0.825 in) along"),
    ("premix", [("Petrol", "6", ""), ("Parts of petrol to one of oil", "50", "")], "455 mL of oil for 6 US gal"),
    ("compression", [("Cylinder 1", "110", ""), ("Cylinder 2", "122", "")], "12 psi apart: 9.8 % of the highest"),
    ("cylinders", [("Firing order", "1-3-2", ""), ("Fires at even intervals", "", "yes")], "a spark every 120° of"),
    (
        "rpm",
        [
            ("From", "", "a tachometer"),
            ("Tachometer shows", "3000", ""),
            ("It is set for, in a turn", "4", ""),
            ("The engine gives, in a turn", "6", ""),
        ],
        "the true speed is 2000 rpm where the tachometer shows 3000",
    ),
    ("plates", [("First plate", "12", ""), ("Second plate", "13", "")], "lets through 1.567 times the air"),
]


def test_each_aid_answers_and_refuses_beside_the_field(page: Page, host: Host) -> None:
    for aid in sorted({one for one, *_ in ANSWERS} | {one for one, *_ in REFUSALS}):
        opened(page, host, aid)
        page.evaluate(OPEN_ALL)
        for fields, name, words in [row[1:] for row in REFUSALS if row[0] == aid]:
            page.evaluate("document.querySelector('form').reset()")
            for field in fields:
                typed(page, *field)
            refused_at(page, aid, name, words)
        for fields, words in [row[1:] for row in ANSWERS if row[0] == aid]:
            page.evaluate("document.querySelector('form').reset()")
            for field in fields:
                typed(page, *field)
            assert words in worked(page), aid
            assert page.locator(".working li").count(), "how it was worked out"
    page.get_by_text("How it was worked out").click()
    assert page.locator(".working li").first.is_visible()
    page.emulate_media(media="print")
    assert not page.get_by_role("button", name="Work it out").is_visible()
    page.emulate_media(media="screen")


def refused_at(page: Page, aid: str, name: str, words: str) -> None:
    """It says what is wrong beside the field of that name, and is there."""
    assert worked(page).startswith("Not worked out yet: see") or words in worked(page), aid
    assert page.locator(".answer, .big").count() == 0
    told = page.evaluate(
        """() => { const box = document.activeElement;
        const ids = (box.getAttribute("aria-describedby") ?? "").split(" ");
        return [box.closest("[data-name]")?.dataset.name, box.getAttribute("aria-invalid"),
                ids.map((id) => document.getElementById(id)?.textContent ?? "").join(" ")]; }"""
    )
    assert told[:2] == [name, "true"], aid
    assert words in told[2], (aid, told)


def test_a_target_is_filled_in_from_a_family(page: Page, host: Host) -> None:
    opened(page, host, "target", family=KETCH, figure="max-advance", state="cranking", serial="310000")
    assert page.locator(".strip").inner_text().startswith("Invented demonstration data")
    result = page.locator("#result")
    expect(result.locator(".big")).to_have_text("24° BTDC")
    for words in (
        "printed 24° BTDC, cranking",
        "3 divisions, 3° from the mark 27° BTDC toward 18° BTDC",
        "by tape",
        "3.47 mm of piston travel BTDC, by the depth gauge",
        "runs at 22° BTDC at 5000 rpm",
    ):
        assert words in result.inner_text()
    page.get_by_text("The printed figure (2 filled in)").click()
    printed = group(page, "Printed figure")
    assert "From Ketch 47, your engine and how to keep it, page 42" in printed.inner_text()
    assert printed.get_by_role("textbox").input_value() == "24"
    typed(page, "Pointer shows at true top dead centre", "2", "before")
    expect(result.locator(".big")).to_have_text("26° BTDC")
    assert "dead" not in page.url
    printed.get_by_role("textbox").fill("23")
    assert "Changed by hand; it was from Ketch 47, your engine" in printed.inner_text()
    expect(result.locator(".big")).to_have_text("25° BTDC")
    printed.get_by_role("button", name="Put back").click()
    expect(result.locator(".big")).to_have_text("26° BTDC")
    page.get_by_role("radio", name="Throttle pickup").check()
    expect(result).to_contain_text("printed 4 to 6° ATDC")
    page.wait_for_url(lambda url: url.endswith("figure=throttle-pickup&serial=310000"))


def test_what_is_not_one_number_is_chosen_by_keys(page: Page, host: Host) -> None:
    opened(page, host, "target", family=LEVANTER, figure="throttle-pickup")
    told = page.locator(".from-engine")
    expect(told).to_contain_text("Throttle pickup is not filled in: sources do not agree")
    assert page.locator(".big").count() == 0
    told.get_by_role("radio", name="5 to 7° BTDC").check()
    expect(page.locator(".big")).to_have_text("6° BTDC")
    opened(page, host, "target", family=KETCH, figure="idle-timing")
    expect(told).to_contain_text("Idle timing is not filled in")
    assert group(page, "Printed figure").get_by_role("textbox").input_value() == ""
    typed(page, "Printed figure", "3", "after")
    assert "set it to 3° ATDC on the light; printed 3° ATDC" in worked(page)
    assert "never set it earlier" not in page.locator("#result").inner_text(), "it is idle timing, not the maximum"
    page.get_by_text("Serial number not given").click()
    page.get_by_label("Serial number", exact=True).fill("99")
    page.get_by_role("button", name="Use it").click()
    told.get_by_text("no range of skerrow/ketch-47 holds the serial number 99; it has").wait_for()
    opened(page, host, "target", family=GREGALE, figure="max-advance")
    expect(told).to_contain_text("it differs by engine: type the serial number, or choose")
    told.get_by_role("radio", name="22° BTDC cranking, serials up to GR38200").check()
    expect(page.locator(".big")).to_have_text("22° BTDC")
    page.get_by_text("Serial number not given").click()
    page.get_by_label("Serial number", exact=True).fill("GR38201")
    page.get_by_role("button", name="Use it").click()
    expect(page.locator(".big")).to_have_text("21° BTDC")
    page.wait_for_url(lambda url: "serial=GR38201" in url)
    opened(page, host, "target", family=BARQUE, figure="max-advance", state="running")
    expect(page.locator(".big")).to_have_text("17° BTDC")
    expect(told).to_contain_text("the safest is given, the one that is later")
    told.get_by_role("radio", name="18° BTDC").check()
    expect(page.locator(".big")).to_have_text("18° BTDC")


def test_the_other_aids_are_filled_in(page: Page, host: Host) -> None:
    opened(page, host, "piston", family=KETCH)
    typed(page, "Degrees of crank", "20", "before")
    assert "below its top" in worked(page)
    opened(page, host, "cylinders", family=KETCH)
    assert "a spark every 120°" in page.locator("#result").inner_text()
    opened(page, host, "premix", family=KETCH)
    typed(page, "Petrol", "6")
    assert "at 50:1" in worked(page)
    opened(page, host, "compression", family=KETCH)
    assert page.locator("[data-row]:visible").count() == 3
    typed(page, "Cylinder 1", "110")
    typed(page, "Cylinder 2", "90")
    assert "outside the book's 105 to 125 psi: cylinder 2 (too low)" in worked(page)
    opened(page, host, "turn", family="skerrow/hostile", figure="max-advance")
    assert HOSTILE in page.locator(".from-engine h2").inner_text()
    works = group(page, "Turning in makes it")
    page.get_by_text("The screw (4 filled in)").click()
    assert works.get_by_role("radio", name="later").is_checked()
    page.get_by_role("radio", name="Throttle pickup").check()
    assert works.get_by_role("radio", name="earlier").is_checked(), "another figure has another screw"


def test_an_engine_is_found_and_leads_back(page: Page, host: Host) -> None:
    opened(page, host, "rim")
    page.get_by_text("Fill in from an engine").click()
    box = page.get_by_role("searchbox").first
    box.fill("ketch 47")
    page.locator("#choose-engine a").first.click()
    page.locator(".from-engine").wait_for()
    page.wait_for_url(lambda url: url.startswith(f"{host.address}bench/rim/?family=skerrow%2Fketch-47"))
    assert group(page, "Rim's diameter").get_by_role("textbox").input_value() == "240"
    for family in ("no/such", "../../x", "a"):
        page.goto(f"{host.address}bench/rim/?family={family}")
        page.get_by_text("could not be loaded: type them").wait_for()


def test_it_fits_and_can_be_hit(page: Page, host: Host) -> None:
    aids = [path for path in host.files if path.startswith("bench/")]
    for path in aids:
        page.goto(f"{host.address}{path.removesuffix('index.html')}{'?family=' + KETCH if path.count('/') > 1 else ''}")
        page.locator(".from-engine, noscript, .aids").first.wait_for(state="attached")
        page.evaluate(OPEN_ALL)
        for width in (320, 390, 1280):
            page.set_viewport_size({"width": width, "height": 844})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path
            small = page.evaluate(
                "[...document.querySelectorAll('a, button, select, summary, label.key, input:not([type=radio])')]"
                ".map(one => [one.outerHTML, one.getBoundingClientRect()])"
                ".filter(([, box]) => box.width && (box.height < 48 || box.width < 48)).map(([html]) => html)"
            )
            assert small == [], path
    page.set_viewport_size({"width": 390, "height": 844})
    style = "(({color, backgroundColor}) => [color, backgroundColor])(getComputedStyle(document.body))"
    seen = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        ink, paper = page.evaluate(style)
        seen.append(ink < paper)
    page.emulate_media(color_scheme="light")
    assert seen == [True, False]


def test_an_aid_that_does_not_come_says_so(chromium: Browser, host: Host) -> None:
    page = chromium.new_context(service_workers="block").new_page()
    page.route("**/bench/aids/premix.js", lambda route: route.abort())
    page.goto(f"{host.address}bench/premix/")
    page.get_by_text("Part of this page could not be loaded: no signal").wait_for()
    page.context.close()


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
        sorted(path.name for path in (SCHEMA / "vectors").glob("*.json") if path.stem != "schema"),
    )
    assert faults == []
