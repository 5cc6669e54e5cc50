"""A contribution that the check takes breaks no test: what is said of ``specs/`` stays true when it grows."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.folders import ROOT, SPECS, TESTS

MAKER = """\
# yaml-language-server: $schema=../../schema/maker.json
name: Thwaite
invented: true
"""
SOURCE = """\
# yaml-language-server: $schema=../../schema/source.json
kind: handbook
title: The Thwaite in use
maker: thwaite
year: 1973
pages: 48
seen: paper
invented: true
"""
FAMILY = """\
# yaml-language-server: $schema=../../../schema/family.json
name: {name}
maker: thwaite
invented: true
look_for: {serials} before the serial number
fits:
  - years: [1971, 1975]
    serials: {{from: {serials}1001, to: {serials}7480}}
engine: {{cycle: two-stroke, cylinders: 6, firing_order: [1, 4, 5, 2, 3, 6], even_fire: true, power: {{hp: 47}}}}
ignition: {{type: capacitor-discharge, modules: [idle-advance]}}
{linkage}flywheel: {{rotation: clockwise, marks_on: flywheel, numbered_marks: {{btdc: [10, 20, 30], atdc: [10]}}}}
figures:
  throttle-pickup:
    - atdc: [2, 4]
      state: cranking
      source: thwaite-handbook
      page: {page}
  max-advance:
    - btdc: [23, 25]
      state: cranking
      source: thwaite-handbook
      page: {page}
      readings: [{{by: an, on: 2026-09-12}}, {{by: tj, on: 2026-09-20, blind: true}}]
  cranking-correction:
    - absent: not-stated
      source: thwaite-handbook
  plug-gap:
    - in: 0.025
      also: {{mm: 0.64}}
      source: thwaite-handbook
      page: {page}
cautions: [unexpected-start, open-flywheel]
exceptions:
  - {{rule: hazard-single-source, at: max-advance, because: only the handbook is known}}
"""
CONTRIBUTED = {
    "makers/thwaite.yaml": MAKER,
    "sources/thwaite-handbook.yaml": SOURCE,
    "families/thwaite/kedge-47.yaml": FAMILY.format(
        name="Kedge 47", serials="KE", page=30, linkage="linkage: cam-touches-at-idle\n"
    ),
    "families/thwaite/grapnel-47.yaml": FAMILY.format(name="Grapnel 47", serials="GR", page=31, linkage=""),
}


@pytest.mark.timeout(600)  # half a minute of work, on a machine that may have other work
def test_two_families_a_source_and_a_maker_break_no_test(tmp_path: Path) -> None:
    """One of the families does not say its linkage, so that it has no order of work and no sheet."""
    grown = tmp_path / "specs"
    shutil.copytree(SPECS, grown)
    for name, text in CONTRIBUTED.items():
        (grown / name).parent.mkdir(exist_ok=True)
        (grown / name).write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "tests/specs"]
    done = subprocess.run(
        command,
        cwd=ROOT,
        env={
            **os.environ,
            "STOPSCREW_TESTED_SPECS": str(grown),
            "STOPSCREW_TESTED_FAMILIES": "thwaite/kedge-47 thwaite/grapnel-47",
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-5000:] + done.stderr[-1000:]
    assert re.search(r"^\d{3} passed in", done.stdout, re.MULTILINE), done.stdout[-500:]


def test_only_the_tests_of_specs_read_it() -> None:
    """All others ask the frozen book, which nobody adds to."""
    readers = {
        file.relative_to(TESTS).as_posix()
        for file in TESTS.rglob("*.py")
        if re.search(r"\bSPECS\b|\bopen_book\(\)", file.read_text(encoding="utf-8"))
    }
    assert {name for name in readers if not name.startswith("specs/")} <= {
        "support/folders.py",
        "house/test_contributing.py",
        "house/test_public.py",  # what is opened without a path
        "house/test_wheel.py",  # what a wheel ships
        "pictures.py",
        "walk/book.py",  # the routines are part of what is walked
    }
