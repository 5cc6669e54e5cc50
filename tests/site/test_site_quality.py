"""Every kind of page in a real browser: for everyone, on any screen, quietly, on paper and without scripts."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Literal, NamedTuple
from urllib.parse import urljoin

import axe_playwright_python
import pytest
from playwright.sync_api import Browser, BrowserContext, JSHandle, Page, expect

from tests.support.html_validate import faults_of
from tests.support.kinds_of_page import KINDS
from tests.support.node import SCRIPTS
from tests.support.samples import THOROUGH
from tests.support.served import Host

AXE = Path(axe_playwright_python.__file__).with_name("axe.min.js")
ALL = "{ resultTypes: ['violations'] }"
SEEN: tuple[tuple[Literal["light", "dark"], tuple[int, int], str], ...] = (
    ("light", (390, 844), ALL),
    # what a scheme or a wider screen changes; each of them is seen once, and all of both in a thorough run
    ("dark", (1280, 800), ALL if THOROUGH else "{ runOnly: ['color-contrast', 'target-size'] }"),
    *((("dark", (390, 844), ALL), ("light", (1280, 800), ALL)) if THOROUGH else ()),
)
PRINTED = (
    ".big strong",
    ".said",
    ".cited li",
    ".row .careful span",
    ".row details p:not(.links)",
    "footer p:not([hidden])",
)
FAMILIES = [name for name in KINDS if name.startswith("family")]


class Opened(NamedTuple):
    """A page as it was opened: what was wrong on the way, and the questions that can be asked of it."""

    page: Page
    wrong: list[str]
    asked: JSHandle


class Opener:
    """Opens each kind of page once, in a tab that stays."""

    def __init__(self, context: BrowserContext, host: Host) -> None:
        self.context, self.host = context, host
        self.known: dict[str, Opened] = {}
        self.questions = (SCRIPTS / "page_faults.js").read_text(encoding="utf-8")

    def opened(self, name: str) -> Opened:
        """The page of a kind, on a phone, in the light."""
        if name not in self.known:
            page, wrong = self.context.new_page(), list[str]()
            page.on("console", lambda one: wrong.append(one.text) if one.type == "error" else None)
            page.on("pageerror", lambda error: wrong.append(str(error)))
            page.on("requestfailed", lambda request: wrong.append(f"failed: {request.url}"))
            page.on("response", lambda one: wrong.append(f"{one.status}: {one.url}") if one.status >= 400 else None)
            page.on("request", lambda one: wrong.append(f"outside: {one.url}") if self.is_outside(one.url) else None)
            page.goto(self.host.address + KINDS[name].path)
            act = KINDS[name].act
            if act:
                act(page)
            self.known[name] = Opened(page, wrong, page.evaluate_handle(self.questions))
        opened = self.known[name]
        opened.page.emulate_media(color_scheme="light", media="screen")
        opened.page.set_viewport_size({"width": 390, "height": 844})
        return opened

    def is_outside(self, url: str) -> bool:
        return not url.startswith((self.host.address, "data:", "blob:"))


def none(faults: Iterable[str]) -> None:
    """There is no fault; each that there is, in full."""
    told = list(faults)
    assert not told, "\n".join(told)


@pytest.fixture(scope="module")
def opener(chromium: Browser, demonstration_site: Host) -> Iterator[Opener]:
    context = chromium.new_context(reduced_motion="reduce", service_workers="block")
    context.add_init_script(
        "addEventListener('securitypolicyviolation', (it) => console.error('policy:', it.violatedDirective, it.sample))"
    )
    yield Opener(context, demonstration_site)
    context.close()


@pytest.fixture(params=list(KINDS))
def opened(request: pytest.FixtureRequest, opener: Opener) -> Opened:
    return opener.opened(request.param)


def test_everyone_can_use_it(opened: Opened) -> None:
    page = opened.page
    page.evaluate(AXE.read_text(encoding="utf-8"))
    for scheme, (width, height), asked in SEEN:
        page.emulate_media(color_scheme=scheme)
        page.set_viewport_size({"width": width, "height": height})
        found = page.evaluate(f"axe.run(document, {asked})")["violations"]
        none(f"{one['id']}: {[node['target'] for node in one['nodes']]}, {scheme}, {width} px" for one in found)


def test_it_is_quiet(opened: Opened, opener: Opener) -> None:
    opened.page.wait_for_load_state()
    if opened.page.locator("#copy-state").count():
        expect(opened.page.locator("#copy-state")).not_to_be_empty()  # the last that a page says by itself
    none(opened.wrong)
    assert opener.context.cookies() == []


def test_it_never_moves_sideways(opened: Opened) -> None:
    for width, size in ((320, "100%"), (390, "200%"), (1280, "200%")):
        opened.page.set_viewport_size({"width": width, "height": 640})
        opened.page.evaluate("(size) => document.documentElement.style.setProperty('font-size', size)", size)
        found = opened.asked.evaluate("(asked) => asked.sideways()")
        opened.page.evaluate("document.documentElement.style.removeProperty('font-size')")
        none(found)


def test_a_thumb_hits_it(opened: Opened) -> None:
    none(opened.asked.evaluate("(asked) => asked.smallTargets()"))


def test_nothing_lies_over_anything(opened: Opened) -> None:
    for width, height in ((320, 640), (390, 844), (1280, 640)):
        opened.page.set_viewport_size({"width": width, "height": height})
        none(f"{width} px: {fault}" for fault in opened.asked.evaluate("(asked) => asked.overlaps()"))


def test_the_focus_is_seen(opened: Opened) -> None:
    opened.page.keyboard.press("Tab")
    none(opened.asked.evaluate("(asked) => asked.unseenFocus()"))


@pytest.mark.parametrize("name", FAMILIES)
def test_paper_shows_the_figures_and_where_they_are_from(opener: Opener, name: str) -> None:
    opened = opener.opened(name)
    opened.page.emulate_media(media="print", color_scheme="dark")
    for which in PRINTED:
        assert opened.page.locator(which).count() or which == ".said"
        none(opened.asked.evaluate("(asked, which) => asked.unseen(which)", which))
    ink, paper = opened.page.evaluate(
        "(({color, backgroundColor}) => [color, backgroundColor])(getComputedStyle(document.body))"
    )
    assert (ink, paper) == ("rgb(0, 0, 0)", "rgb(255, 255, 255)")


@pytest.fixture(scope="module")
def plain(chromium: Browser) -> Iterator[Page]:
    """A browser that runs no script."""
    context = chromium.new_context(viewport={"width": 390, "height": 844}, java_script_enabled=False)
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("path", sorted({kind.path for kind in KINDS.values()}))
def test_without_scripts_it_still_tells(plain: Page, demonstration_site: Host, path: str) -> None:
    plain.goto(demonstration_site.address + path)
    assert plain.locator("h1").first.is_visible()
    shown = plain.locator("body").inner_text()
    assert "nvented" in shown, "whose data it is"
    assert "licensed mechanic" in shown, "who comes first"
    way = "" if path in ("", "404.html") else "Find an engine"  # what is not there may be anywhere
    assert plain.get_by_role("link", name=way).first.is_visible()
    assert [one for one in plain.get_by_role("button").all() if one.is_visible()] == [], "it would do nothing"
    if path.startswith("families/") and path.count("/") == 3:
        page = json.loads(demonstration_site.files[path + "page.json"])
        assert plain.locator(".row").count() >= len(page["figures"])
        assert all(one.is_visible() for one in plain.locator(".row > p strong").all())
        assert plain.locator(".careful span").first.is_visible()


def test_it_can_be_put_on_the_home_screen(chromium: Browser, demonstration_site: Host) -> None:
    context = chromium.new_context(service_workers="block")
    page = context.new_page()
    page.goto(demonstration_site.address + "families/skerrow/ketch-47/")
    told = context.new_cdp_session(page).send("Page.getAppManifest")
    assert told["errors"] == []
    assert told["url"] == demonstration_site.address + "manifest.webmanifest"
    said = json.loads(told["data"])
    assert {urljoin(told["url"], said[key]) for key in ("start_url", "scope", "id")} == {demonstration_site.address}
    assert said["display"] == "standalone"
    for icon in said["icons"]:
        size = icon["sizes"].partition("x")[0]
        shown = page.evaluate(
            "(src) => new Promise((done, failed) => { const it = new Image(); it.onerror = failed; "
            "it.onload = () => done(it.naturalWidth); it.src = src; })",
            urljoin(told["url"], icon["src"]),
        )
        assert size == "any" or shown == int(size)
    context.close()


@pytest.fixture(scope="module")
def looked_at(demonstration_files: Mapping[str, bytes]) -> list[str]:
    """Every page but for most rules, figures and families, which are drawn by one template each."""
    kinds = {kind.path.partition("?")[0].partition("#")[0] for kind in KINDS.values()}
    shown = [path for path in demonstration_files if path.endswith(".html")]
    many = ("rules/", "figures/", "families/")
    return [path for path in shown if not path.startswith(many) or path.removesuffix("index.html") in kinds]


def test_every_page_is_valid_html(
    demonstration_files: Mapping[str, bytes], looked_at: list[str], tmp_path: Path
) -> None:
    assert len(looked_at) > 30
    for path in looked_at:
        place = tmp_path / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(demonstration_files[path])
    found = faults_of([tmp_path / path for path in looked_at])
    none(f"{place.relative_to(tmp_path)}: {wrong} ({rule}, {where})" for place, rule, where, wrong in found)
