"""The joined scripts of the Jobs page are those that its modules give, and the page starts them and nothing beside."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from kb.publish.site.frame import Frame
from kb.publish.site.job_page import job_page
from tests import bundle
from tests.npm import package_or_skip


def test_they_are_what_the_modules_give() -> None:
    package_or_skip("esbuild")
    assert bundle.committed() == bundle.bundle()


def test_a_module_that_was_changed_shows(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    package_or_skip("esbuild")
    monkeypatch.setattr(bundle, "BUNDLED", tmp_path)
    bundle.write({**bundle.bundle(), "job.js": b"const changed = 1;\n", "left-over.js": b""})
    assert bundle.main([]) == 1
    assert bundle.main(["--write"]) == 0
    assert bundle.main([]) == 0
    assert not (tmp_path / "left-over.js").exists()


def test_the_page_starts_one_file_and_asks_for_what_that_needs_at_once() -> None:
    files = {name: content.decode() for name, content in bundle.committed().items()}
    page = job_page(Frame(""), invented=True, script=files["job.js"])
    assert re.findall(r'<script type="module" src="\.\./assets/([^"]+)"', page) == ["bundled/job.js"]
    asked = re.findall(r'<link rel="modulepreload" href="\.\./assets/bundled/([^"]+)"', page)
    assert asked
    late = set(re.findall(r'import\("\./([^"]+)"\)', "".join(files.values())))
    assert set(asked) | late | {"job.js"} <= set(files)
    assert not set(asked) & late
