"""The pages on releases are right: the newest entry is for this version, and every extra is named with its purpose."""

from __future__ import annotations

import re
import tomllib

from tests.support.folders import PAGES, ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
CHANGES = (PAGES / "read" / "changes.md").read_text(encoding="utf-8")
RELEASES = (PAGES / "read" / "releases.md").read_text(encoding="utf-8")
OURS = ("test",)
"""Extras of those who work on the project."""


def test_the_newest_change_is_of_this_version() -> None:
    versions = re.findall(r"^## (\d+\.\d+\.\d+)$", CHANGES, re.MULTILINE)
    assert versions[0] == PROJECT["version"]
    assert versions == sorted(versions, key=lambda version: [*map(int, version.split("."))], reverse=True)


def test_every_extra_is_named_with_its_purpose() -> None:
    named = re.findall(r"^\| `pip install 'stopscrew\[(\w+)\]'` \| .+ \|$", RELEASES, re.MULTILINE)
    assert named == [extra for extra in PROJECT["optional-dependencies"] if extra not in OURS]


def test_who_works_on_the_project_has_every_extra() -> None:
    extras = PROJECT["optional-dependencies"]
    assert extras["test"][0] == f"stopscrew[{','.join(extra for extra in extras if extra not in OURS)}]"
