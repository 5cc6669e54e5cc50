"""Every kind of page of the site, and what a page becomes under a hand: where it is and how it comes about."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from playwright.sync_api import Page


class Kind(NamedTuple):
    """A page by its path, and what is done to it before it is looked at."""

    path: str
    act: Callable[[Page], None] | None = None


def _finds(page: Page) -> None:
    page.get_by_label("Find your engine").fill("sker 47")
    page.locator(".finding-rows a").first.wait_for()


def _narrows(page: Page) -> None:
    page.get_by_text("Or narrow by choice").click()
    page.get_by_label("Maker", exact=True).select_option("ostmere")
    page.locator(".finding-rows a").first.wait_for()


def _finds_nothing(page: Page) -> None:
    page.get_by_label("Find your engine").fill("xyzzy qwrtz")
    page.get_by_text("Nothing found").wait_for()


def _opens_all(page: Page) -> None:
    page.locator("form.choose").wait_for(state="attached")
    page.evaluate("for (const one of document.querySelectorAll('main details')) one.open = true")


def _finds_again(page: Page) -> None:
    page.get_by_text("Find another engine").click()
    _finds(page)


def _refuses(page: Page) -> None:
    page.get_by_role("button", name="Work it out").click()
    page.locator(".refused").first.wait_for()


def _answers(page: Page) -> None:
    parts = page.get_by_role("group", name="Petrol", exact=True)
    parts.get_by_role("textbox").fill("6")
    page.get_by_role("group", name="Parts of petrol to one of oil").get_by_role("textbox").fill("50")
    page.get_by_role("button", name="Work it out").click()
    page.locator(".answer").wait_for()
    page.get_by_text("How it was worked out").click()


def _begins(page: Page) -> None:
    page.get_by_label("Serial number").fill("361204")
    begins(page)


def begins(page: Page) -> None:
    """Begin the job that the address asks for."""
    page.get_by_role("button", name="Begin the job").wait_for()
    for initials in page.get_by_label("Your initials, for the report").all():
        initials.fill("mk")
    page.get_by_role("button", name="Begin the job").click()
    tells_which(page)
    page.locator("#done").wait_for()


def tells_which(page: Page) -> None:
    """Where the family has a twin, tell by the stamp that the engine is of this one."""
    page.locator("#done, #which-this, #met").first.wait_for()
    if page.locator("#which-this").count():
        page.locator("label:has(#which-this)").click()
        page.locator("#take-which").click()
        page.locator("#done, #met").first.wait_for()
    meets(page)


def meets(page: Page) -> None:
    """Where a step begins with dangers that were not met yet, they are read."""
    if page.locator("#met").count():
        page.locator("#met").click()
        page.locator("#met").wait_for(state="detached")


def _asks(page: Page) -> None:
    page.get_by_role("button", name="Begin the job").wait_for()


KINDS = {
    "start": Kind(""),
    "start, found": Kind("", _finds),
    "start, narrowed": Kind("", _narrows),
    "start, nothing found": Kind("", _finds_nothing),
    "maker": Kind("families/skerrow/"),
    "family": Kind("families/ostmere/godwit-62/"),
    "family, derived": Kind("families/skerrow/ketch-47/"),
    "family, disputed": Kind("families/skerrow/barque-113/"),
    "family, all open": Kind("families/skerrow/ketch-47/", _opens_all),
    "family, finding again": Kind("families/ostmere/knot-4-1/", _finds_again),
    "bench": Kind("bench/"),
    "bench aid": Kind("bench/target/?family=skerrow/ketch-47"),
    "bench aid, answered": Kind("bench/premix/", _answers),
    "bench aid, refused": Kind("bench/turn/", _refuses),
    "jobs": Kind("job/"),
    "job, asked for": Kind("job/#new=skerrow/ketch-47", _asks),
    "job, begun": Kind("job/#new=skerrow/ketch-47", _begins),
    "reading page": Kind("read/what/"),
    "reading page, long": Kind("read/cautions/"),
    "reading page, drawn": Kind("read/routine/"),
    "reading page, with code": Kind("read/programmers/"),
    "a rule": Kind("rules/tag/"),
    "coverage": Kind("coverage/"),
    "coverage of a maker": Kind("coverage/skerrow/"),
    "figures": Kind("figures/"),
    "a figure": Kind("figures/max-advance/"),
    "no such page": Kind("404.html"),
}
