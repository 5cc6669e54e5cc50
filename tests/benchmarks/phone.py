"""A phone for the benchmarks: Chromium with a slow processor and a slow line, and a host of a folder of files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, sync_playwright

from tests.support.in_browser import system_browser
from tests.support.served import Host, served

SLOWER = 4
"""So many times slower a phone's processor is taken to be."""
LINE = 400_000 / 8
"""Bytes a second on a slow line."""


@contextmanager
def chromium() -> Iterator[Browser]:
    """The system's Chromium, else Playwright's own."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=system_browser(), args=["--no-sandbox"])
        yield browser
        browser.close()


def on_a_phone(browser: Browser, *, keeps: bool = False) -> BrowserContext:
    """A new phone, on which nothing has been seen; ``keeps`` says whether it may keep a copy."""
    return browser.new_context(viewport={"width": 390, "height": 844}, service_workers="allow" if keeps else "block")


def slowed(page: Page, *, line: bool = True) -> CDPSession:
    """Make a page as slow as on a phone, and its line too."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    if line:
        session.send("Network.enable")
        speed = {"latency": 0, "downloadThroughput": LINE, "uploadThroughput": LINE}
        session.send("Network.emulateNetworkConditions", {"offline": False, **speed})
    return session


class Folder(dict[str, bytes]):
    """The files of a folder by their paths, each read when it is asked for: those of ten thousand families are many."""

    def __init__(self, place: Path) -> None:
        super().__init__()
        self._place = place

    def get(self, path: str, default: Any = None) -> Any:
        """The bytes of a file."""
        file = self._place / path
        return file.read_bytes() if file.is_file() else default


@contextmanager
def site_served(place: Path) -> Iterator[Host]:
    """A host of a built site, under a sub-path, texts pressed on the line."""
    with served({}, presses=True) as host:
        host.files = Folder(place)
        yield host
