"""A real browser for tests: the system's Chromium, best as its headless shell, which takes half the processor time for
the same pages; else Playwright's own, else the reason why there is none.

Tests take it as the fixture ``chromium``: it is started once, and each test or module opens contexts of its own in it.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, Error, expect, sync_playwright

_COMMANDS = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
WAIT = 30_000  # ms until what is expected is given up, here and by Playwright: a busy machine is no fault


def system_browser() -> str | None:
    """The command of the system's own browser, if there is one."""
    return next(filter(None, map(shutil.which, _COMMANDS)), None)


@contextmanager
def browser() -> Iterator[Browser]:
    """A headless Chromium; a test that asks for it is skipped with the reason where there is none, and fails where
    ``CI`` is set. A process has room for one only."""
    with sync_playwright() as playwright:
        try:
            running = playwright.chromium.launch(executable_path=system_browser(), args=["--no-sandbox"])
        except Error as error:
            why = f"no Chromium: {str(error).splitlines()[0]} (apt install chromium-headless-shell)"
            if os.environ.get("CI"):
                pytest.fail(why)
            pytest.skip(why)
        expect.set_options(timeout=WAIT)
        yield running
        running.close()
