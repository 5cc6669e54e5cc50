"""A book whose every text is an attack, opened in a browser: nothing of it runs, from the host or from the copy."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Dialog, Page, expect

from tests.support.kinds_of_page import begins
from tests.support.served import Host, files_below, served

_WATCH = """
window.alert = (what) => console.error("ran: " + what);
addEventListener("securitypolicyviolation", (it) => console.error("policy:", it.violatedDirective, it.sample));
"""
_MADE = """[...document.querySelectorAll("script:not([src]), img[src='x'], b[onclick], a[href^='javascript']")]
  .concat([...document.querySelectorAll("*")].filter((one) => [...one.attributes].some(({ name }) => /^on/.test(name))))
  .map((one) => one.outerHTML)"""

_OPEN = "for (const one of document.querySelectorAll('main details')) one.open = true"


class Watched:
    """A page, and what it did that no page of the site does."""

    def __init__(self, page: Page, host: Host) -> None:
        self.page, self.host = page, host
        self.done: list[str] = []
        page.on("dialog", self.dialog)
        page.on("console", lambda one: self.done.append(one.text) if one.type == "error" else None)
        page.on("pageerror", lambda error: self.done.append(str(error)))
        page.on("request", lambda one: self.done.append(one.url) if one.url.endswith("/x") else None)

    def dialog(self, dialog: Dialog) -> None:
        self.done.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def open(self, path: str) -> Page:
        """Go there, and wait until its scripts are still."""
        self.page.goto(self.host.address + path)
        return self.page

    def is_clean(self) -> None:
        """Nothing ran, and no text became an element."""
        assert self.page.evaluate(_MADE) == []
        assert self.done == []


@contextmanager
def watching(chromium: Browser, hostile_place: Path) -> Iterator[Watched]:
    """A phone on which nothing is kept yet."""
    context = chromium.new_context(viewport={"width": 390, "height": 844})
    context.add_init_script(_WATCH)
    with served(files_below(hostile_place)) as host:
        yield Watched(context.new_page(), host)
        context.close()


@pytest.fixture(scope="module")
def watched(chromium: Browser, hostile_place: Path) -> Iterator[Watched]:
    with watching(chromium, hostile_place) as running:
        yield running


@pytest.fixture(scope="module")
def families(hostile_place: Path) -> list[str]:
    places = sorted((hostile_place / "families").glob("*/*/page.json"))
    return [place.parent.relative_to(hostile_place).as_posix() + "/" for place in places]


def test_the_attacks_are_seen_to_run_where_they_are_not_escaped(watched: Watched) -> None:
    page = watched.open("")
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<p id=made><b onclick=alert(1)>x</b>')")
    assert page.evaluate(_MADE) != []
    page.evaluate("document.getElementById('made').remove(); alert(1)")
    assert any(one.startswith("ran") for one in watched.done)
    assert any(one.startswith("policy") for one in watched.done)
    watched.done.clear()


def test_the_start_page_and_the_rows_found(watched: Watched) -> None:
    page = watched.open("")
    for words in ("alert", "script", "skerrow", "x onerror alert 1", "7 7 raw", "pellwater manual"):
        page.get_by_label("Find your engine").fill(words)
        expect(page.get_by_role("status")).to_contain_text(re.compile(r"\d found"))
        watched.is_clean()
    page.get_by_label("Find your engine").fill("")
    page.get_by_text("Or narrow by choice").click()
    page.get_by_label("Maker", exact=True).select_option("skerrow")
    expect(page.locator(".finding-rows a")).not_to_have_count(0)
    watched.is_clean()


def test_every_family_as_drawn_by_the_host_and_anew_in_the_browser(watched: Watched, families: list[str]) -> None:
    assert len(families) >= 7
    for family in families:
        page = watched.open(f"{family}#state=running&serial=%3Cimg%20src%3Dx%20onerror%3Dalert(1)%3E")
        page.locator(".engine button").first.wait_for()
        page.evaluate(_OPEN)
        watched.is_clean()
        if page.get_by_label("Margin").count():
            page.get_by_label("Margin").select_option(index=1)
            expect(page.locator("p.chosen")).not_to_be_empty()
            watched.is_clean()
    expect(page.get_by_text("Find another engine")).to_be_visible()  # it was opened with all that can be
    page.get_by_label("Find your engine").fill("alert")
    expect(page.locator(".finding-rows a")).not_to_have_count(0)
    watched.is_clean()


def test_the_bench_and_the_job_of_a_family(watched: Watched, families: list[str]) -> None:
    for family in families:
        which = family.removeprefix("families/").removesuffix("/")
        page = watched.open(f"bench/target/?family={which}")
        expect(page.locator("#engine")).not_to_be_empty()
        watched.is_clean()
    begins(watched.open(f"job/#new={which}"))
    watched.is_clean()
    for last in ("end", ""):
        page.goto(f"{page.url.rpartition('/')[0]}/{last}" if last else f"{watched.host.address}job/")
        expect(page.locator("#job")).to_contain_text("(1)")
        watched.is_clean()


def test_every_page_of_the_rest(watched: Watched, hostile_place: Path) -> None:
    rest = [
        *hostile_place.glob("families/*/index.html"),
        *hostile_place.glob("coverage/**/*.html"),
        *hostile_place.glob("figures/*/index.html"),
        hostile_place / "read/cautions/index.html",
    ]
    assert len(rest) > 20
    for place in rest:
        watched.open(place.relative_to(hostile_place).as_posix().removesuffix("index.html"))
        watched.is_clean()


def test_the_worker_draws_them_as_quietly(chromium: Browser, hostile_place: Path, families: list[str]) -> None:
    with watching(chromium, hostile_place) as phone:
        page = phone.open("")
        expect(page.locator("#copy-state")).to_contain_text("are on this phone")
        phone.host.mode = "stopped"
        for family in families:
            phone.open(family)
            expect(page.locator("#copy-state")).to_contain_text("From the copy on this phone")
            page.evaluate(_OPEN)
            heading = page.locator("h1").inner_text()
            assert any(mark in heading for mark in ("(1)", "7*7", "&lt;")), heading
            phone.done[:] = [one for one in phone.done if "net::ERR_" not in one]  # the host is away
            phone.is_clean()
