"""Where things lie in the repository, said once for all tests."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
SPECS = ROOT / "specs"
SCHEMA = ROOT / "schema"
SITE = ROOT / "site"
ASSETS = SITE / "assets"
PAGES = SITE / "pages"
TESTS = ROOT / "tests"
GOLDEN = TESTS / "golden"
