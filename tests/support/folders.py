"""Where things lie in the repository, said once for all tests."""

from __future__ import annotations

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
SCHEMA = ROOT / "schema"
SITE = ROOT / "site"
ASSETS = SITE / "assets"
PAGES = SITE / "pages"
TESTS = ROOT / "tests"
GOLDEN = TESTS / "golden"

FROZEN = TESTS / "frozen_book"
"""The book that tests ask: its families, sources and figures may be counted and named."""
SPECS = Path(os.environ.get("STOPSCREW_TESTED_SPECS") or ROOT / "specs")
"""The book that people add to, which only ``tests/specs`` reads: what is said there of it stays true when it grows."""
