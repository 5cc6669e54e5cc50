"""A real browser for tests: the system's Chromium, else Playwright's own, else the reason why there is none."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, Error, sync_playwright


@contextmanager
def browser() -> Iterator[Browser]:
    """A headless Chromium; a test that asks for it is skipped with the reason where there is none, and fails where
    ``CI`` is set."""
    system = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    with sync_playwright() as playwright:
        try:
            running = playwright.chromium.launch(executable_path=system, args=["--no-sandbox"])
        except Error as error:
            why = f"no Chromium: {str(error).splitlines()[0]} (apt install chromium, or playwright install chromium)"
            if os.environ.get("CI"):
                pytest.fail(why)
            pytest.skip(why)
        yield running
        running.close()
